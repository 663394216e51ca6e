"""What the first fill is judged by, read from the rink: weather, depths, hose, rules, and the water that went in."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from zoneinfo import ZoneInfo

from django.db.models import Exists, OuterRef, Prefetch

from rinklog.advice.fill.leak import Floor, Found, Missing, missing, water_depth_m
from rinklog.advice.fill.sky import Day, Sky, days_of
from rinklog.advice.fill.storm import Limits, Turning, is_watched, turnings
from rinklog.clock import from_local, local_day
from rinklog.ice.filling import FILL_M
from rinklog.rink import queries as rinks
from rinklog.rink.models import PhaseChange, Rink, Season, Zone
from rinklog.weather.known import KnownHour, floor
from rinklog.weather.queries import known_hours
from rinklog.work.models import Entry, EntryEvent, EntryZone, Kind

AHEAD = dt.timedelta(days=10)
BEHIND = dt.timedelta(hours=24)
# Nobody waits longer for a fill to close, and nobody remembers to say that it has: common practice, no source.
FILL_STAYS_OPEN = dt.timedelta(days=21)
HOLES_TOGETHER = dt.timedelta(hours=24)  # holes of one look at the ice


@dataclass
class FillFacts:
    """Everything of one rink at one moment; what is costly is read when it is asked for."""

    rink: Rink
    season: Season
    now: dt.datetime
    zone: ZoneInfo
    rules: dict[str, float]
    zones: list[Zone]
    phase: str
    building_since: dt.datetime
    skating_since: dt.date | None
    flow_ls: float | None
    hours: list[KnownHour] = field(default_factory=list)

    @cached_property
    def skies(self) -> list[Sky]:
        """The hours as the rules look at them."""
        return [sky_of(one) for one in self.hours]

    @cached_property
    def days(self) -> list[Day]:
        """Days from noon to noon, today's and those to come."""
        return [day for day in days_of(self.skies, self.zone) if day.on >= local_day(self.now, self.zone)]

    @property
    def ahead(self) -> list[Sky]:
        """The hours from this one on."""
        return [sky for sky in self.skies if sky.at >= floor(self.now)]

    @property
    def floors(self) -> list[Floor]:
        """The basin."""
        return [Floor(zone.id, zone.area_m2, zone.depth_m) for zone in self.zones]

    @property
    def surveyed(self) -> bool:
        """Whether every zone's depth is known, and water stands somewhere."""
        return all(zone.depth_m is not None for zone in self.zones) and self.volume_m3 > 0

    @property
    def volume_m3(self) -> float:
        """Water that fills the basin to the level it was surveyed for [m³]."""
        return sum(zone.area_m2 * max(zone.depth_m or 0.0, 0.0) for zone in self.zones)

    @property
    def hose_hours(self) -> float | None:
        """Hours of hose for that [h]; None without a bucket test."""
        return self.volume_m3 * 1000 / self.flow_ls / 3600 if self.flow_ls and self.volume_m3 else None

    @cached_property
    def fill(self) -> Entry | None:
        """The first fill that is open: a flood too deep for a coat that nobody called frozen through."""
        fill, skated = open_fill(self.season, self.now - FILL_STAYS_OPEN), self.skating_since
        if fill is None or skated is None:
            return fill
        return fill if local_day(fill.started_at, self.zone) > skated else None

    @property
    def unfinished(self) -> bool:
        """Whether the ice is still being made: set up, built, or with an open fill."""
        return is_watched(phase=self.phase, open_fill=self.fill is not None, always=False)

    @property
    def watched(self) -> bool:
        """Whether the storm watch is on."""
        return is_watched(
            phase=self.phase, open_fill=self.fill is not None, always=self.rules["storm_watch"] >= 1
        )

    @property
    def turning(self) -> list[Turning]:
        """What turns in the forecast, whether or not anybody watches."""
        limits = Limits(self.rules["storm_gust_ms"], self.rules["storm_snow_m"] * 1000)
        return turnings(self.ahead, self.now, limits, self.zone)

    @cached_property
    def holes(self) -> list[Entry]:
        """The holes of the last look at the ice that say how much water is beneath, the latest first."""
        return latest_holes(self.season, self.building_since)

    @cached_property
    def missing(self) -> Missing | None:
        """Water in against what the latest holes found, while the ice is made: later it is scraped and skated away."""
        holes = self.holes if self.unfinished else []
        if not holes:
            return None
        water = water_in_m3(self.season, self.building_since, holes[-1].started_at)
        return missing(self.floors, water, [one for hole in holes for one in found_in(hole)])


