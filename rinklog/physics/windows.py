"""Flood-night arithmetic: how thick, how long, how likely; for coats, first fills and covers.

All of it marches the column engine, with candidates (thicknesses, zones, forecast members) as columns side by
side. An estimate never opens a rink: a person drills first.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from rinklog.physics.column import Action, Column, Record, Settings, Weather, march
from rinklog.physics.column.forcing import steps_of
from rinklog.physics.column.marching import WET
from rinklog.physics.column.state import Bools, Floats
from rinklog.physics.validity import require

HOUR_S = 3600.0
TICK_S = 300.0
"""Resolution at which a march is written down for a time of freezing [s]; between, the pace goes on."""
LOOK_STEPS = 3
"""Weather steps between looks whether a march can end early."""
COATS_MM = (0.5, 40.0)
WATER_C = 5.0


@dataclass(frozen=True)
class ForecastError:
    """How far a forecast may be off, growing with the hours ahead; errors keep some of themselves each hour.

    Defaults from memory, of the size that weather services publish for day 1 to day 5: air 1.0 K at once and
    0.5 K a day more; wind and cloud wider. correlation_h is how long an error lasts.
    """

    air_k: float = 1.0
    air_k_per_day: float = 0.5
    wind_log: float = 0.25
    wind_log_per_day: float = 0.05
    cloud_frac: float = 0.2
    cloud_frac_per_day: float = 0.05
    humidity_frac: float = 0.05
    correlation_h: float = 12.0


def ensemble(
    weather: Weather, members: int, seed: int, error: ForecastError | None = None, lead_h: float = 0.0
) -> Weather:
    """Forecast members around one forecast; the first member is the forecast itself.

    Arguments: weather of R steps without columns, members, seed, error, lead_h age of the forecast at the
    first step [h]. Returns: Weather with arrays (R, members). Validity: errors of hours follow a first-order
    autoregression with the stated spread at each lead; the same seed gives the same members.
    """
    error = error or ForecastError()
    draw = np.random.default_rng(seed)
    hold_h = np.asarray(weather.hold_s, dtype=float) / HOUR_S
    days = ((lead_h + np.cumsum(hold_h) - hold_h) / 24)[:, None]
    shape = (hold_h.size, members)

    def drift() -> Floats:
        kept = np.exp(-hold_h / error.correlation_h)
        noise = draw.standard_normal(shape)
        path = np.empty(shape)
        path[0] = noise[0]
        for at in range(1, len(path)):
            path[at] = kept[at] * path[at - 1] + np.sqrt(1 - kept[at] ** 2) * noise[at]
        path[:, 0] = 0.0
        return path

    def wide(value: ArrayLike) -> Floats:
        values = np.asarray(value, dtype=float)
        return np.broadcast_to(values[:, None] if values.ndim == 1 else values, shape)

    air = wide(weather.air_c) + drift() * (error.air_k + error.air_k_per_day * days)
    wind = wide(weather.wind_ms) * np.exp(drift() * (error.wind_log + error.wind_log_per_day * days))
    cloud = wide(weather.cloud_frac) + drift() * (error.cloud_frac + error.cloud_frac_per_day * days)
    humid = wide(weather.humidity_frac) + drift() * error.humidity_frac
    return replace(
        weather,
        air_c=np.clip(air, -60, 50),
        wind_ms=np.clip(wind, 0, 60),
        cloud_frac=np.clip(cloud, 0, 1),
        humidity_frac=np.clip(humid, 0, 1),
    )


def hours_to_freeze(
    column: Column,
    weather: Weather,
    settings: Settings,
    coat_mm: ArrayLike,
    *,
    water_c: float = WATER_C,
    share: float = 1.0,
    shade_frac: float = 0.0,
) -> Floats:
    """Hours until a coat flooded at the start of the weather is frozen to a share of its depth.

    Arguments: column (its C columns, or one for all coats), weather, settings, coat_mm of water (C,),
    water_c [°C], share [0-1], shade_frac. Returns: [h] (C,), infinite where the weather ends first. Validity:
    0.5-40 mm; share 1 is frozen through, a smaller one "set enough for the next coat".
    """
    coats = np.atleast_1d(np.asarray(coat_mm, dtype=float))
    require("coat_mm", coats, *COATS_MM, "mm")
    require("share", share, 0.05, 1)
    column = column.repeat(coats.size) if column.columns == 1 else column
    actions = [Action(0.0, "flood", float(mm), water_c, coats == mm) for mm in np.unique(coats)]
    goal = coats / 1000 * (1 - share) + 1e-6
    return _first_hours(_wet_until(column, weather, settings, actions, shade_frac, goal), goal, weather)


def thickest_coat_mm(
    column: Column,
    weather: Weather,
    settings: Settings,
    hours: float,
    *,
    water_c: float = WATER_C,
    share: float = 1.0,
    shade_frac: float = 0.0,
    candidates: int = 24,
) -> float:
    """Thickest coat of water, flooded at the start of the weather, that is frozen within some hours.

    Arguments: column (one), weather, settings, hours until the deadline, as hours_to_freeze; candidates.
    Returns: [mm], 0 when not even 0.5 mm freezes. Validity: 0.5-40 mm, drawn as a line between candidates.
    """
    coats = np.geomspace(*COATS_MM, candidates)
    need = hours_to_freeze(
        column, weather, settings, coats, water_c=water_c, share=share, shade_frac=shade_frac
    )
    in_time = np.flatnonzero(need <= hours)
    if not in_time.size or need[0] > hours:
        return 0.0
    late = np.flatnonzero(need > hours)
    if not late.size:
        return float(coats[-1])
    first = int(late[0])
    if not np.isfinite(need[first]):
        return float(coats[first - 1])
    return float(np.interp(hours, need[first - 1 : first + 1], coats[first - 1 : first + 1]))


def chance_frozen(
    column: Column,
    members: Weather,
    settings: Settings,
    coat_mm: float,
    hours: float,
    *,
    water_c: float = WATER_C,
    share: float = 1.0,
    shade_frac: float = 0.0,
) -> float:
    """Share of forecast members in which a coat is frozen by the deadline.

    Arguments: column (one), members from ensemble(), settings, coat_mm, hours, as hours_to_freeze. Returns:
    [0-1]. Validity: a share of members, as good as the stated forecast error.
    """
    count = np.asarray(members.air_c).shape[1]
    coats = np.full(count, coat_mm)
    need = hours_to_freeze(
        column.repeat(count), members, settings, coats, water_c=water_c, share=share, shade_frac=shade_frac
    )
    return float(np.mean(need <= hours))


@dataclass(frozen=True)
class Fill:
    """A first fill: hours until each zone is frozen through, and until each reaches the wanted ice [h]."""

    through_h: Floats
    carries_h: Floats

    @property
    def all_through_h(self) -> float:
        """When the deepest, or slowest, zone is through [h]; infinite when the weather ends first."""
        return float(self.through_h.max())

    @property
    def all_carry_h(self) -> float:
        """When the last zone has the wanted ice [h]. It says what the setting asks; a person must drill."""
        return float(self.carries_h.max())


def first_fill(
    depth_m: ArrayLike,
    weather: Weather,
    settings: Settings,
    wanted_ice_m: float,
    *,
    water_c: float = 0.0,
    shade_frac: float = 0.0,
) -> Fill:
    """Freeze standing water of uneven depth, zone by zone.

    Arguments: depth_m of water (zones,), weather, settings, wanted_ice_m the rink's own setting [m] (a zone
    shallower than that is asked to be through), water_c [°C], shade_frac. Returns: Fill. Validity: still
    water; each zone by itself.
    """
    depth = np.atleast_1d(np.asarray(depth_m, dtype=float))
    require("depth_m", depth, 0.001, 3, "m")
    require("wanted_ice_m", wanted_ice_m, 0.01, 1, "m")
    column = Column.start(settings, depth.size, water_m=depth, water_c=water_c)
    _, record = _ask(column, weather, settings, [], shade_frac)
    unfrozen_m = record["water_m"] + record["slush_m"]
    through = _first_hours(unfrozen_m, np.full(depth.size, 1e-6), weather)
    frozen_m = depth * settings.rho_water_kgm3 / settings.rho_ice_kgm3
    wanted = np.minimum(wanted_ice_m, frozen_m * 0.999)
    carries = _first_hours(-record["ice_m"], -wanted, weather)
    return Fill(through, np.minimum(carries, through))


@dataclass(frozen=True)
class CoverMelt:
    """What a cover would do: melt hour by hour [mm of ice], and when to lift it [h], None when it is no use."""

    melt_mm: Floats
    lift_h: float | None

    @property
    def total_mm(self) -> float:
        """Ice melted by the hour of lifting [mm]."""
        return 0.0 if self.lift_h is None else float(self.melt_mm.max())


def cover_melt(
    column: Column,
    weather: Weather,
    settings: Settings,
    wanted_mm: float | None = None,
    shade_frac: float = 0.0,
) -> CoverMelt:
    """Lay a dark cover at the start of the weather and watch the ice under it melt.

    Arguments: column (one), weather, settings, wanted_mm of melt (None: as much as there is), shade_frac.
    Returns: CoverMelt, melt at the end of each step; lift_h is when the wanted melt is reached, else when the
    melt is greatest, before it freezes again. Validity: as the column engine; contact as in settings.
    """
    _, record = march(
        column, weather, settings, actions=[Action(0.0, "lay-cover")], step_s=TICK_S, shade_frac=shade_frac
    )
    start_m = float(column.phases(settings).solid.sum()) / settings.rho_ice_kgm3
    melt = np.maximum((start_m - record["ice_m"][:, 0]) * 1000, 0.0)
    ends_h = np.cumsum(np.asarray(weather.hold_s, dtype=float)) / HOUR_S
    if melt.max() < 0.1:
        return CoverMelt(melt, None)
    best = int(melt.argmax())
    if wanted_mm is None or melt[best] < wanted_mm:
        return CoverMelt(melt, float(ends_h[best]))
    first = int(np.argmax(melt >= wanted_mm))
    path_mm, path_h = np.append(0.0, melt), np.append(0.0, ends_h)
    return CoverMelt(melt, float(np.interp(wanted_mm, path_mm[first : first + 2], path_h[first : first + 2])))


def _wet_until(
    column: Column,
    weather: Weather,
    settings: Settings,
    actions: list[Action],
    shade_frac: float,
    goal: Floats,
) -> Floats:
    """Liquid on the ice at the end of each tick, marched until every column has reached its goal once (ticks, C)."""
    reached = np.zeros(column.columns, dtype=bool)
    paths = []
    for first in range(0, len(weather.hold_s), LOOK_STEPS):
        piece = steps_of(weather, first, first + LOOK_STEPS)
        column, record = _ask(column, piece, settings, actions if first == 0 else [], shade_frac)
        paths.append(record[WET])
        reached |= (record[WET] <= goal).any(axis=0)
        if reached.all():
            break
    return np.concatenate(paths)


def _ask(
    column: Column, weather: Weather, settings: Settings, actions: list[Action], shade_frac: float
) -> tuple[Column, Record]:
    """March with the weather cut into ticks, so that times of freezing are fine."""
    pieces = np.maximum(1, np.round(np.asarray(weather.hold_s, dtype=float) / TICK_S)).astype(np.intp)
    steps = len(weather.hold_s)

    def cut(value: ArrayLike | None) -> ArrayLike | None:
        values = np.asarray(value, dtype=float) if value is not None else None
        if values is None or values.ndim == 0 or values.shape[0] != steps:
            return value
        return np.repeat(values, pieces, axis=0)

    fine = {name: cut(value) for name, value in vars(weather).items()}
    fine["hold_s"] = np.repeat(np.asarray(weather.hold_s, dtype=float) / pieces, pieces)
    fall = np.asarray(weather.precip_kgm2, dtype=float)
    shares = (1 / pieces)[:, None] if fall.ndim == 2 else 1 / pieces
    fine["precip_kgm2"] = cut(np.broadcast_to(fall, (steps,) if fall.ndim == 0 else fall.shape) * shares)
    keep = ("ice_m", "water_m", "slush_m", WET)
    return march(
        column, Weather(**fine), settings, actions=actions, step_s=TICK_S, shade_frac=shade_frac, keep=keep  # type: ignore[arg-type]
    )  # fmt: skip


def _first_hours(path: Floats, goal: Floats, weather: Weather) -> Floats:
    """Hours at which each column of a falling path first reaches its goal, at the pace of the tick before."""
    total_h = float(np.sum(weather.hold_s)) / HOUR_S
    pieces = np.maximum(1, np.round(np.asarray(weather.hold_s, dtype=float) / TICK_S)).astype(np.intp)
    hold_h = np.repeat(np.asarray(weather.hold_s, dtype=float) / pieces, pieces)[: len(path)] / HOUR_S
    ends_h = np.cumsum(hold_h)
    there: Bools = path <= goal
    first = there.argmax(axis=0)
    rows = np.arange(path.shape[1])
    earlier, before = (path[np.maximum(first - n, 0), rows] for n in (1, 2))
    pace = np.where(first > 1, before - earlier, 0.0) / hold_h[np.maximum(first - 1, 0)]
    more_h = np.where(pace > 0, (earlier - goal) / np.where(pace > 0, pace, 1.0), hold_h[first])
    hours = ends_h[first] - hold_h[first] + np.clip(more_h, 0, hold_h[first])
    return np.where(there.any(axis=0), np.minimum(hours, total_h), np.inf)
