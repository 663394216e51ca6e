"""What a stranger is told: state, cones, last work, next flood. No person is named, and no note of the crew shown."""

import datetime as dt
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext_lazy as lazy

from rinklog.plan.models import Shift
from rinklog.plan.queries.shifts import ahead
from rinklog.records.queries import current_opening, grades
from rinklog.rink.models import Rink
from rinklog.rink.queries import season_shown_on, zones
from rinklog.web.access import PublicAt
from rinklog.web.rinkmap.drawing import draw
from rinklog.web.rinkmap.marks import CODES, Shape, marks
from rinklog.work.log_queries import LogFilter, log_page
from rinklog.work.models import Entry, Hazard, Kind
from rinklog.work.queries import open_hazards

MOST_HAZARDS = 100
LAST = {
    Kind.FLOOD: lazy("Last flood"),
    Kind.SNOW_REMOVAL: lazy("Snow last cleared"),
    Kind.INSPECTION: lazy("Ice last looked over"),
}


@dataclass(frozen=True)
class Done:
    """The last work of one kind."""

    title: Any
    at: dt.datetime
    coat_m: float | None
    area_m2: float


@dataclass(frozen=True)
class Cone:
    """A cone in words and with its marker, whether or not its place is on the sheet."""

    where: str
    kind: str
    severity: str
    severity_words: str
    shape: Shape
    letter: str
    holding: bool


def page_of(at: PublicAt) -> dict[str, Any]:
    """Everything the public page says."""
    opening = current_opening(at.rink, at.now)
    season = season_shown_on(at.rink, at.now.astimezone(at.zone).date())
    hazards = list(open_hazards(at.rink)[:MOST_HAZARDS]) if season else []
    coned = [hazard for hazard in hazards if hazard.cone_out]
    return {
        "rink": at.rink,
        "zone": at.zone,
        "listed": at.listed,
        "opening": opening,
        "criterion": criterion_of(at.rink, opening.grade if opening else ""),
        "drawing": draw(season.grid, zones(season.grid)) if season else None,
        "cones": [cone_of(hazard) for hazard in coned],
        "uncovered": len(hazards) - len(coned),
        "marks": marks(coned, season.grid) if season else [],
        "last": [done for kind in LAST if (done := last_done(at.rink, kind))],
        "next_flood": next_flood(at),
    }


def cone_of(hazard: Hazard) -> Cone:
    """What a stranger is told of a hazard with a cone."""
    return Cone(
        " ".join(zone.label for zone in hazard.zones.all()),
        hazard.get_kind_display(),
        hazard.severity,
        hazard.get_severity_display(),
        *CODES[hazard.kind],
        holding=hazard.state == Hazard.State.HOLDING,
    )


def next_flood(at: PublicAt) -> dt.datetime | None:
    """When the next flood shift begins, or began if it is under way; a shift called off is none. Nobody is named."""
    shifts = ahead(at.rink, at.now).filter(work=Shift.Work.FLOOD).order_by("starts_at")
    return shifts.values_list("starts_at", flat=True).first()


def criterion_of(rink: Rink, word: str) -> str:
    """What this rink means by a grade; nothing when the word is no longer one of its own."""
    return next((grade.criterion for grade in grades(rink) if grade.word == word), "") if word else ""


def last_done(rink: Rink, kind: Kind) -> Done | None:
    """The last standing entry of a kind, as far as a stranger is told."""
    entries = log_page(rink, LogFilter(kind=kind), rows=1).entries
    return told(entries[0]) if entries else None


def told(entry: Entry) -> Done:
    """An entry without its people and notes."""
    coat_m = entry.water_m3 / entry.area_m2 if entry.water_m3 and entry.area_m2 else None
    return Done(LAST[Kind(entry.kind)], entry.started_at, coat_m, entry.area_m2)