def fill_facts(rink: Rink, now: dt.datetime, *, weather: bool = True) -> FillFacts | None:
    """Read a rink; None while it has no season. Five queries with the weather, three without; more as facts are asked."""
    zone = ZoneInfo(rink.time_zone)
    season = rinks.season_shown_on(rink, local_day(now, zone))
    if season is None:
        return None
    changes = rinks.phases(season)
    phase = rinks.phase_on(season, local_day(now, zone))
    return FillFacts(
        rink=rink,
        season=season,
        now=now,
        zone=zone,
        rules={one.rule.key: one.value for one in rinks.rules(rink)},
        zones=[one for one in rinks.zones(season.grid) if one.area_m2 > 0],
        phase=phase.phase if phase else "",
        building_since=building_since(season, changes, zone),
        skating_since=skating_since(changes, local_day(now, zone)),
        flow_ls=rinks.latest_flow_ls(rink),
        hours=known_hours(rink, now - BEHIND, now + AHEAD) if weather else [],
    )


def missing_water(rink: Rink, now: dt.datetime) -> Missing | None:
    """Water in against what the latest holes found; None while nothing can be said."""
    facts = fill_facts(rink, now, weather=False)
    return facts.missing if facts else None


def sky_of(known: KnownHour) -> Sky:
    """One known hour as these rules look at it."""
    hour = known.hour
    return Sky(hour.at, hour.air_c, hour.wind_ms, hour.gust_ms, hour.precip_mm)


def building_since(season: Season, changes: Sequence[PhaseChange], zone: ZoneInfo) -> dt.datetime:
    """The start of the day on which the last building began; of the season while it has not."""
    days = [one.on for one in changes if one.phase == PhaseChange.Phase.BUILDING]
    return from_local(dt.datetime.combine(max(days, default=season.starts_on), dt.time()), zone, "first")


def skating_since(changes: Sequence[PhaseChange], today: dt.date) -> dt.date | None:
    """The day of the last change to another phase than set-up and building: what was filled before is closed."""
    made = (PhaseChange.Phase.SETTING_UP, PhaseChange.Phase.BUILDING)
    return max((one.on for one in changes if one.phase not in made and one.on <= today), default=None)


def floods(season: Season) -> list[Entry]:
    """The season's standing floods with water, the earliest first."""
    rows = Entry.objects.filter(season=season, state=Entry.State.STANDING, kind=Kind.FLOOD, water_m3__gt=0)
    return list(rows.order_by("started_at", "id"))


def open_fill(season: Season, since: dt.datetime) -> Entry | None:
    """The latest flood since a time, deeper than a coat, that is not called frozen through; None when there is none."""
    frozen = EntryEvent.objects.filter(
        root=OuterRef("root"), what=EntryEvent.What.FROZEN, undone_at__isnull=True
    )
    rows = Entry.objects.filter(season=season, state=Entry.State.STANDING, kind=Kind.FLOOD, area_m2__gt=0)
    for entry in (
        rows.filter(water_m3__gt=0, started_at__gte=since)
        .filter(~Exists(frozen))
        .order_by("-started_at", "-id")
    ):
        if (entry.water_m3 or 0.0) / entry.area_m2 > FILL_M:
            return entry
    return None


def water_in_m3(season: Season, since: dt.datetime, until: dt.datetime) -> float:
    """Water of every standing flood that began in a stretch of time [m³]."""
    return sum(one.water_m3 or 0.0 for one in floods(season) if since <= one.started_at <= until)


def latest_holes(season: Season, since: dt.datetime) -> list[Entry]:
    """The holes of the last look at the ice that say how much water is beneath, the latest first."""
    rows = Entry.objects.filter(
        season=season, state=Entry.State.STANDING, kind=Kind.DRILL_HOLE, started_at__gte=since
    ).prefetch_related(Prefetch("zones", EntryZone.objects.select_related("zone")))
    told = [
        one for one in rows.order_by("-started_at", "-id") if one.details.get("water_below_m") is not None
    ]
    return [one for one in told if told[0].started_at - one.started_at <= HOLES_TOGETHER]


def found_in(hole: Entry) -> list[Found]:
    """What a hole says of its zone."""
    told = hole.details
    depth = water_depth_m(
        told.get("clear_ice_m") or 0.0, told.get("white_ice_m") or 0.0, told["water_below_m"]
    )
    return [Found(row.zone_id, depth) for row in hole.zones.all()]
