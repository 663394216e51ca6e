"""The ensemble into an estimate: bands by zone, the factors that were learned, and the hours to come."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from rinklog.ice.bands import Band, band, quantile
from rinklog.ice.forcing import HOUR, HOUR_S, Gap
from rinklog.ice.inputs import Inputs
from rinklog.ice.marching import KEEP, Journey, marched, sizes
from rinklog.ice.spread import Paths
from rinklog.ice.state import SETTINGS, State, part_of
from rinklog.ice.weighing import WET_M
from rinklog.physics.column.marching import WET, depths
from rinklog.physics.column.state import Floats

OUTLOOK_STEP_S = 1800.0
"""Twice the step of the estimate. On the rink of the bench it moved ten days of outlook by at most 0.24 mm of ice and,
while the sun melts, 1.4 mm of water; the weather's own errors are far larger."""


@dataclass(frozen=True)
class ZoneIce:
    """One zone at one time; bands are 10, 50 and 90 % of the weighted members, single numbers their middle."""

    zone_id: int
    thickness_m: Band
    white_m: float
    wet_top_m: Band
    water_under_m: float
    snow_m: Band
    surface_c: float
    frozen_since: dt.datetime | None


@dataclass(frozen=True)
class Estimate:
    """What the ice is taken to be like. It never opens a rink: a person drills first.

    at: for when it holds; before made_at where weather ends earlier. factors: learned exchange and sunlight, 1 as the
    formulas have them. gaps: stretches without weather, bridged by a wider spread; the last one may be still open.
    """

    made_at: dt.datetime
    at: dt.datetime
    zones: dict[int, ZoneIce]
    weather_source: str
    forecast_made_at: dt.datetime | None
    holes_used: int
    factors: dict[str, float]
    gaps: list[Gap]


@dataclass(frozen=True)
class OutlookHour:
    """One hour to come if nobody does anything: weather, the thinnest and the wettest zone, snow that lies on the
    snowiest zone [m] and the middle of its surface [°C]."""

    at: dt.datetime
    air_c: Band
    wind_ms: Band
    thinnest_m: Band
    wettest_m: Band
    precip_mm: float
    snow_m: float
    surface_c: float


def zones_of(state: State, inputs: Inputs) -> dict[int, ZoneIce]:
    """Every zone of a state. Arguments: state, inputs. Returns: ZoneIce by zone id."""
    shape = state.log_weights.shape
    found = {name: values.reshape(shape) for name, values in depths(state.column, SETTINGS).items()}
    found["under"] = np.maximum(found["water_m"] + found["slush_m"] - found[WET], 0.0)
    weights = state.weights
    return {
        ground.zone_id: _zone(number, ground.zone_id, found, weights[number], state, inputs)
        for number, ground in enumerate(inputs.grounds)
    }


def _zone(
    number: int, zone_id: int, found: dict[str, Floats], weights: Floats, state: State, inputs: Inputs
) -> ZoneIce:
    wet = band(found[WET][number], weights)
    since = quantile(state.last_wet_s[number], weights, 0.5)
    frozen = wet.middle <= WET_M and since >= 0
    return ZoneIce(
        zone_id=zone_id,
        thickness_m=band(found["ice_m"][number], weights),
        white_m=quantile(found["white_ice_m"][number], weights, 0.5),
        wet_top_m=wet,
        water_under_m=quantile(found["under"][number], weights, 0.5),
        snow_m=band(found["snow_m"][number], weights),
        surface_c=quantile(found["surface_c"][number], weights, 0.5),
        frozen_since=inputs.start + dt.timedelta(hours=round(since / HOUR_S) + 1) if frozen else None,
    )


def factors_of(state: State) -> dict[str, float]:
    """What the drill holes say of the rink: the weighted mean of the members' factors over all zones."""
    weights = state.weights
    return {
        name: float((weights * factors).sum() / weights.sum())
        for name, factors in (("exchange", state.exchange), ("sunlight", state.sunlight))
    }


