"""Snow fences: what lies upwind, where they stand, and what was seen behind them."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from rinklog.geometry import fence as capacities
from rinklog.rink.models import Rink


class Exposure(models.Model):
    """What lies upwind of the rink: open ground by direction, and the water in a winter's snow."""

    rink = models.OneToOneField(Rink, on_delete=models.CASCADE, related_name="exposure")
    fetches_m = models.JSONField(default=list)  # eight, from north, clockwise; null is not known
    snow_water_mm = models.FloatField(null=True, blank=True)

    def __str__(self) -> str:
        return f"{self.snow_water_mm} mm"


class SnowFence(models.Model):
    """One fence, across one wind."""

    class Build(models.TextChoices):
        POROUS = "porous", _("half-open boards")
        SLATTED = "slatted", _("slat and wire, or plastic mesh")
        SOLID = "solid", _("solid")

    COEFFICIENTS = {
        Build.POROUS: capacities.POROUS,
        Build.SLATTED: capacities.SLATTED,
        Build.SOLID: capacities.SOLID,
    }

    id = models.UUIDField(primary_key=True, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="snow_fences")
    name = models.CharField(max_length=60)
    wind_from_deg = models.FloatField()
    height_m = models.FloatField()
    length_m = models.FloatField()
    setback_m = models.FloatField()
    build = models.CharField(max_length=8, choices=Build.choices, default=Build.POROUS)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()

    class Meta:
        ordering = ["recorded_at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(height_m__gt=0, length_m__gt=0, setback_m__gte=0), name="snow_fence_has_a_size"
            )
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def coefficient_tm(self) -> float:
        """Capacity at one metre of height [t/m]."""
        return self.COEFFICIENTS[self.Build(self.build)]


class FenceLook(models.Model):
    """The drift behind a fence as somebody measured it."""

    id = models.UUIDField(primary_key=True, editable=False)
    fence = models.ForeignKey(SnowFence, on_delete=models.CASCADE, related_name="looks")
    on = models.DateField()
    reach_m = models.FloatField()
    depth_m = models.FloatField()
    note = models.CharField(max_length=400, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()

    class Meta:
        ordering = ["-on", "-recorded_at"]

    def __str__(self) -> str:
        return f"{self.on}"
