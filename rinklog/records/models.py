"""What a city or an insurer asks for: walks, openings, headcounts, accidents, formal inspections. Append-only."""

import uuid

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from rinklog.rink.models import Rink, Season


class Record(models.Model):
    """What every record has. A correction is a new record that replaces the old one; nothing is overwritten."""

    id = models.UUIDField(primary_key=True, editable=False, default=uuid.uuid4)
    rink = models.ForeignKey(Rink, on_delete=models.PROTECT, related_name="+")
    season = models.ForeignKey(Season, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()
    note = models.TextField(blank=True)
    fingerprint = models.CharField(max_length=64)
    replaces = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="replaced_by"
    )

    class Meta:
        abstract = True
        ordering = ["-at"]


class Opening(Record):
    """From this moment the rink is open, partly open or closed. A person decides; an estimate never opens it."""

    class State(models.TextChoices):
        OPEN = "open", pgettext_lazy("rink", "open")
        PARTLY = "partly", pgettext_lazy("rink", "partly open")
        CLOSED = "closed", pgettext_lazy("rink", "closed")

    state = models.CharField(max_length=8, choices=State.choices)
    reason = models.CharField(max_length=200, blank=True)
    until = models.DateTimeField(null=True, blank=True)
    grade = models.CharField(max_length=40, blank=True)

    class Meta(Record.Meta):
        abstract = False
        indexes = [models.Index(fields=["rink", "-at"], name="opening_latest")]

    def __str__(self) -> str:
        return f"{self.state} {self.at:%Y-%m-%d %H:%M}"


class ChecklistItem(models.Model):
    """One line of this rink's checklist. Retired, never deleted, so that old walks keep their words."""

    class List(models.TextChoices):
        WALK = "walk", _("daily walk")
        SITE = "site", _("site, before approval")
        BOARDS = "boards", _("boards up, before water")
        AFTER = "after", _("after the season")
        MACHINES = "machines", _("hose and machines")

    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="checklist")
    list = models.CharField(max_length=8, choices=List.choices)
    text = models.CharField(max_length=200)
    place = models.PositiveSmallIntegerField(default=0)
    retired = models.BooleanField(default=False)

    class Meta:
        ordering = ["list", "place", "id"]

    def __str__(self) -> str:
        return self.text


class ConditionGrade(models.Model):
    """One word for the condition of the ice, with this rink's criterion for it."""

    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="grades")
    word = models.CharField(max_length=40)
    criterion = models.CharField(max_length=300)
    place = models.PositiveSmallIntegerField(default=0)
    retired = models.BooleanField(default=False)

    class Meta:
        ordering = ["place", "id"]
        constraints = [models.UniqueConstraint(fields=["rink", "word"], name="grade_word_once_a_rink")]

    def __str__(self) -> str:
        return self.word


class Check(Record):
    """A checklist gone through: the daily walk or one of the formal inspections."""

    list = models.CharField(max_length=8, choices=ChecklistItem.List.choices)
    grade = models.CharField(max_length=40, blank=True)
    told_whom = models.CharField(max_length=120, blank=True)

    class Meta(Record.Meta):
        abstract = False
        indexes = [models.Index(fields=["rink", "list", "-at"], name="check_latest")]

    def __str__(self) -> str:
        return f"{self.list} {self.at:%Y-%m-%d}"


class CheckLine(models.Model):
    """One line of a check, with the words it had then."""

    class Answer(models.TextChoices):
        GOOD = "good", _("in order")
        REPAIR = "repair", _("wants repair")
        NOT_SEEN = "not-seen", _("not looked at")

    check_record = models.ForeignKey(Check, on_delete=models.CASCADE, related_name="lines")
    text = models.CharField(max_length=200)
    answer = models.CharField(max_length=8, choices=Answer.choices)
    remark = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.text}: {self.answer}"


class Headcount(Record):
    """Skaters counted in the hour that begins at `at`: some more of them, or all of the hour so far."""

    skaters = models.PositiveIntegerField()
    # A number for the whole hour stands in place of what was counted in it before.
    whole = models.BooleanField(default=False)

    class Meta(Record.Meta):
        abstract = False
        indexes = [models.Index(fields=["rink", "-at"], name="headcount_latest")]

    def __str__(self) -> str:
        return f"{self.skaters} at {self.at:%H:%M}"


class AccidentReport(Record):
    """An accident or a near miss. Anyone on the crew writes; keeper and coordinators read."""

    near_miss = models.BooleanField(default=False)
    where = models.CharField(max_length=200, blank=True)
    what_happened = models.TextField()
    injury = models.TextField(blank=True)
    help_given = models.TextField(blank=True)
    witnesses = models.CharField(max_length=300, blank=True)
    ice_condition = models.CharField(max_length=200, blank=True)
    seen_air_c = models.FloatField(null=True, blank=True)

    class Meta(Record.Meta):
        abstract = False
        constraints = [
            models.CheckConstraint(condition=~Q(what_happened=""), name="accident_says_what_happened")
        ]

    def __str__(self) -> str:
        return f"{'near miss' if self.near_miss else 'accident'} {self.at:%Y-%m-%d}"


class PublicPage(models.Model):
    """Whether the rink has a page that is read without signing in. No row: it has none."""

    class Shown(models.TextChoices):
        OFF = "off", _("no public page")
        LINK = "link", _("for whoever has the link; search engines are asked to leave it out")
        LISTED = "listed", _("for everybody, search engines too")

    rink = models.OneToOneField(Rink, on_delete=models.CASCADE, related_name="public_page")
    shown = models.CharField(max_length=8, choices=Shown.choices, default=Shown.OFF)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    changed_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.rink_id}: {self.shown}"
