"""The ice as the search starts from it: a few members of one zone, or ten centimetres where nothing is estimated."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from rinklog.advice.asks import pick, resampled
from rinklog.advice.situation import ZoneNow
from rinklog.ice.future import Members
from rinklog.physics.column import Column, Settings
from rinklog.physics.column.state import Floats

SETTINGS = Settings()
MEMBERS = 20
ASSUMED_ICE_M, ASSUMED_ICE_C = 0.10, -1.0


@dataclass(frozen=True)
class Start:
    """Columns of equal weight, and each one's factors; shade_frac of the zone's sun kept off."""

    column: Column
    exchange: Floats
    sunlight: Floats
    shade_frac: float
    known: bool = True


def start_of(found: Members | None, zone: ZoneNow | None, count: int = MEMBERS) -> Start:
    """Members of a zone drawn by their weights; assumed bare ice where there is no estimate of it."""
    ones, shade_frac = np.ones(count), zone.shade_frac if zone else 0.0
    if found is None or zone is None or zone.id not in found.zone_ids:
        slab = Column.start(SETTINGS, count, ice_m=ASSUMED_ICE_M, ice_c=ASSUMED_ICE_C)
        return Start(slab, ones, ones, shade_frac, known=False)
    place = found.zone_ids.index(zone.id)
    drawn = resampled(found.weights[place], count)
    each = found.weights.shape[1]
    return Start(
        pick(found.column, [place * each + member for member in drawn]),
        found.exchange[place, drawn],
        found.sunlight[place, drawn],
        shade_frac,
    )


def flooded(zones: Sequence[ZoneNow], phase: str) -> list[ZoneNow]:
    """The zones a flood is for: the low spots while the ice is built (Montreal guide), where any are marked."""
    low = [zone for zone in zones if zone.low_spot]
    return low if phase == "building" and low else list(zones)


def slowest(zones: Sequence[ZoneNow]) -> ZoneNow | None:
    """The zone whose coat is last to freeze: the sunniest, and of those the wettest and then the thinnest."""
    return min(zones, key=_slowness, default=None)


def _slowness(zone: ZoneNow) -> tuple[float, float, float, int]:
    wet = zone.wet_m.middle if zone.wet_m else 0.0
    thick = zone.thickness_m.middle if zone.thickness_m else 0.0
    return zone.shade_frac, -wet, thick, zone.id
