"""What worked: how long repairs held, by defect and method, and which method held longer.

The unit is one repair of one hazard. A repair is known only when somebody looks: it failed somewhere between the last
look that found it holding and the look that found it back. It is censored when its hazard was repaired again or closed,
or where the season ends; a flood over it censors nothing, because the spot stays where it is and is looked at again.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy
from django.utils.translation import ngettext

from rinklog.reports.review.span import Span
from rinklog.reports.review.tables import Column, Shape, Table
from rinklog.reports.review.told import told
from rinklog.reports.review.weather import Winter
from rinklog.rink.models import Zone
from rinklog.survival.compare import LEAST_CASES, Pair, compare
from rinklog.survival.kaplan_meier import Step, kaplan_meier
from rinklog.survival.turnbull import Interval, Piece, median_stretch, survival_at, turnbull
from rinklog.work.spell_queries import Spell, spells

WEEK_DAYS = 7.0
DAY_S = 86400.0
METHOD = Column("method", lazy("Method"), words="method")
DEFECT = Column("defect", lazy("Defect"), words="hazard")
HELD_SHAPE = Shape(
    "held",
    lazy("How long repairs held"),
    (
        DEFECT,
        METHOD,
        Column("repairs", lazy("Repairs"), digits=0),
        Column("hazards", lazy("Hazards"), digits=0),
        Column("failed", lazy("Came back"), digits=0),
        Column("half_failed", lazy("Half had failed, between looks"), "days"),
        Column("held_a_week", lazy("Held a week"), "%", 0),
        Column("held_a_week_middle", lazy("the same by middles"), "%", 0),
        Column("low", lazy("at least"), "%", 0),
        Column("high", lazy("at most"), "%", 0),
        Column("h_per_day", lazy("Hours per day held"), "h", 3),
        Column("l_per_day", lazy("Litres per day held"), "l", 1),
    ),
)
PAIRS_SHAPE = Shape(
    "held-compared",
    lazy("Which held longer"),
    (
        DEFECT,
        Column("better", lazy("Longer, as seen"), words="method"),
        Column("worse", lazy("Shorter, as seen"), words="method"),
        Column("verdict", lazy("Verdict"), said=True),
        Column("ratio", lazy("Failed so many times as fast"), digits=2),
        Column("chi2", lazy("Log-rank chi²"), digits=3),
        Column("chance", lazy("Chance p"), digits=6),
        Column("corrected", lazy("p, corrected (Holm)"), digits=6),
    ),
)
CURVES_SHAPE = Shape(
    "held-curves",
    lazy("Share still holding, by middles of the intervals"),
    (
        DEFECT,
        METHOD,
        Column("day", lazy("Day"), digits=2),
        Column("at_risk", lazy("Watched"), digits=0),
        Column("failed", lazy("Came back"), digits=0),
        Column("holding", lazy("Still holding"), digits=4),
        # xgettext:no-python-format
        Column("low", lazy("95 % from"), digits=4),
        Column("high", lazy("to"), digits=4),
    ),
)
PIECES_SHAPE = Shape(
    "held-intervals",
    lazy("Share still holding, between looks"),
    (
        DEFECT,
        METHOD,
        Column("from_day", lazy("From day"), digits=2),
        Column("to_day", lazy("to day"), digits=2),
        Column("failed_between", lazy("Failed in between"), digits=4),
        Column("holding", lazy("Still holding then"), digits=4),
    ),
)
STRATA_SHAPE = Shape(
    "held-where",
    lazy("In which weather, coat and sun"),
    (
        DEFECT,
        METHOD,
        Column("by", lazy("By"), said=True),
        Column("where", lazy("Where"), said=True),
        Column("repairs", lazy("Repairs"), digits=0),
        Column("failed", lazy("Came back"), digits=0),
        Column("held_a_week", lazy("Held a week"), "%", 0),
    ),
)
NOTES = (
    lazy("Unit: one repair of one hazard, of this and all earlier seasons of this rink."),
    lazy(
        # xgettext:no-python-format
        "A repair is known only when somebody looks. It failed between the last look that found it good and the look "
        "that found it back (Turnbull 1976); the column by middles takes the middle of that time (Kaplan–Meier, with "
        "95 % log-log bands)."
    ),
    lazy(
        "Censored: repaired again, closed, or the season ended first. A flood over it does not censor, as long as "
        "people can see the spot and say how it is; where nobody can see it any more, close the hazard: that censors. "
        "A repair nobody looked at again counts as held to its season's end."
    ),
    lazy(
        "Threats: harder bumps get the torch, so a method may look worse for the defects it is given; repairs on one "
        "hazard are not independent; a method looked at more often is seen to fail sooner; nobody drew lots."
    ),
)
Groups = dict[tuple[str, str], list[Spell]]
Pieces = dict[tuple[str, str], list[Piece]]


def worked(span: Span, winter: Winter, zones: Mapping[int, Zone]) -> list[Table]:
    """The tables of what worked, of every season up to this one."""
    until = span.bounds[1]
    groups = grouped(one for one in spells(span.season.rink, until=until) if one.repaired_at < until)
    pieces = {key: turnbull(map(interval, group)) for key, group in groups.items()}
    steps = {key: kaplan_meier(one.days for one in group) for key, group in groups.items()}
    held = [_held(key, groups[key], pieces[key], steps[key]) for key in groups]
    return [
        Table.of(HELD_SHAPE, held, _notes(groups)),
        compared(groups),
        Table.of(CURVES_SHAPE, [_step(key, step) for key, group in steps.items() for step in group]),
        Table.of(PIECES_SHAPE, [_piece(key, piece) for key, group in pieces.items() for piece in group]),
        Table.of(STRATA_SHAPE, list(_strata(groups, pieces, winter, zones))),
    ]


def grouped(known: Iterable[Spell]) -> Groups:
    """Repairs by (defect, method), in that order."""
    groups: Groups = defaultdict(list)
    for one in sorted(known, key=lambda one: (one.defect, one.method)):
        groups[one.defect, one.method].append(one)
    return groups


def compared(groups: Groups) -> Table:
    """Which of every two methods on one defect held longer, as far as that can be told."""
    pairs = compare({key: [one.days for one in group] for key, group in groups.items()})
    return Table.of(PAIRS_SHAPE, [_compared(pair) for pair in pairs], _about(pairs))


def interval(spell: Spell) -> Interval:
    """When it failed [days after the repair], as far as anybody knows."""
    if spell.failed_at is None:
        return Interval(spell.held_s / DAY_S, float("inf"))
    return Interval(
        _days(spell.repaired_at, spell.seen_good_last_at), _days(spell.repaired_at, spell.failed_at)
    )


def _days(start: dt.datetime, end: dt.datetime) -> float:
    return max(0.0, (end - start).total_seconds() / DAY_S)


def _held(
    key: tuple[str, str], group: list[Spell], pieces: list[Piece], steps: list[Step]
) -> tuple[Any, ...]:
    days = sum(one.held_s for one in group) / DAY_S
    half = median_stretch(pieces)
    week = next((step for step in reversed(steps) if step.time <= WEEK_DAYS), None)
    return (
        *key,
        len(group),
        len({one.hazard_id for one in group}),
        sum(one.failed for one in group),
        f"{half[0]:.1f}–{half[1]:.1f}" if half else None,
        100 * survival_at(pieces, WEEK_DAYS),
        100 * (week.survival if week else 1.0),
        100 * week.low if week else None,
        100 * week.high if week else None,
        sum(one.minutes for one in group) / 60 / days if days else None,
        1000 * sum(one.water_m3 for one in group) / days if days else None,
    )


def _notes(groups: Groups) -> list[object]:
    if not groups:
        return [_("No repair of a hazard is written down yet: name the hazard when you log a repair.")]
    return list(NOTES)


def _compared(pair: Pair) -> tuple[Any, ...]:
    if pair.told:
        said = _("held longer than the other")
    else:
        said = told(
            lambda: _("Not enough to tell: about %(n)d more repairs of each would do") % {"n": pair.more}
        )
    return (
        pair.defect, pair.better, pair.worse, said, pair.ratio, pair.chi2, pair.chance, pair.corrected,
    )  # fmt: skip


def _about(pairs: list[Pair]) -> list[str]:
    tried = sum(pair.compared for pair in pairs)
    if not pairs:
        return [_("No defect was repaired in two ways yet: nothing can be compared.")]
    return [
        told(
            lambda: (
                ngettext(
                    "%(n)d pair compared by log-rank, p corrected for all of them (Holm 1979); a pair needs %(least)d "
                    "repairs of each method. How many more: if the difference is as seen (between 1.5 and 4 times), "
                    "with 80 %% power (Schoenfeld 1981).",
                    "%(n)d pairs compared by log-rank, p corrected for all of them (Holm 1979); a pair needs %(least)d "
                    "repairs of each method. How many more: if the difference is as seen (between 1.5 and 4 times), "
                    "with 80 %% power (Schoenfeld 1981).",
                    tried,
                )
                % {"n": tried, "least": LEAST_CASES}
            )
        )
    ]


def _step(key: tuple[str, str], step: Step) -> tuple[Any, ...]:
    return (*key, step.time, step.at_risk, step.failed, step.survival, step.low, step.high)


def _piece(key: tuple[str, str], piece: Piece) -> tuple[Any, ...]:
    if piece.until == float("inf"):  # what was never seen to fail
        return (*key, piece.after, None, None, piece.mass)
    return (*key, piece.after, piece.until, piece.mass, piece.survival)


SUN = {choice.value: choice.label for choice in Zone.Sun}


def _strata(groups: Groups, whole: Pieces, winter: Winter, zones: Mapping[int, Zone]) -> Any:
    """Each group split by weather, coat and sun, where a part holds enough repairs."""
    for key, group in groups.items():
        for by, part_of in ((_("air"), _air(winter)), (_("coat"), _coat(zones)), (_("sun"), _sun(zones))):
            parts: dict[str, list[Spell]] = defaultdict(list)
            for one in group:
                parts[part_of(one)].append(one)
            for where, part in sorted(parts.items()):
                if where and len(part) >= LEAST_CASES:
                    pieces = whole[key] if len(part) == len(group) else turnbull(map(interval, part))
                    failed, held = sum(one.failed for one in part), survival_at(pieces, WEEK_DAYS)
                    yield *key, by, where, len(part), failed, 100 * held


def _air(winter: Winter) -> Any:
    def part_of(one: Spell) -> str:
        if not winter.hours:
            return ""
        start = one.repaired_at.timestamp()
        airs = [hour.air_c for hour in winter.between(start, start + DAY_S) if hour.air_c is not None]
        if not airs:
            return ""
        mean = sum(airs) / len(airs)
        return _("below −10 °C") if mean < -10 else _("−10 to 0 °C") if mean < 0 else _("above 0 °C")

    return part_of


def _coat(zones: Mapping[int, Zone]) -> Any:
    def part_of(one: Spell) -> str:
        area = sum(zones[id].area_m2 for id in one.zone_ids if id in zones)
        if not one.water_m3 or not area:
            return _("no water")
        return _("under 3 mm") if one.water_m3 / area < 0.003 else _("3 mm and more")

    return part_of


def _sun(zones: Mapping[int, Zone]) -> Any:
    def part_of(one: Spell) -> str:
        seen = {zones[id].sun for id in one.zone_ids if id in zones}
        return str(SUN[seen.pop()]) if len(seen) == 1 else ""

    return part_of
