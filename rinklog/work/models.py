"""Facts that happen: work on the ice and the hazards found on it. Append-only.

An entry is never edited. A correction is a new entry that amends the old one; both share a `root`, the id by which
people know the entry. What happens to it later (set, frozen through, lifted, withdrawn) is an event on the root.
Only `state` moves, and services move it in the same transaction as the fact that explains it.
"""

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from rinklog.rink.models import Grid, Rink, Season, Zone


class Kind(models.TextChoices):
    """The kinds of work; one file each in work/kinds/."""

    SNOW_REMOVAL = "snow-removal", _("Snow removal")
    FLOOD = "flood", _("Flood")
    PATCH = "patch", _("Patch")
    TORCH_REPAIR = "torch-repair", _("Torch repair")
    TARP_MELT = "tarp-melt", _("Tarp melt")
    INSPECTION = "inspection", _("Inspection")
    DRILL_HOLE = "drill-hole", _("Drill hole")


class Entry(models.Model):
    """One piece of work, or one correction of it. The id is made on the phone."""

    class State(models.TextChoices):
        STANDING = "standing", _("standing")
        REPLACED = "replaced", _("replaced by an amendment")
        WITHDRAWN = "withdrawn", _("withdrawn")
        UNDONE = "undone", _("undone")

    id = models.UUIDField(primary_key=True, editable=False)
    root = models.ForeignKey("self", on_delete=models.PROTECT, related_name="lineage")
    amends = models.ForeignKey(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="amended_by"
    )
    reason = models.CharField(max_length=400, blank=True)  # why it amends
    state = models.CharField(max_length=10, choices=State.choices, default=State.STANDING)

    rink = models.ForeignKey(Rink, on_delete=models.PROTECT, related_name="entries")
    season = models.ForeignKey(Season, on_delete=models.PROTECT, related_name="entries")
    grid = models.ForeignKey(Grid, on_delete=models.PROTECT, related_name="entries")
    kind = models.CharField(max_length=14, choices=Kind.choices)

    started_at = models.DateTimeField()
    ended_at = models.DateTimeField(null=True, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="entries")
    recorded_at = models.DateTimeField()
    sent_at = models.DateTimeField(null=True, blank=True)  # the device's clock when it sent

    water_m3 = models.FloatField(null=True, blank=True)
    area_m2 = models.FloatField(default=0.0)  # of the picked zones
    details = models.JSONField(default=dict)  # what only this kind needs, SI names; see work/kinds/
    note = models.TextField(blank=True)
    lesson = models.BooleanField(default=False)  # gathered for the season's review

    # The weather as the person saw it; feeds join by hour, above this floor.
    seen_air_c = models.FloatField(null=True, blank=True)
    seen_wind_ms = models.FloatField(null=True, blank=True)
    seen_sky = models.CharField(max_length=12, blank=True)

    # A cover that nobody has lifted yet; the whole lineage moves with the event that closes it.
    is_open = models.BooleanField(default=False)

    # Of the posted content: tells a replay (same) from a conflict (other).
    fingerprint = models.CharField(max_length=64)

    class Meta:
        indexes = [
            models.Index(fields=["rink", "state", "-started_at", "-id"], name="entry_log"),
            models.Index(fields=["rink"], condition=Q(is_open=True), name="entry_still_open"),
            models.Index(fields=["rink", "kind", "state", "-started_at"], name="entry_by_kind"),
            models.Index(fields=["season", "state", "kind"], name="entry_by_season"),
        ]
        constraints = [
            models.UniqueConstraint(
                fields=["amends"],
                condition=Q(amends__isnull=False) & ~Q(state="undone"),
                name="entry_amended_once",
            ),
            models.UniqueConstraint(
                fields=["root"],
                condition=Q(state__in=["standing", "withdrawn"]),
                name="entry_one_current_revision",
            ),
            models.CheckConstraint(
                condition=Q(amends__isnull=False) | Q(root=F("id")), name="entry_first_is_its_own_root"
            ),
            models.CheckConstraint(
                condition=Q(ended_at__isnull=True) | Q(ended_at__gte=F("started_at")),
                name="entry_ends_after_start",
            ),
            models.CheckConstraint(
                condition=Q(water_m3__isnull=True) | Q(water_m3__gte=0), name="entry_water_not_negative"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.started_at:%Y-%m-%d %H:%M}"


class EntryZone(models.Model):
    """A zone the work was done on, with its true area then, and its condition when the entry is an inspection."""

    entry = models.ForeignKey(Entry, on_delete=models.CASCADE, related_name="zones")
    zone = models.ForeignKey(Zone, on_delete=models.PROTECT, related_name="+")
    area_m2 = models.FloatField()
    condition = models.CharField(max_length=20, blank=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["entry", "zone"], name="zone_once_an_entry")]

    def __str__(self) -> str:
        return f"{self.entry_id} {self.zone_id}"


