"""All that the rules of advice look at: frozen, plain, in SI. Whatever is not known is None or empty."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from zoneinfo import ZoneInfo

from rinklog.advice.fill.leak import Missing
from rinklog.advice.items import Window
from rinklog.clock import local_day, night_bounds, night_of

HOUR = dt.timedelta(hours=1)


@dataclass(frozen=True)
class Range:
    """10, 50 and 90 % of an ensemble."""

    low: float
    middle: float
    high: float


@dataclass(frozen=True)
class HourAhead:
    """One hour of weather, past or to come; what is not known is None."""

    at: dt.datetime
    air_c: float
    wind_ms: float | None = None
    precip_mm: float = 0.0
    sun_wm2: float = 0.0
    observed: bool = False

    @property
    def snow_mm(self) -> float:
        """What falls as snow, as water [mm]: all at 0 °C, none from 2 °C, linear between (as the column engine)."""
        return self.precip_mm * min(1.0, max(0.0, 1 - self.air_c / 2))

    @property
    def rain_mm(self) -> float:
        """What falls as rain [mm]."""
        return self.precip_mm - self.snow_mm


@dataclass(frozen=True)
class ZoneNow:
    """One zone as it is believed to be, and when something was last done there."""

    id: int
    label: str
    area_m2: float = 0.0
    wears: bool = False
    low_spot: bool = False
    shade_frac: float = 0.0  # share of the sun kept off
    thickness_m: Range | None = None
    wet_m: Range | None = None  # liquid or slush on the ice
    snow_m: Range | None = None
    water_under_m: float = 0.0
    surface_c: float | None = None
    poured_at: dt.datetime | None = None  # the last flood or patch with water


@dataclass(frozen=True)
class HoleNow:
    """One drill hole; `counted_m` is clear ice and half of the white ice."""

    at: dt.datetime
    zone: str
    counted_m: float


@dataclass(frozen=True)
class HazardNow:
    """An open hazard."""

    id: str
    number: int
    kind: str
    severity: str
    state: str
    cone_out: bool
    found_at: dt.datetime
    zones: tuple[str, ...] = ()
    zone_ids: tuple[int, ...] = ()


@dataclass(frozen=True)
class SnowLoss:
    """What the snow costs until `until`: ice grown without it and with it [m], and that loss in hours of freezing."""

    until: dt.datetime
    bare_m: float
    snowed_m: float
    hours: float


@dataclass(frozen=True)
class TarpDay:
    """A dark cover on a day: when to lay and lift it, and the ice it melts [m]."""

    lay_at: dt.datetime
    lift_at: dt.datetime
    melt_m: float


@dataclass(frozen=True)
class NightFault:
    """Why no hour of a night will do: the key of the reason and the best that night has to offer."""

    reason: str
    starts_at: dt.datetime
    coat_mm: float
    chance: float
    air_c: float
    amount: float = 0.0  # wind [m/s] or precipitation [mm], by the reason


@dataclass(frozen=True)
class HoleAsked:
    """A drill hole that seems impossible and waits for an answer."""

    entry_id: str
    zone: str
    measured_m: float
    expected_m: float


@dataclass(frozen=True)
class Situation:
    """The rink now, and the days ahead."""

    now: dt.datetime
    zone: ZoneInfo
    rules: Mapping[str, float]
    phase: str = "skating"
    zones: tuple[ZoneNow, ...] = ()
    hours: tuple[HourAhead, ...] = ()  # from two days ago to as far as the forecast goes
    holes: tuple[HoleNow, ...] = ()  # the latest first
    hazards: tuple[HazardNow, ...] = ()
    windows: tuple[Window, ...] = ()  # the best first
    fault: NightFault | None = None  # why not tonight, when no window is tonight
    snow_loss: SnowLoss | None = None
    tarp: TarpDay | None = None
    questions: tuple[HoleAsked, ...] = ()
    ice_known: bool = True
    hose_m3s: float | None = None  # flow of the hose by the latest bucket test
    missing: Missing | None = None  # water that went in, against what the last holes found
    wet_until: Mapping[int, dt.datetime] = field(
        default_factory=dict
    )  # by zone: dry in half of the forecasts

    @property
    def ahead(self) -> tuple[HourAhead, ...]:
        """The hours from the one that holds now."""
        return tuple(hour for hour in self.hours if hour.at > self.now - HOUR)

    def within(self, hours: float) -> tuple[HourAhead, ...]:
        """The hours ahead that begin within so many hours."""
        end = self.now + dt.timedelta(hours=hours)
        return tuple(hour for hour in self.ahead if hour.at < end)

    @property
    def today(self) -> tuple[HourAhead, ...]:
        """The hours of the rink-local day."""
        day = local_day(self.now, self.zone)
        return tuple(hour for hour in self.hours if local_day(hour.at, self.zone) == day)

    @property
    def tonight(self) -> tuple[dt.datetime, dt.datetime]:
        """The night that holds now or, in the morning, the one to come."""
        morning = 4 <= self.now.astimezone(self.zone).hour < 12
        night = local_day(self.now, self.zone) if morning else night_of(self.now, self.zone)
        return night_bounds(night, self.zone)

    @property
    def window_tonight(self) -> Window | None:
        """The best window of tonight."""
        start, end = self.tonight
        return next((one for one in self.windows if start <= one.starts_at < end), None)
