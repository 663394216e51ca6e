"""Holes drilled through the ice that the demo's own weather and work have made, read as a crew reads them."""

import datetime as dt
import random
from collections.abc import Iterator
from dataclasses import dataclass, replace

from rinklog.archive.demo.calendar import Days
from rinklog.archive.demo.jobs import Job
from rinklog.archive.demo.place import COLUMNS
from rinklog.ice.marching import Journey, errors_of, marched
from rinklog.ice.reading import Nothing, read
from rinklog.ice.spread import Spread
from rinklog.ice.state import first_state
from rinklog.ice.summing import ZoneIce, zones_of
from rinklog.rink.models import Rink
from rinklog.weather.known import floor

DRILL_DAYS = (-34, -31, -27, -24, -20, -16, -11, -10, -7, -4, -1)
HOLES = ("A1", "D3", "H4")  # deep end, middle, shallow end
DRILL_HOUR = 16
READ_WITHIN_M = 0.004  # standard error of a rule held to a rough edge; as the estimate takes it
LEAST_M = 0.005
MISREAD = (-4, "D3")  # one hole that does not fit, so that there is something to ask about
MISREAD_BY_M = -0.07
STEP_S = 3600.0


@dataclass(frozen=True)
class Drilled:
    """What one hole showed [m]."""

    day: int
    zone: str
    ice: ZoneIce


def hole_jobs(rink: Rink, days: Days) -> Iterator[Job]:
    """The drill holes as work to be written down, in the order of time."""
    chance = random.Random("holes")
    for number, one in enumerate(drilled(rink, days)):
        misread = (one.day, one.zone) == MISREAD
        white_m = round(one.ice.white_m, 3)
        read_m = one.ice.thickness_m.middle + chance.gauss(0, READ_WITHIN_M) + misread * MISREAD_BY_M
        yield Job(
            name=f"hole {one.day} {one.zone}",
            kind="drill-hole",
            day=one.day,
            hour=DRILL_HOUR,
            minute=5 * (number % len(HOLES)),
            people={"odo" if one.day % 2 else "runa": 5},
            zones=one.zone,
            details={
                "clear_ice_m": round(max(read_m - white_m, LEAST_M), 3),
                "white_ice_m": white_m,
                "water_below_m": round(one.ice.water_under_m, 2),
            },
            note="Drill hit something hard, stopped there." if misread else "",
        )


def drilled(rink: Rink, days: Days) -> Iterator[Drilled]:
    """The ice at every hole by the plain march of what is on record: no errors, no ensemble, no holes."""
    found = read(rink, days.now, spread=Spread.none(1))
    if isinstance(found, Nothing):
        return
    inputs = replace(found.inputs, holes=(), looks=())
    state, errors = first_state(inputs), errors_of(inputs)
    for day in DRILL_DAYS:
        at = floor(days.at(day, DRILL_HOUR).astimezone(dt.UTC))
        if not state.at < at <= inputs.weather.end:
            continue
        state = marched(state, inputs, at, errors, Journey(step_s=STEP_S))
        ice = list(zones_of(state, inputs).values())
        for zone in HOLES:
            yield Drilled(day, zone, ice[place_of(zone)])


def place_of(label: str) -> int:
    """Where a zone such as D3 stands in the list of zones: row by row."""
    return (ord(label[0]) - ord("A")) * COLUMNS + int(label[1:]) - 1
