"""Beliefs: what is kept of the estimate. All of it can be thrown away and made again, but for a person's answers."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from rinklog.rink.models import Rink, Season
from rinklog.work.models import Entry


class Checkpoint(models.Model):
    """The whole ensemble at a full hour, and a fingerprint of everything that made it."""

    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="+")
    season = models.ForeignKey(Season, on_delete=models.CASCADE, related_name="+")
    at = models.DateTimeField()
    fingerprint = models.CharField(max_length=64)
    state = models.BinaryField()  # numpy's npz, every float exact

    class Meta:
        constraints = [models.UniqueConstraint(fields=["season", "at"], name="one_checkpoint_an_hour")]

    def __str__(self) -> str:
        return f"{self.rink_id} {self.at:%Y-%m-%d %H:%M}"


class Outlook(models.Model):
    """The estimate as pages read it, and the hours to come. One row a rink.

    `missing` says why there is no estimate. `mark` is of the inputs it was made from: a sweep compares it.
    """

    class Missing(models.TextChoices):
        NOTHING = "", _("nothing is missing")
        POSITION = "position", _("The rink has no position")
        WEATHER = "weather", _("No weather is known")
        WATER = "water", _("No water is on the rink yet")
        OVER = "over", _("The season is over")

    rink = models.OneToOneField(Rink, on_delete=models.CASCADE, primary_key=True, related_name="+")
    season = models.ForeignKey(Season, on_delete=models.CASCADE, null=True, related_name="+")
    made_at = models.DateTimeField()
    missing = models.CharField(max_length=10, choices=Missing.choices, blank=True)
    mark = models.CharField(max_length=64, blank=True)
    estimate = models.JSONField(null=True)
    hours = models.JSONField(default=list)
    members = models.BinaryField(null=True)  # the ensemble at `made_at`, for the window search
    # How far a long replay has come; None when it is done.
    reached_at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return f"{self.rink_id} {self.made_at:%Y-%m-%d %H:%M}"


class HoleQuestion(models.Model):
    """A drill hole that does not fit: kept, asked about, and not used until somebody says that it is right."""

    class Why(models.TextChoices):
        LIMIT = "limit", _("thicker than frost and floods can have made it")
        JUMP = "jump", _("far from the estimate")

    class Answer(models.TextChoices):
        OPEN = "", _("waits for an answer")
        RIGHT = "right", _("measured right")
        MISTAKE = "mistake", _("a mistake")

    entry = models.OneToOneField(
        Entry, on_delete=models.CASCADE, primary_key=True, related_name="hole_question"
    )
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="+")
    why = models.CharField(max_length=5, choices=Why.choices)
    ice_m = models.FloatField()
    low_m = models.FloatField()
    high_m = models.FloatField()
    asked_at = models.DateTimeField()
    answer = models.CharField(max_length=7, choices=Answer.choices, blank=True)
    answered_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+"
    )
    answered_at = models.DateTimeField(null=True)

    class Meta:
        indexes = [models.Index(fields=["rink", "answer"], name="hole_question_open")]
        constraints = [
            models.CheckConstraint(
                condition=Q(answer="", answered_by__isnull=True, answered_at__isnull=True)
                | Q(answered_by__isnull=False, answered_at__isnull=False) & ~Q(answer=""),
                name="hole_answer_has_a_person_and_a_time",
            )
        ]

    def __str__(self) -> str:
        return f"{self.entry_id} {self.why} {self.answer}"