class EntryPerson(models.Model):
    """A person who worked, and for how long: labour hours are summed from these."""

    entry = models.ForeignKey(Entry, on_delete=models.CASCADE, related_name="people")
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    minutes = models.FloatField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["entry", "person"], name="person_once_an_entry"),
            models.CheckConstraint(condition=Q(minutes__gte=0), name="minutes_not_negative"),
        ]

    def __str__(self) -> str:
        return f"{self.person_id} {self.minutes}"


class EntryEvent(models.Model):
    """Something that happened to an entry later: never an edit."""

    class What(models.TextChoices):
        SET = "set", _("set: ready for the next coat")
        FROZEN = "frozen", _("frozen through")
        LIFTED = "lifted", _("cover lifted")
        WITHDRAWN = "withdrawn", _("withdrawn")
        UNDONE = "undone", _("undone")

    id = models.UUIDField(primary_key=True, editable=False)
    root = models.ForeignKey(Entry, on_delete=models.PROTECT, related_name="events")
    what = models.CharField(max_length=10, choices=What.choices)
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()
    reason = models.CharField(max_length=400, blank=True)
    details = models.JSONField(default=dict)
    # An event taken back by undo stays in the history.
    undone_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["at", "recorded_at"]
        constraints = [
            models.UniqueConstraint(
                fields=["root", "what"],
                condition=Q(undone_at__isnull=True) & Q(what__in=["set", "frozen", "lifted", "withdrawn"]),
                name="event_once_an_entry",
            )
        ]

    def __str__(self) -> str:
        return f"{self.what} {self.root_id}"


