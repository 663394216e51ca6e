"""What is carried from hour to hour: the columns, how much each member counts, and its factors. Exact in bytes."""

from __future__ import annotations

import datetime as dt
import io
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from rinklog.ice.inputs import Inputs
from rinklog.ice.spread import Spread, draws
from rinklog.physics.column import Column, Settings
from rinklog.physics.column.state import Floats

SETTINGS = Settings()
UNKNOWN_ICE_M = 0.30
"""Ice that may be there when the march begins after the season did and no depth was surveyed: common practice."""
NEVER_WET_S = -1.0


@dataclass(frozen=True)
class State:
    """Everything at a full hour. Arrays are (zones, members), columns zones by members with members fastest.

    last_wet_s: start of the last hour in which it was wet, counted from the season's start; -1 when never.
    frost_cd: degree-days of frost since the start [°C d]. poured_m: coats since the first fill (zones,) [m of water].
    """

    at: dt.datetime
    column: Column
    log_weights: Floats
    exchange: Floats
    sunlight: Floats
    last_wet_s: Floats
    frost_cd: float
    poured_m: Floats
    holes_used: int

    @property
    def weights(self) -> Floats:
        """What each member counts in its zone; the sum over members is 1."""
        share = np.exp(self.log_weights - self.log_weights.max(axis=1, keepdims=True))
        return np.asarray(share / share.sum(axis=1, keepdims=True))


def first_state(inputs: Inputs) -> State:
    """The rink as it is taken to be at the start: standing water at freezing, or ice of which nobody knows how much.

    Arguments: inputs. Returns: State with equal weights and factors drawn around 1.
    """
    zones, spread = len(inputs.grounds), inputs.spread
    shape = (zones, spread.members)
    unsure = np.exp(spread.depth_log * draws(inputs.seed, "depth", size=shape))
    unsure[:, 0] = 1.0
    stood = (np.asarray(inputs.stood_m, dtype=float)[:, None] * unsure).ravel()
    share = np.zeros(shape) if inputs.begun else _unknown_share(inputs)
    water = np.where(stood > 0, stood, 0.0 if inputs.begun else UNKNOWN_ICE_M)
    ice = water * share.ravel()
    column = Column.start(
        SETTINGS,
        inputs.columns,
        ice_m=ice * SETTINGS.rho_water_kgm3 / SETTINGS.rho_ice_kgm3,
        water_m=water - ice,
    )
    return State(
        at=inputs.start,
        column=column,
        log_weights=np.zeros(shape),
        exchange=_factors(inputs, "exchange", spread.exchange_log),
        sunlight=_factors(inputs, "sunlight", spread.sunlight_log),
        last_wet_s=np.full(shape, NEVER_WET_S),
        frost_cd=0.0,
        poured_m=np.zeros(zones),
        holes_used=0,
    )


def _unknown_share(inputs: Inputs) -> Floats:
    """Shares of the water that may be frozen, from none to all, in another order in every zone."""
    members = inputs.spread.members
    even = (np.arange(members) + 0.5) / members
    return np.stack(
        [
            even[np.argsort(draws(inputs.seed, "unknown", zone, size=(members,)))]
            for zone in range(len(inputs.grounds))
        ]
    )


def _factors(inputs: Inputs, name: str, size_log: float) -> Floats:
    """A factor for every zone and member: what the whole rink shares, and what is the zone's own; member 0 has 1."""
    spread: Spread = inputs.spread
    own_log = spread.zone_log if size_log else 0.0
    shared = draws(inputs.seed, name, size=(spread.members,))
    own = draws(inputs.seed, name, "own", size=(len(inputs.grounds), spread.members))
    factors = np.exp(size_log * shared + own_log * own)
    factors[:, 0] = 1.0
    return factors


ARRAYS = ("log_weights", "exchange", "sunlight", "last_wet_s", "poured_m")
COLUMN_ARRAYS = tuple(Column.__dataclass_fields__)


def packed(state: State) -> bytes:
    """The state as compressed bytes, every float exact; the same state gives the same bytes."""
    arrays: dict[str, Any] = {name: getattr(state, name) for name in ARRAYS}
    arrays |= {f"column_{name}": getattr(state.column, name) for name in COLUMN_ARRAYS}
    arrays["frost_cd"] = np.float64(state.frost_cd)
    arrays["holes_used"] = np.int64(state.holes_used)
    out = io.BytesIO()
    np.savez_compressed(out, **arrays)
    return out.getvalue()


def unpacked(data: bytes, at: dt.datetime) -> State:
    """The state that `packed` wrote."""
    with np.load(io.BytesIO(data), allow_pickle=False) as found:
        arrays = {name: found[name] for name in found.files}
    column = Column(**{name: arrays[f"column_{name}"] for name in COLUMN_ARRAYS})
    values = {name: arrays[name] for name in ARRAYS}
    return State(
        at=at,
        column=column,
        frost_cd=float(arrays["frost_cd"]),
        holes_used=int(arrays["holes_used"]),
        **values,
    )


def taken(state: State, zone: int, chosen: np.ndarray[Any, Any]) -> State:
    """The state with one zone's columns replaced by copies of some of them.

    Arguments: state, zone, chosen members (members,). Returns: State; weights and factors are left to the caller.
    """
    members = state.log_weights.shape[1]
    source = np.arange(state.column.columns)
    here = slice(zone * members, (zone + 1) * members)
    source[here] = zone * members + chosen
    column = Column(
        **{
            name: np.take(getattr(state.column, name), source, axis=1 if name == "cells" else 0)
            for name in COLUMN_ARRAYS
        }
    )
    last_wet = state.last_wet_s.copy()
    last_wet[zone] = last_wet[zone][chosen]
    return replace(state, column=column, last_wet_s=last_wet)


def part_of(state: State, zones: list[int]) -> State:
    """The same state with some of its zones only, in the order asked for."""
    members = state.log_weights.shape[1]
    source = (np.asarray(zones)[:, None] * members + np.arange(members)).ravel()
    column = Column(
        **{
            name: np.take(getattr(state.column, name), source, axis=1 if name == "cells" else 0)
            for name in COLUMN_ARRAYS
        }
    )
    return replace(state, column=column, **{name: getattr(state, name)[zones] for name in ARRAYS})
