"""Flood practice: which coats, hours, air and wind went with spoilt floods; counts with intervals, a model if enough."""

import datetime as dt
from collections import defaultdict
from collections.abc import Callable, Iterator
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.reports.review.floods import GOOD, SPOILT, Judged
from rinklog.reports.review.tables import Column, Shape, Table
from rinklog.reports.review.told import told
from rinklog.survival.logistic import A_VARIABLE, effects
from rinklog.survival.shares import wilson

PRACTICE_SHAPE = Shape(
    "flood-practice",
    lazy("Which floods were spoilt"),
    (
        Column("by", lazy("By"), said=True),
        Column("where", lazy("Where")),
        Column("good", lazy("Good"), digits=0),
        Column("spoilt", lazy("Spoilt"), digits=0),
        Column("share", lazy("Spoilt"), "%", 0),
        # xgettext:no-python-format
        Column("low", lazy("95 % from"), "%", 0),
        Column("high", lazy("to"), "%", 0),
    ),
)
MODEL_SHAPE = Shape(
    "flood-model",
    lazy("What goes with a spoilt flood"),
    (
        Column("variable", lazy("One more")),
        Column("odds_ratio", lazy("Odds times"), digits=2),
        # xgettext:no-python-format
        Column("low", lazy("95 % from"), digits=2),
        Column("high", lazy("to"), digits=2),
    ),
)
Value = Callable[[Judged], float | None]


def practice(judged: list[Judged], zone: dt.tzinfo) -> list[Table]:
    """The counts, and the model where there are enough of both outcomes."""
    seen = [one for one in judged if one.outcome in (GOOD, SPOILT)]
    rows = [row for variable in _variables(zone) for row in _counts(seen, *variable)]
    note = _(
        "Only floods that somebody looked at count. Intervals: Wilson 1927. What went together need not cause it."
    )
    return [Table.of(PRACTICE_SHAPE, rows, [note] if seen else []), _model(seen, zone)]


def _variables(zone: dt.tzinfo) -> Iterator[tuple[str, str, Value, tuple[float, ...]]]:
    """(heading, unit, value, limits of the classes), the likeliest first: the model takes them in this order."""
    yield _("coat"), "mm", lambda one: one.coat_mm, (2.0, 4.0, 8.0)
    yield _("air"), "°C", lambda one: one.air_c, (-15.0, -10.0, -5.0, 0.0)
    yield _("wind"), "m/s", lambda one: one.wind_ms, (3.0, 6.0)
    yield _("hours after 16:00"), "h", lambda one: _after_four(one, zone), (4.0, 8.0, 14.0)


def _after_four(one: Judged, zone: dt.tzinfo) -> float:
    """Hours from 16:00 to the start, on the rink's clock: evening and night in one piece."""
    local = dt.datetime.fromtimestamp(one.entry.started_s, zone)
    return (local.hour + local.minute / 60 - 16) % 24


def _counts(
    seen: list[Judged], by: str, unit: str, value: Value, limits: tuple[float, ...]
) -> Iterator[tuple[Any, ...]]:
    counts: dict[int, list[int]] = defaultdict(lambda: [0, 0])
    for one in seen:
        known = value(one)
        if known is not None:
            counts[sum(known >= limit for limit in limits)][one.outcome == SPOILT] += 1
    for place in sorted(counts):
        good, spoilt = counts[place]
        low, high = wilson(spoilt, good + spoilt)
        share = 100 * spoilt / (good + spoilt)
        yield by, _between(place, limits, unit), good, spoilt, share, 100 * low, 100 * high


def _between(place: int, limits: tuple[float, ...], unit: str) -> str:
    if place == 0:
        return f"< {limits[0]:g} {unit}"
    if place == len(limits):
        return f"≥ {limits[-1]:g} {unit}"
    return f"{limits[place - 1]:g} … {limits[place]:g} {unit}"


def _named(unit: str, by: str) -> str:
    return told(lambda: f"{unit}, {_(by)}")


def _model(seen: list[Judged], zone: dt.tzinfo) -> Table:
    variables = list(_variables(zone))
    whole = [one for one in seen if all(value(one) is not None for _by, _unit, value, _limits in variables)]
    spoilt = [one.outcome == SPOILT for one in whole]
    rarer = min(sum(spoilt), len(spoilt) - sum(spoilt))
    used = variables[: rarer // A_VARIABLE]
    names = [_named(unit, by) for by, unit, _value, _limits in used]
    rows = [[float(value(one) or 0.0) for _by, _unit, value, _limits in used] for one in whole]
    found = effects(names, rows, spoilt)
    if found is None:
        missing = max(1, A_VARIABLE - rarer)
        said = {"n": missing, "rarer": rarer}
        note = told(
            lambda: (
                _(
                    "Not enough to tell for a model: %(rarer)d of the rarer outcome; about %(n)d more would do."
                )
                % said
            )
        )
        return Table.of(MODEL_SHAPE, [], [note])
    note = told(
        lambda: (
            _(
                "Logistic model with the first %(n)d variables, ten of the rarer outcome for each; "
                "95 %% Wald intervals."
            )
            % {"n": len(found)}
        )
    )
    shown = [(one.name, one.odds_ratio, one.low, one.high) for one in found]
    return Table.of(MODEL_SHAPE, shown, [note])