def estimate_of(state: State, inputs: Inputs, now: dt.datetime) -> Estimate:
    """The estimate at a state. Arguments: state, inputs, now. Returns: Estimate."""
    gaps = [(first, min(past, state.at)) for first, past in inputs.weather.gaps if first < state.at]
    if now - state.at > 3 * HOUR:
        gaps.append((state.at, now))
    return Estimate(
        made_at=now,
        at=state.at,
        zones=zones_of(state, inputs),
        weather_source=inputs.weather.source_at(state.at),
        forecast_made_at=inputs.weather.forecast_made_at,
        holes_used=state.holes_used,
        factors=factors_of(state),
        gaps=gaps,
    )


def representatives(zones: Sequence[ZoneIce], inputs: Inputs) -> list[int]:
    """Places of the zones that can become the thinnest or the wettest: of every shade the thinnest and the wettest now.

    Zones of one shade meet the same weather, so they keep their order but for the snow on them; marching six in place of
    seventy keeps an hour's work within seconds.
    """
    chosen: set[int] = set()
    for shade in sorted({one.shade_frac for one in inputs.grounds}):
        here = [n for n, one in enumerate(inputs.grounds) if one.shade_frac == shade]
        chosen.add(min(here, key=lambda n: (zones[n].thickness_m.middle, n)))
        chosen.add(max(here, key=lambda n: (zones[n].wet_top_m.middle, zones[n].snow_m.middle, -n)))
    return sorted(chosen)


def outlook_of(state: State, inputs: Inputs, zones: Sequence[ZoneIce], errors: Paths) -> list[OutlookHour]:
    """The hours to come, from the next full hour to the last hour of which the weather is known.

    Arguments: state, inputs, zones in their order, errors. Returns: list of OutlookHour. Validity: nobody floods, clears
    or covers.
    """
    chosen = representatives(zones, inputs)
    few = replace(inputs, grounds=tuple(inputs.grounds[n] for n in chosen), deeds=(), holes=(), looks=())
    weights = state.weights.mean(axis=0)
    state = part_of(state, chosen)
    whole = _next_hour(state.at)
    if inputs.weather.end <= whole:
        return []
    if whole > state.at:
        state = marched(state, few, whole, errors)
    journey = Journey(keep=KEEP, wanted=True, step_s=OUTLOOK_STEP_S)
    marched(state, few, inputs.weather.end, errors, journey)
    (first, record), *_ = journey.records
    shape = (-1, len(chosen), inputs.spread.members)
    found = {name: record[name].reshape(shape) for name in KEEP}
    return [_hour(row, first, found, inputs, errors, weights) for row in range(found["ice_m"].shape[0])]


def _next_hour(at: dt.datetime) -> dt.datetime:
    whole = at.replace(minute=0, second=0, microsecond=0)
    return whole if whole == at else whole + HOUR


def _hour(
    row: int, first: int, found: dict[str, Floats], inputs: Inputs, errors: Paths, weights: Floats
) -> OutlookHour:
    number = first + row
    size = {
        name: float(value[0, 0]) for name, value in sizes(inputs.weather, inputs.spread, number, 1).items()
    }
    values, path = inputs.weather.values, errors.between(number, number + 1)
    air = values["air_c"][number] + path["air"][0] * size["air"]
    wind = values["wind_ms"][number] * np.exp(path["wind"][0] * size["wind"])
    return OutlookHour(
        at=inputs.start + number * HOUR,
        air_c=band(air, weights),
        wind_ms=band(wind, weights),
        thinnest_m=band(found["ice_m"][row].min(axis=0), weights),
        wettest_m=band(found[WET][row].max(axis=0), weights),
        precip_mm=float(values["precip_kgm2"][number]),
        snow_m=quantile(found["snow_m"][row].max(axis=0), weights, 0.5),
        surface_c=quantile(found["surface_c"][row].mean(axis=0), weights, 0.5),
    )
