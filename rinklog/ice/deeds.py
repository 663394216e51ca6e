"""Work entries into deeds, holes and looks: what each kind of work does to the ice of its zones."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

import numpy as np

from rinklog.facts import fingerprint_of
from rinklog.ice.filling import spread_m
from rinklog.ice.inputs import Deed, Ground, Hole, Look, What

COLD_C, HOT_C = 5.0, 60.0
"""Water arrives at 4-5 °C (Nykvarn, Sweden); hot water as in the reference tables (60 °C)."""
PIECE = dt.timedelta(hours=1)
"""A longer flood comes in pieces of at most an hour, each at its middle."""
FLAME_W, FUEL_JKG, REACHES_FRAC = 30e3, 46.35e6, 0.30
"""A roofing torch of 30 kW, propane's lower heating value [J/kg], and the share that reaches flat ice: assumptions,
from memory."""


@dataclass(frozen=True)
class Told:
    """One standing entry as this floor needs it. zones: place in the list of zones → area [m²] as recorded."""

    id: UUID
    kind: str
    started_at: dt.datetime
    ended_at: dt.datetime | None
    zones: dict[int, float]
    area_m2: float
    water_m3: float | None = None
    details: dict[str, Any] | None = None
    conditions: dict[int, str] | None = None
    frozen_at: dt.datetime | None = None
    lifted_at: dt.datetime | None = None
    answer: str = ""

    @property
    def key(self) -> str:
        """What was said, whoever said it and under whatever id."""
        said = {
            name: value for name, value in vars(self).items() if name not in ("id", "answer", "frozen_at")
        }
        return fingerprint_of(said)

    @property
    def mean_m(self) -> float:
        """Water over the recorded area [m]."""
        return (self.water_m3 or 0.0) / self.area_m2 if self.area_m2 > 0 else 0.0


def deeds(told: Iterable[Told], grounds: Sequence[Ground], stood_m: Sequence[float]) -> list[Deed]:
    """Everything that the crew did, in order of time.

    Arguments: told entries, grounds, stood_m water that stood there at the start (zones,). Returns: list of Deed.
    Validity: a patch's water and a torch's heat are spread over the picked zones; a cover is taken to cover them whole,
    so that the estimate speaks for the covered spot.
    """
    found: list[Deed] = []
    stands = np.array(stood_m, dtype=float)
    for one in sorted(told, key=lambda one: (one.started_at, one.key)):
        if one.kind in ("flood", "patch") and one.mean_m > 0:
            found += _water(one, grounds, stands)
        elif one.kind == "snow-removal":
            found.append(_plain(one, "clear-snow", one.ended_at or one.started_at))
        elif one.kind == "tarp-melt":
            found.append(_plain(one, "lay-cover", one.ended_at or one.started_at))
            if one.lifted_at is not None:
                found.append(_plain(one, "lift-cover", one.lifted_at))
        elif one.kind == "torch-repair" and one.area_m2 > 0:
            found.append(_flame(one))
    return sorted((one for one in found if one.amounts), key=lambda one: (one.at, one.key, one.what))


def second(at: dt.datetime) -> dt.datetime:
    """A time in UTC to the full second."""
    return at.astimezone(dt.UTC).replace(microsecond=0)


def _plain(one: Told, what: What, at: dt.datetime) -> Deed:
    return Deed(second(at), what, dict.fromkeys(one.zones, 0.0), one.key)


def _flame(one: Told) -> Deed:
    details = one.details or {}
    fuel_kg = details.get("fuel_kg")
    heat_j = fuel_kg * FUEL_JKG if fuel_kg else (details.get("flame_minutes") or 0.0) * 60 * FLAME_W
    heat_jm2 = heat_j * REACHES_FRAC / one.area_m2
    return Deed(second(one.ended_at or one.started_at), "torch", dict.fromkeys(one.zones, heat_jm2), one.key)


def _water(one: Told, grounds: Sequence[Ground], stands: np.ndarray[Any, Any]) -> list[Deed]:
    """A flood in pieces of at most an hour. `stands` is moved on."""
    here = list(one.zones)
    if not here:
        return []
    floors = _floors(grounds, here)
    depth = spread_m(
        one.water_m3 or 0.0, one.area_m2, np.array(list(one.zones.values())), floors, stands[here]
    )
    stands[here] += depth
    amounts = {zone: float(d) * 1000 for zone, d in zip(here, depth, strict=True) if d > 0}
    details = one.details or {}
    hot = details.get("water") == "hot" or details.get("method") == "hot-water-pour"
    start, end = second(one.started_at), second(one.ended_at or one.started_at)
    pieces = max(1, math.ceil((end - start) / PIECE))
    return [
        Deed(
            second(start + (end - start) * ((piece + 0.5) / pieces)),
            "flood",
            {zone: amount / pieces for zone, amount in amounts.items()},
            one.key,
            HOT_C if hot else COLD_C,
        )
        for piece in range(pieces)
    ]


def _floors(grounds: Sequence[Ground], here: Sequence[int]) -> np.ndarray[Any, Any] | None:
    """Height of the floor of some zones [m]; a zone that was not surveyed is taken as the others' mean."""
    depths = np.array([math.nan if grounds[zone].depth_m is None else grounds[zone].depth_m for zone in here])
    if np.isnan(depths).all():
        return None
    return -np.where(np.isnan(depths), np.nanmean(depths), depths)


def holes(told: Iterable[Told]) -> list[Hole]:
    """Drill holes in order of time: clear and white ice together."""
    found = []
    for one in told:
        if one.kind == "drill-hole":
            details = one.details or {}
            ice_m = (details.get("clear_ice_m") or 0.0) + (details.get("white_ice_m") or 0.0)
            found += [
                Hole(second(one.started_at), zone, ice_m, one.key, one.id, one.answer) for zone in one.zones
            ]
    return sorted(found, key=lambda one: (one.at, one.key))


SAYS = {"wet": (True, None), "snow": (None, True), "good": (False, False)}
"""What an inspection's condition says of water and of snow; the others say nothing of either."""


def looks(told: Iterable[Told]) -> list[Look]:
    """What people saw: conditions of inspections, and floods that were seen frozen through."""
    found = []
    for one in told:
        for zone, condition in (one.conditions or {}).items():
            if condition in SAYS:
                wet, snow = SAYS[condition]
                found.append(Look(second(one.ended_at or one.started_at), zone, one.key, wet, snow))
        if one.kind in ("flood", "patch") and one.frozen_at is not None:
            found += [Look(second(one.frozen_at), zone, one.key, False, None) for zone in one.zones]
    return sorted(found, key=lambda one: (one.at, one.key, one.zone))
