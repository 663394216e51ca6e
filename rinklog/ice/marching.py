"""From one full hour to a later one: weather with every member's errors, deeds in their true minute, holes and looks.

Where a march is cut changes nothing: errors follow from the hour, deeds from their time, and holes count at the start of
their hour, before it is marched. That is what makes a late entry land exactly where it would have stood.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field, replace

import numpy as np

from rinklog.ice.filling import FILL_M
from rinklog.ice.forcing import HOUR, HOUR_S, Prepared, cloud_passes
from rinklog.ice.inputs import Deed, Inputs
from rinklog.ice.moving import moved
from rinklog.ice.plausible import Doubt, doubt
from rinklog.ice.spread import HourError, Paths, Spread, draws, paths
from rinklog.ice.state import SETTINGS, State
from rinklog.ice.weighing import WET_M, redrawn, with_hole, with_look
from rinklog.physics.air import magnus_water_pa
from rinklog.physics.column import Action, Record, Weather, march
from rinklog.physics.column.marching import WET, depths
from rinklog.physics.column.state import Floats
from rinklog.physics.radiation import longwave_down_wm2

KEEP = ("ice_m", "snow_m", "surface_c", WET)
SUN_RATIO = (0.2, 4.0)
CLOUD_LEAST = 0.02


STEP_S = 900.0
"""Longest step [s]: hundredths of a millimetre coarser than the engine's own, for members that differ by millimetres."""


@dataclass
class Journey:
    """What a march passed on its way: holes to ask about, and the records of its stretches when they are wanted."""

    doubts: list[Doubt] = field(default_factory=list)
    records: list[tuple[int, Record]] = field(default_factory=list)
    keep: tuple[str, ...] = (WET,)
    wanted: bool = False
    step_s: float = STEP_S


def marched(
    state: State, inputs: Inputs, until: dt.datetime, errors: Paths, journey: Journey | None = None
) -> State:
    """March to a later time, weighing the members by every hole and look on the way.

    Arguments: state at a full hour, inputs, until [UTC] (a part of an hour at the end is marched as such), errors of
    `paths`, journey to write on. Returns: State at
    `until`; what was seen in the hour that begins then does not count yet.
    """
    journey = journey if journey is not None else Journey()
    for stop in _stops(state.at, until, inputs):
        state = weighed(state, inputs, journey)
        state = _stretch(state, inputs, stop, errors, journey)
    return state


def errors_of(inputs: Inputs) -> Paths:
    """The errors of all hours of the inputs."""
    return paths(inputs.seed, inputs.start, inputs.weather.hours, inputs.spread)


def _stops(first: dt.datetime, until: dt.datetime, inputs: Inputs) -> list[dt.datetime]:
    """The hours at which something was seen, and the end."""
    seen = {_hour(one.at) for one in inputs.holes} | {_hour(one.at) for one in inputs.looks}
    return [*sorted(at for at in seen if first < at < until), until] if until > first else []


def _hour(at: dt.datetime) -> dt.datetime:
    return at.replace(minute=0, second=0, microsecond=0)


def weighed(state: State, inputs: Inputs, journey: Journey) -> State:
    """The state with what was seen in the hour that begins at it; holes to ask about are written on the journey."""
    holes = [one for one in inputs.holes if _hour(one.at) == state.at]
    looks = [one for one in inputs.looks if _hour(one.at) == state.at]
    if not holes and not looks:
        return state
    shape = state.log_weights.shape
    found = {name: values.reshape(shape) for name, values in depths(state.column, SETTINGS).items()}
    for look in looks:
        state = with_look(state, look, found[WET], found["snow_m"])
    for hole in holes:
        if hole.answer == "mistake":
            continue
        question = doubt(state, hole, found["ice_m"], inputs)
        if question is None:
            state = with_hole(state, hole, found["ice_m"], inputs.spread)
        elif hole.answer == "right":
            state = moved(state, hole, inputs)
        else:
            journey.doubts.append(question)
    return redrawn(state, inputs)


