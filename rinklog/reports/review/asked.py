"""The questions that published practice asks at a season's end, each with what the log has to say to it."""

from collections import Counter
from typing import Any

from django.db.models import Count, Q
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.geometry.grid import zone_name
from rinklog.records.models import AccidentReport
from rinklog.records.queries import standing
from rinklog.reports.review.facts import Facts
from rinklog.reports.review.hazards import Life
from rinklog.reports.review.tables import CREW, Column, Shape, Table
from rinklog.reports.review.told import told
from rinklog.work.models import EntryZone, Hazard, Kind

# Tukes, Finland: what a season's end asks (published practice, section 3 of the sources).
QUESTIONS = (
    lazy("Where was the ice oddly thick or thin?"),
    lazy("Which spots were dangerous, and did they come back?"),
    lazy("Which near misses were there?"),
    lazy("Did the notices work?"),
    lazy("Who carried the load, and who could take some of it?"),
)
SHAPE = Shape(
    "questions",
    lazy("What to ask at the season's end"),
    (Column("question", lazy("Question")), Column("on_record", lazy("On record"))),
    readers=CREW,
)


def asked(facts: Facts, lives: list[Life], load: tuple[str, ...]) -> Table:
    """Every question with what is on record; `load` says who did how much."""
    answers: tuple[str, ...] = (
        _holes(facts), _dangers(lives), _misses(facts), _notices(lives), load[0] if load else "",
    )  # fmt: skip
    rows = [
        (told(lambda question=question: str(question)), answer or told(lambda: _("nothing")))  # type: ignore[misc]
        for question, answer in zip(QUESTIONS, answers, strict=True)
    ]
    note = _("The log only helps to remember: the crew answers. Questions: Tukes, Finland.")
    return Table.of(SHAPE, rows, [note])


def _holes(facts: Facts) -> str:
    """The thinnest and the thickest hole drilled."""
    holes = EntryZone.objects.filter(
        entry__season=facts.span.season, entry__state="standing", entry__kind=Kind.DRILL_HOLE
    )
    rows = holes.order_by("entry__started_at").values_list("zone__row", "zone__column", "entry__details")
    depths = [(1000 * _ice_m(details), zone_name(row, column)) for row, column, details in rows]
    if not depths:
        return ""
    (thin, thin_zone), (thick, thick_zone) = min(depths), max(depths)
    said = {"n": len(depths), "thin": thin, "thin_zone": thin_zone, "thick": thick, "thick_zone": thick_zone}
    return told(
        lambda: (
            _(
                "Holes drilled: %(n)d; thinnest %(thin).0f mm in %(thin_zone)s, "
                "thickest %(thick).0f mm in %(thick_zone)s."
            )
            % said
        )
    )


def _ice_m(details: dict[str, Any]) -> float:
    return (details.get("clear_ice_m") or 0.0) + (details.get("white_ice_m") or 0.0)


def _dangers(lives: list[Life]) -> str:
    bad = sum(life.severity == Hazard.Severity.DANGER for life in lives)
    back = Counter({life.number: life.comebacks for life in lives if life.comebacks})
    if not lives:
        return ""
    worst = ", ".join(f"{number} ({times}×)" for number, times in back.most_common(3)) or "–"
    said = {"bad": bad, "all": len(lives), "back": len(back), "worst": worst}
    return told(
        lambda: (
            _("Hazards: %(all)d, of them %(bad)d dangerous; %(back)d came back, most often number %(worst)s.")
            % said
        )
    )


def _misses(facts: Facts) -> str:
    reports = standing(AccidentReport, facts.span.season.rink).filter(season=facts.span.season).order_by()
    counted = reports.aggregate(near=Count("id", filter=Q(near_miss=True)), all=Count("id"))
    if not counted["all"]:
        return ""
    said = {"near": counted["near"], "accidents": counted["all"] - counted["near"]}
    return told(lambda: _("Near misses reported: %(near)d; accidents: %(accidents)d.") % said)


def _notices(lives: list[Life]) -> str:
    """How long hazards lay without a cone."""
    open_s, bare_s = sum(life.open_s for life in lives), sum(life.unmarked_s for life in lives)
    if not open_s:
        return ""
    said = {"hours": bare_s / 3600, "share": 100 * bare_s / open_s}
    return told(
        lambda: (
            _("Hazards lay open without a cone for %(hours).0f h, %(share).0f %% of the time they were open.")
            % said
        )
    )
