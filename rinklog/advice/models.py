"""Intentions: the advice as it was given, and what it predicted of floods that were made.

Both keep what was said when it was said: they are never made again from what is known later.
"""

from django.db import models

from rinklog.rink.models import Rink
from rinklog.work.models import Entry


class Advice(models.Model):
    """Everything the Tonight page shows, made at one time from what was known then. The latest row of a rink counts."""

    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="+")
    made_at = models.DateTimeField()
    fingerprint = models.CharField(max_length=64)  # of its inputs: the same inputs make no new row
    items = models.JSONField(default=list)
    windows = models.JSONField(default=list)  # every start that will do, the best first
    repairs = models.JSONField(default=dict)  # ways to repair, by the hazard's id
    evening = models.JSONField(null=True)  # the coldest hour that the crew may work in
    told = models.JSONField(default=dict)  # sources, their age, and what is missing

    class Meta:
        constraints = [models.UniqueConstraint(fields=["rink", "made_at"], name="one_advice_a_moment")]

    def __str__(self) -> str:
        return f"{self.rink_id} {self.made_at:%Y-%m-%d %H:%M}"


class Prediction(models.Model):
    """What the advice said of a flood before it was made. Never changed; hours count from the flood's start.

    The window is kept as it stood. Hours and chance are those of the coat that was really poured, read off the window's
    own curve; `factor` is the correction that was in them.
    """

    root = models.OneToOneField(Entry, on_delete=models.PROTECT, primary_key=True, related_name="prediction")
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="+")
    made_at = models.DateTimeField()  # when the advice was made: before the flood
    recorded_at = models.DateTimeField()
    began_at = models.DateTimeField()
    window = models.JSONField()
    coat_mm = models.FloatField()
    low_h = models.FloatField(null=True)
    middle_h = models.FloatField(null=True)
    high_h = models.FloatField(null=True)
    chance = models.FloatField()
    deadline_at = models.DateTimeField()
    factor = models.FloatField(default=1.0)

    class Meta:
        indexes = [models.Index(fields=["rink", "began_at"], name="prediction_by_flood")]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(made_at__lte=models.F("began_at")), name="prediction_before_its_flood"
            )
        ]

    def __str__(self) -> str:
        return f"{self.root_id} {self.made_at:%Y-%m-%d %H:%M}"
