"""Shifts, the people on them, and what happened to them."""

import uuid

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from rinklog.plan.models.people import Team
from rinklog.rink.models import Rink


class Shift(models.Model):
    """Some hours of work for some people. Ice work is called by the weather; the house is fixed in advance."""

    class Roster(models.TextChoices):
        ICE = "ice", _("ice work")
        HOUSE = "house", _("hut, keys and lights")

    class Work(models.TextChoices):
        FLOOD = "flood", _("flood")
        SNOW = "snow", _("snow removal")
        REPAIR = "repair", _("repairs")
        HUT = "hut", _("hut open")
        KEYS = "keys", _("unlocking")
        LIGHTS = "lights", _("lights")
        LOCK_UP = "lock-up", _("locking up")

    id = models.UUIDField(primary_key=True, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.PROTECT, related_name="shifts")
    roster = models.CharField(max_length=6, choices=Roster.choices)
    work = models.CharField(max_length=8, choices=Work.choices)
    night = models.DateField()  # the rink-local date whose evening it belongs to
    starts_at = models.DateTimeField()
    ends_at = models.DateTimeField()
    people_needed = models.PositiveSmallIntegerField(default=2)
    skills = models.JSONField(default=list)  # permissions of which one person on it has each
    everybody = models.JSONField(default=list)  # permissions that everybody on it has
    note = models.CharField(max_length=400, blank=True)
    window = models.JSONField(null=True, blank=True)  # the flood window it was made from, as it was then
    team = models.ForeignKey(Team, on_delete=models.PROTECT, null=True, blank=True, related_name="shifts")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField()
    questioned_at = models.DateTimeField(null=True, blank=True)
    question = models.JSONField(default=dict)  # see plan/turning.py
    called_off_at = models.DateTimeField(null=True, blank=True)
    # Named when somebody may be alone on the ice after dark; nobody is without a name that answers for it.
    alone_allowed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    changed = models.PositiveIntegerField(default=0)  # counted up by whatever a calendar must learn of
    fingerprint = models.CharField(max_length=64)

    class Meta:
        ordering = ["starts_at"]
        indexes = [
            models.Index(fields=["rink", "starts_at"], name="shift_by_start"),
            models.Index(fields=["ends_at"], name="shift_by_end"),
        ]
        constraints = [
            models.CheckConstraint(condition=Q(ends_at__gt=F("starts_at")), name="shift_ends_after_start"),
            models.CheckConstraint(condition=Q(people_needed__range=(1, 30)), name="shift_people_1_to_30"),
            models.CheckConstraint(
                condition=Q(roster="ice", work__in=["flood", "snow", "repair"])
                | Q(roster="house", work__in=["hut", "keys", "lights", "lock-up"]),
                name="shift_work_fits_its_roster",
            ),
            models.UniqueConstraint(fields=["team", "night"], name="one_shift_a_team_night"),
        ]

    def __str__(self) -> str:
        return f"{self.work} {self.starts_at:%Y-%m-%d %H:%M}"

    @property
    def minutes(self) -> int:
        """Expected minutes."""
        return round((self.ends_at - self.starts_at).total_seconds() / 60)

    @property
    def question_kept(self) -> str:
        """What the shift was kept in spite of: the same is not asked again."""
        return str(self.question.get("kept", ""))

    @property
    def is_off(self) -> bool:
        """Whether it was called off."""
        return self.called_off_at is not None


class ShiftPlace(models.Model):
    """A person on a shift. Two never hold the same place: the database says so."""

    class Left(models.TextChoices):
        GIVEN_BACK = "given-back", _("given back")
        PASSED_ON = "passed-on", _("passed on")
        TAKEN_OFF = "taken-off", _("taken off")
        LEFT_CREW = "left-crew", _("left the crew")

    id = models.UUIDField(primary_key=True, editable=False)
    shift = models.ForeignKey(Shift, on_delete=models.CASCADE, related_name="places")
    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="shift_places"
    )
    number = models.PositiveSmallIntegerField()
    leads = models.BooleanField(default=False)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    taken_at = models.DateTimeField()
    offered_to = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="offered_places",
    )
    left_at = models.DateTimeField(null=True, blank=True)
    left_how = models.CharField(max_length=10, choices=Left.choices, blank=True)

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(
                fields=["shift", "number"], condition=Q(left_at__isnull=True), name="place_taken_once"
            ),
            models.UniqueConstraint(
                fields=["shift", "person"], condition=Q(left_at__isnull=True), name="person_once_a_shift"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person_id} on {self.shift_id}"


class ShiftEvent(models.Model):
    """What happened to a shift and who decided it. Never edited."""

    class What(models.TextChoices):
        MADE = "made", _("made")
        QUESTIONED = "questioned", _("questioned by the forecast")
        KEPT = "kept", _("kept in spite of the forecast")
        MOVED = "moved", _("moved")
        CALLED_OFF = "called-off", _("called off")
        ALONE_ALLOWED = "alone-allowed", _("one person alone allowed")
        UNFILLED = "unfilled", _("still unfilled: coordinators told")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    shift = models.ForeignKey(Shift, on_delete=models.CASCADE, related_name="events")
    what = models.CharField(max_length=14, choices=What.choices)
    at = models.DateTimeField()
    # Nobody: the forecast or the clock did it.
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    reason = models.CharField(max_length=300, blank=True)
    details = models.JSONField(default=dict)

    class Meta:
        ordering = ["at"]

    def __str__(self) -> str:
        return f"{self.what} {self.shift_id}"