def _stretch(state: State, inputs: Inputs, until: dt.datetime, errors: Paths, journey: Journey) -> State:
    """One uncut march."""
    weather = members_weather(state, inputs, until, errors)
    deeds = [one for one in inputs.deeds if state.at <= one.at < until]
    shade = 1 - (1 - np.repeat([one.shade_frac for one in inputs.grounds], inputs.spread.members)) * (
        state.sunlight.ravel()
    )
    column, record = march(
        state.column,
        weather,
        SETTINGS,
        actions=[action(one, inputs, state.at) for one in deeds],
        step_s=journey.step_s,
        shade_frac=shade,
        keep=journey.keep,
    )
    if journey.wanted:
        journey.records.append((inputs.index(state.at), record))
    first = inputs.index(state.at)
    hours = len(weather.hold_s)
    frost = np.maximum(-inputs.weather.values["air_c"][first : first + hours], 0.0) * weather.hold_s / 86_400
    poured = state.poured_m.copy()
    for one in deeds:
        if one.what == "flood":
            for zone, amount in one.amounts.items():
                poured[zone] += amount / 1000 if amount / 1000 <= FILL_M else 0.0
    return replace(
        state,
        at=until,
        column=column,
        last_wet_s=_last_wet(state, record, deeds, inputs),
        frost_cd=_added(state.frost_cd, frost),
        poured_m=poured,
    )


def _added(total: float, parts: Floats) -> float:
    """A sum one by one, so that it does not depend on where a march is cut."""
    for part in parts.tolist():
        total += part
    return total


def _last_wet(state: State, record: Record, deeds: list[Deed], inputs: Inputs) -> Floats:
    """The start of the last hour in which each column was wet, or was flooded [s since the start]."""
    shape, first = state.last_wet_s.shape, inputs.index(state.at)
    last = state.last_wet_s.copy()
    for one in deeds:
        if one.what == "flood":
            hour_s = inputs.index(_hour(one.at)) * HOUR_S
            last[list(one.amounts)] = np.maximum(last[list(one.amounts)], hour_s)
    wet = record[WET] > WET_M
    rows = len(wet) - 1 - wet[::-1].argmax(axis=0)
    seen = np.where(wet.any(axis=0), (first + rows) * HOUR_S, -1.0).reshape(shape)
    return np.maximum(last, seen)


def members_weather(state: State, inputs: Inputs, until: dt.datetime, errors: Paths) -> Weather:
    """The weather of a stretch for every column: base values, each member's errors, each column's factors.

    Arguments: state (factors), inputs, until, errors. Returns: Weather (hours, columns). Validity: the exchange factor
    multiplies the wind, to which the exchange is proportional; the sunlight factor is applied with the shade.
    """
    first, hold_s = inputs.index(state.at), _holds(state.at, until)
    hours = len(hold_s)
    base = {name: values[first : first + hours, None] for name, values in inputs.weather.values.items()}
    size = sizes(inputs.weather, inputs.spread, first, hours)
    path = errors.between(first, first + hours)
    air = np.clip(base["air_c"] + path["air"] * size["air"], -60, 50)
    cloud = np.clip(base["cloud_frac"] + path["cloud"] * size["cloud"], 0, 1)
    humid = np.clip(base["humidity_frac"] + path["humidity"] * size["humidity"], 0, 1)
    wind = base["wind_ms"] * np.exp(path["wind"] * size["wind"])
    ratio = np.clip(
        cloud_passes(cloud) / np.maximum(cloud_passes(base["cloud_frac"]), CLOUD_LEAST), *SUN_RATIO
    )
    fall = base["precip_kgm2"] * np.exp(path["fall"] * size["fall"]) * (hold_s / HOUR_S)[:, None]
    zones = len(inputs.grounds)

    def each(values: Floats) -> Floats:
        return np.tile(values, (1, zones))

    return Weather(
        hold_s=hold_s,
        air_c=each(air),
        humidity_frac=each(humid),
        wind_ms=np.clip(each(wind) * state.exchange.ravel(), 0, 60),
        cloud_frac=each(cloud),
        sun_wm2=each(np.clip(base["sun_wm2"] * ratio, 0, 1400)),
        longwave_wm2=each(_sky(inputs.weather.longwave_wm2[first : first + hours], base, air, humid, cloud)),
        pressure_pa=each(np.broadcast_to(base["pressure_pa"], air.shape)),
        precip_kgm2=each(np.clip(fall, 0, 500)),
    )


