"""The surveyed ground, the ways the sheet could lie on it, and what the crew builds with."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from rinklog.rink.models import Rink


class Survey(models.Model):
    """Heights of the ground on one day. A new survey does not change an old one; the latest counts."""

    id = models.UUIDField(primary_key=True, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="surveys")
    measured_on = models.DateField()
    length_m = models.FloatField()
    width_m = models.FloatField()
    levels_m = models.JSONField()  # rows along the length, heights across
    note = models.CharField(max_length=400, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()
    fingerprint = models.CharField(max_length=64)

    class Meta:
        ordering = ["-measured_on", "-recorded_at"]
        constraints = [
            models.CheckConstraint(condition=Q(length_m__gt=0, width_m__gt=0), name="survey_has_a_size")
        ]

    def __str__(self) -> str:
        return f"{self.measured_on}"


class Layout(models.Model):
    """One way the sheet could lie: where its middle is on the surveyed field, how it is turned, what is levelled."""

    id = models.UUIDField(primary_key=True, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="layouts")
    name = models.CharField(max_length=60)
    x_m = models.FloatField()
    y_m = models.FloatField()
    turn_deg = models.FloatField(default=0.0)
    lower_m = models.FloatField(default=0.0)
    raise_m = models.FloatField(default=0.0)
    chosen = models.BooleanField(default=False)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()

    class Meta:
        ordering = ["recorded_at", "id"]
        constraints = [
            models.UniqueConstraint(fields=["rink"], condition=Q(chosen=True), name="one_layout_chosen"),
            models.CheckConstraint(
                condition=Q(lower_m__gte=0, raise_m__gte=0), name="layout_levels_not_negative"
            ),
        ]

    def __str__(self) -> str:
        return self.name


class Materials(models.Model):
    """What this rink is built with; one row a rink, changed when the keeper buys otherwise."""

    rink = models.OneToOneField(Rink, on_delete=models.CASCADE, related_name="materials")
    cover_m = models.FloatField()
    board_m = models.FloatField()
    board_length_m = models.FloatField()
    stake_gap_m = models.FloatField()
    overlap_m = models.FloatField()
    net_m = models.FloatField()
    net_length_m = models.FloatField()
    reel_m = models.FloatField()
    lines_at_m = models.JSONField(default=list)
    circle_radii_m = models.JSONField(default=list)
    gust_ms = models.FloatField()

    def __str__(self) -> str:
        return f"{self.board_m} m"
