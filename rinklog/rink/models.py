"""Facts that stand still: the rink, its seasons, its zone grids, and the rules its crew has chosen.

Lengths are metres, areas square metres, flows litres a second. A grid is never changed once it is used: a new
season may start on a new grid, and old entries keep the old one.
"""

import uuid

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from rinklog.geometry.grid import zone_name


class Rink(models.Model):
    """One sheet of ice: its size, its place and its time zone."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    slug = models.SlugField(max_length=60, unique=True)
    name = models.CharField(max_length=120)
    place = models.CharField(max_length=120, blank=True)
    length_m = models.FloatField()
    width_m = models.FloatField()
    corner_m = models.FloatField(default=0.0)
    time_zone = models.CharField(max_length=60)
    latitude = models.FloatField(null=True, blank=True)
    longitude = models.FloatField(null=True, blank=True)
    bearing_deg = models.FloatField(null=True, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(length_m__gt=0, width_m__gt=0), name="rink_has_a_size"),
            models.CheckConstraint(condition=Q(corner_m__gte=0), name="rink_corner_not_negative"),
            models.CheckConstraint(
                condition=Q(latitude__isnull=True, longitude__isnull=True)
                | Q(latitude__range=(-90, 90), longitude__range=(-180, 180)),
                name="rink_position_whole_or_absent",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class Grid(models.Model):
    """Rows along the length and columns across it, counted from the near left corner of the map."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="grids")
    rows = models.PositiveSmallIntegerField()
    columns = models.PositiveSmallIntegerField()
    # The size it was drawn for: kept, so that an old entry keeps its true area when the rink is rebuilt.
    length_m = models.FloatField()
    width_m = models.FloatField()
    corner_m = models.FloatField()
    made_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(rows__range=(1, 40), columns__range=(1, 40)), name="grid_rows_and_columns_1_to_40"
            )
        ]

    def __str__(self) -> str:
        return f"{self.rows} × {self.columns}"


class Zone(models.Model):
    """One cell of a grid: what the ground and the sun are like there."""

    class Sun(models.TextChoices):
        OPEN = "open", _("open to the sun")
        PART = "part", _("part of the day in shade")
        SHADE = "shade", _("in shade")

    id = models.BigAutoField(primary_key=True)
    grid = models.ForeignKey(Grid, on_delete=models.CASCADE, related_name="zones")
    row = models.PositiveSmallIntegerField()
    column = models.PositiveSmallIntegerField()
    area_m2 = models.FloatField()
    depth_m = models.FloatField(null=True, blank=True)
    sun = models.CharField(max_length=8, choices=Sun.choices, default=Sun.OPEN)
    wears = models.BooleanField(default=False)
    low_spot = models.BooleanField(default=False)

    class Meta:
        ordering = ["row", "column"]
        constraints = [
            models.UniqueConstraint(fields=["grid", "row", "column"], name="one_zone_a_cell"),
            models.CheckConstraint(condition=Q(area_m2__gte=0), name="zone_area_not_negative"),
        ]

    def __str__(self) -> str:
        return self.label

    @property
    def label(self) -> str:
        """The zone's name on the map: row letter, column number (A1 is the near left corner)."""
        return zone_name(self.row, self.column)


class Season(models.Model):
    """One winter on one grid. Entries belong to the season that was open when the work was done."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="seasons")
    grid = models.ForeignKey(Grid, on_delete=models.PROTECT, related_name="seasons")
    name = models.CharField(max_length=40)
    starts_on = models.DateField()
    ends_on = models.DateField(null=True, blank=True)
    # Closed: gathered and put away. Only a keeper still writes in it.
    closed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-starts_on"]
        constraints = [
            models.UniqueConstraint(fields=["rink", "name"], name="season_name_once_a_rink"),
            models.CheckConstraint(
                condition=Q(ends_on__isnull=True) | Q(ends_on__gte=F("starts_on")),
                name="season_ends_after_start",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class PhaseChange(models.Model):
    """The season entered a phase on a date. Restarts of the building phase are counted from these."""

    class Phase(models.TextChoices):
        SETTING_UP = "setting-up", _("set-up")
        BUILDING = "building", _("building")
        SKATING = "skating", _("skating")
        SHUT = "shut", _("shut")
        TAKEN_DOWN = "taken-down", _("taken down")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    season = models.ForeignKey(Season, on_delete=models.CASCADE, related_name="phases")
    phase = models.CharField(max_length=12, choices=Phase.choices)
    on = models.DateField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()
    note = models.CharField(max_length=400, blank=True)

    class Meta:
        ordering = ["on", "recorded_at"]

    def __str__(self) -> str:
        return f"{self.phase} {self.on}"


class ChosenRule(models.Model):
    """A threshold of practice that this rink's keeper has set; absent means the published default."""

    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="chosen_rules")
    key = models.CharField(max_length=40)
    value = models.FloatField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    chosen_at = models.DateTimeField()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["rink", "key"], name="rule_once_a_rink")]

    def __str__(self) -> str:
        return f"{self.key} = {self.value}"


class BucketTest(models.Model):
    """How fast a hose runs, measured by filling a bucket."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="bucket_tests")
    hose = models.CharField(max_length=60, blank=True)
    water_m3 = models.FloatField()
    seconds = models.FloatField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    measured_at = models.DateTimeField()

    class Meta:
        ordering = ["-measured_at"]
        constraints = [
            models.CheckConstraint(condition=Q(water_m3__gt=0, seconds__gt=0), name="bucket_test_is_positive")
        ]

    def __str__(self) -> str:
        return f"{self.flow_ls:.3f} l/s"

    @property
    def flow_ls(self) -> float:
        """Flow [l/s]."""
        return self.water_m3 * 1000 / self.seconds


class Sign(models.Model):
    """A sign on the spot with a short code: a zone, a board post, a hose or a cone. It is retired, never deleted."""

    class Kind(models.TextChoices):
        ZONE = "zone", _("Zones")
        POST = "post", _("Board posts")
        HOSE = "hose", _("Hoses")
        CONE = "cone", _("Cones")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="signs")
    code = models.CharField(max_length=12, unique=True)
    kind = models.CharField(max_length=4, choices=Kind.choices)
    # What stands on it: a zone's name, a side and a letter or number, a hose's name, a cone's number.
    place = models.CharField(max_length=60)
    # The grid it was made for: on another one the same letters are another place.
    rows = models.PositiveSmallIntegerField(null=True, blank=True)
    columns = models.PositiveSmallIntegerField(null=True, blank=True)
    made_at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    retired_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["rink", "kind", "place"], condition=Q(retired_at=None), name="one_sign_a_place"
            )
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.place}"