class Hazard(models.Model):
    """Something on the ice, or broken on the rink, that people must know of. Its state is its latest event."""

    class Kind(models.TextChoices):
        BUMP = "bump", _("Bump")
        RIDGE = "ridge", _("Ridge")
        CRACK = "crack", _("Crack")
        RUT = "rut", _("Rut")
        SHELL_ICE = "shell-ice", _("Shell ice")
        SLUSH = "slush", _("Slush")
        THIN_SPOT = "thin-spot", _("Thin spot")
        SOFT_SPOT = "soft-spot", _("Soft spot")
        DEBRIS = "debris", _("Debris")
        DRIFT = "drift", _("Drift")
        LINER = "liner", _("Liner tear or leak")
        BOARD = "board", _("Board")
        STAKE = "stake", _("Stake")
        NET = "net", _("Net")
        LIGHT = "light", _("Light")
        HOSE = "hose", _("Hose")

    class Severity(models.TextChoices):
        NUISANCE = "nuisance", _("a nuisance")
        TRIP = "trip", _("can trip a skater")
        DANGER = "danger", _("dangerous: keep off")

    class State(models.TextChoices):
        FOUND = "found", _("found")
        MARKED = "marked", _("marked")
        UNDER_REPAIR = "under-repair", _("under repair")
        HOLDING = "holding", _("repaired, holding")
        BACK_AGAIN = "back-again", _("back again")
        CLOSED = "closed", _("closed")
        WITHDRAWN = "withdrawn", _("withdrawn")  # a mistake: it leaves every list and stays in its history

    id = models.UUIDField(primary_key=True, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.PROTECT, related_name="hazards")
    season = models.ForeignKey(Season, on_delete=models.PROTECT, related_name="hazards")
    grid = models.ForeignKey(Grid, on_delete=models.PROTECT, related_name="+")
    number = models.PositiveIntegerField()  # counted per season: people call it "hazard 7"
    kind = models.CharField(max_length=12, choices=Kind.choices)
    severity = models.CharField(max_length=10, choices=Severity.choices, default=Severity.TRIP)
    # Rink-local metres from the near left corner; absent when only zones are known.
    x_m = models.FloatField(null=True, blank=True)
    y_m = models.FloatField(null=True, blank=True)
    zones = models.ManyToManyField(Zone, related_name="+")
    found_at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="hazards")
    recorded_at = models.DateTimeField()
    sent_at = models.DateTimeField(null=True, blank=True)
    note = models.TextField(blank=True)
    drift_depth_m = models.FloatField(null=True, blank=True)
    wind_from_deg = models.FloatField(null=True, blank=True)
    fingerprint = models.CharField(max_length=64)
    state = models.CharField(max_length=12, choices=State.choices, default=State.FOUND)
    cone_out = models.BooleanField(default=False)

    class Meta:
        indexes = [models.Index(fields=["rink", "state", "-found_at"], name="hazard_by_state")]
        constraints = [
            models.UniqueConstraint(fields=["season", "number"], name="hazard_number_once_a_season"),
            models.CheckConstraint(
                condition=Q(x_m__isnull=True, y_m__isnull=True) | Q(x_m__isnull=False, y_m__isnull=False),
                name="hazard_point_whole_or_absent",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.number}"


class HazardEvent(models.Model):
    """What happened to a hazard: who, when, and the entry that did it, if one did. Never edited."""

    id = models.UUIDField(primary_key=True, editable=False)
    hazard = models.ForeignKey(Hazard, on_delete=models.PROTECT, related_name="events")
    state = models.CharField(max_length=12, choices=Hazard.State.choices)
    cone_out = models.BooleanField(default=False)
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()
    note = models.CharField(max_length=400, blank=True)
    # The repair or inspection behind it, in the revision that said so.
    entry = models.ForeignKey(
        Entry, on_delete=models.PROTECT, null=True, blank=True, related_name="hazard_events"
    )
    # The n-th thing written about its hazard: it orders what happened at the same moment.
    turn = models.PositiveIntegerField(default=1)
    # An event taken back stays in the history and no longer counts.
    undone_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["at", "turn"]
        constraints = [models.UniqueConstraint(fields=["hazard", "turn"], name="hazard_turn_once")]

    def __str__(self) -> str:
        return f"{self.state} {self.hazard_id}"


class Repair(models.Model):
    """An entry worked on a hazard."""

    root = models.ForeignKey(Entry, on_delete=models.PROTECT, related_name="repairs")
    hazard = models.ForeignKey(Hazard, on_delete=models.PROTECT, related_name="repairs")

    class Meta:
        constraints = [models.UniqueConstraint(fields=["root", "hazard"], name="repair_once")]

    def __str__(self) -> str:
        return f"{self.root_id} {self.hazard_id}"


class ConeStand(models.Model):
    """A cone with a number on it was put at a hazard. It stands there until the hazard's cone is taken in."""

    id = models.UUIDField(primary_key=True, editable=False)
    hazard = models.ForeignKey(Hazard, on_delete=models.PROTECT, related_name="cones")
    number = models.PositiveSmallIntegerField()
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()

    class Meta:
        ordering = ["-at", "-recorded_at"]

    def __str__(self) -> str:
        return f"cone {self.number}"
