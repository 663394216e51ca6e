"""What the wind brings from where, what each fence holds of it, and what was seen: did the fence work?"""

import datetime as dt
from dataclasses import dataclass
from uuid import UUID

from rinklog.geometry import fence as formulas
from rinklog.geometry.blown import Blow, Sector, guarded, sectors
from rinklog.geometry.fence_profile import filled, reach_m
from rinklog.rink.models import Rink, Season
from rinklog.site.models import Exposure, FenceLook, SnowFence
from rinklog.weather.queries import known_hours
from rinklog.work.models import Hazard

LOOK_BACK = dt.timedelta(days=365)


@dataclass(frozen=True)
class Record:
    """The wind record by direction, and how many hours of the last year it is made of."""

    sectors: list[Sector]
    hours: int

    @property
    def worst(self) -> Sector | None:
        """The direction that brings most; None when none brings any."""
        most = max(self.sectors, key=lambda one: one.comes_tm)
        return most if most.comes_tm > 0 else None


@dataclass(frozen=True)
class Held:
    """A fence against the record: what it holds and what comes [t/m], how far its drift reaches [m], what was seen."""

    fence: SnowFence
    capacity_tm: float
    comes_tm: float
    share: float
    reach_m: float
    setback_wanted_m: float
    looks: list[FenceLook]
    drifts: list[Hazard]

    @property
    def overflows(self) -> bool:
        """Whether more comes than it holds."""
        return self.comes_tm > self.capacity_tm

    @property
    def too_near(self) -> bool:
        """Whether its full drift would reach the boards."""
        return self.fence.setback_m < self.setback_wanted_m

    @property
    def depth_m(self) -> float:
        """Depth of the full drift [m]."""
        return float(formulas.drift_m(self.fence.height_m)[1])


def exposure(rink: Rink) -> Exposure | None:
    """What lies upwind, once somebody has said so."""
    return Exposure.objects.filter(rink=rink).first()


def fence(rink: Rink, id: UUID) -> SnowFence | None:
    """One fence of a rink."""
    return SnowFence.objects.filter(rink=rink, id=id).first()


def record(rink: Rink, now: dt.datetime) -> Record:
    """The last year's stored weather by direction. Three queries. Hours without wind or its direction are left out."""
    said = exposure(rink)
    fetches = [*said.fetches_m] if said and len(said.fetches_m) == 8 else [None] * 8
    blows = year_of_wind(rink, now)
    return Record(sectors(blows, fetches, said.snow_water_mm if said else None), len(blows))


def year_of_wind(rink: Rink, now: dt.datetime) -> list[Blow]:
    """Every hour of the last year of which wind, its direction and the air are known. Winds past 60 m/s count as 60."""
    hours = [one.hour for one in known_hours(rink, now - LOOK_BACK, now)]
    return [
        (min(hour.wind_ms, 60.0), hour.wind_from_deg, hour.air_c)
        for hour in hours
        if hour.wind_ms is not None and hour.wind_from_deg is not None and hour.air_c is not None
    ]


def held(rink: Rink, season: Season, found: Record) -> list[Held]:
    """Every fence against the record and against the drifts on the ice. Three queries."""
    drifts = drifts_of(season)
    fences = SnowFence.objects.filter(rink=rink).prefetch_related("looks__by")
    return [_held(one, found, drifts) for one in fences]


def _held(fence: SnowFence, found: Record, drifts: list[Hazard]) -> Held:
    coefficient = fence.coefficient_tm
    comes = sum(
        one.comes_tm for place, one in enumerate(found.sectors) if guarded(45.0 * place, fence.wind_from_deg)
    )
    share = filled(fence.height_m, comes, coefficient)
    return Held(
        fence=fence,
        capacity_tm=float(formulas.capacity_tm(fence.height_m, coefficient)),
        comes_tm=comes,
        share=share,
        reach_m=reach_m(fence.height_m, share),
        setback_wanted_m=float(formulas.setback_m(fence.height_m)),
        looks=list(fence.looks.all()),
        drifts=[one for one in drifts if _crossed(one, fence)],
    )


def _crossed(drift: Hazard, fence: SnowFence) -> bool:
    return drift.wind_from_deg is not None and guarded(drift.wind_from_deg, fence.wind_from_deg)


def drifts_of(season: Season) -> list[Hazard]:
    """The drifts on the ice that were noted in a season."""
    rows = Hazard.objects.filter(season=season, kind=Hazard.Kind.DRIFT)
    return list(rows.exclude(state=Hazard.State.WITHDRAWN).order_by("found_at"))