def _holds(first: dt.datetime, last: dt.datetime) -> Floats:
    """Lengths of the hours from one time to another [s]; a broken one at either end."""
    edges = [first]
    while edges[-1] < last:
        edges.append(min(_hour(edges[-1]) + HOUR, last))
    return np.diff([(edge - first).total_seconds() for edge in edges])


def _sky(given: Floats, base: dict[str, Floats], air: Floats, humid: Floats, cloud: Floats) -> Floats:
    """Long wave from each member's sky [W/m²]; where it is given, moved by what the member's errors change."""
    sky = np.asarray(longwave_down_wm2(air, humid * magnus_water_pa(air), cloud))
    told = ~np.isnan(given)
    if told.any():
        vapour = base["humidity_frac"] * magnus_water_pa(base["air_c"])
        plain = np.asarray(longwave_down_wm2(base["air_c"], vapour, base["cloud_frac"]))
        sky[told] += (given[:, None] - plain)[told]
    return np.clip(sky, 0, 700)


def sizes(weather: Prepared, spread: Spread, first: int, hours: int) -> dict[str, Floats]:
    """Standard errors of some hours, by path: observed, forecast by its age, or bridged. Returns: (hours, 1) each."""
    lead_h = weather.lead_h[first : first + hours, None]
    days = np.nan_to_num(lead_h) / 24
    error, seen = spread.forecast, spread.observed
    told = {
        "air": error.air_k + error.air_k_per_day * days,
        "wind": error.wind_log + error.wind_log_per_day * days,
        "cloud": error.cloud_frac + error.cloud_frac_per_day * days,
        "humidity": error.humidity_frac + 0 * days,
        "fall": spread.forecast_fall_log + 0 * days,
    }
    bridged = weather.bridged[first : first + hours, None]
    known = {name: np.where(np.isnan(lead_h), _of(seen)[name], told[name]) for name in told}
    return {name: np.where(bridged, _of(spread.bridged)[name], known[name]) for name in told}


def _of(error: HourError) -> dict[str, float]:
    return {
        "air": error.air_k,
        "wind": error.wind_log,
        "cloud": error.cloud_frac,
        "humidity": error.humidity_frac,
        "fall": error.fall_log,
    }


def action(deed: Deed, inputs: Inputs, start: dt.datetime) -> Action:
    """A deed as the column does it: every zone and member its own amount of water.

    Arguments: deed, inputs, start of the stretch. Returns: Action. Validity: errors of amounts are drawn by what was
    said, so that the same flood has the same errors whenever it is told.
    """
    members = inputs.spread.members
    where = np.zeros((len(inputs.grounds), members), dtype=bool)
    where[list(deed.amounts)] = True
    amount: Floats | None = None
    if deed.what in ("flood", "torch"):
        even = np.zeros(len(inputs.grounds))
        even[list(deed.amounts)] = list(deed.amounts.values())
        amount = (even[:, None] * amount_factors(deed, inputs)).ravel()
    return Action((deed.at - start).total_seconds(), deed.what, amount, deed.water_c, where.ravel())


def amount_factors(deed: Deed, inputs: Inputs) -> Floats:
    """How much more or less water each zone and member got (zones, members); the mean over members is about 1."""
    spread, shape = inputs.spread, (len(inputs.grounds), inputs.spread.members)
    whole = draws(inputs.seed, "flood", deed.key, size=(spread.members,))
    own = draws(inputs.seed, "uneven", deed.key, size=shape)
    mean = (spread.flood_log**2 + spread.uneven_log**2) / 2
    factors = np.exp(spread.flood_log * whole + spread.uneven_log * own - mean)
    factors[:, 0] = 1.0
    return factors
