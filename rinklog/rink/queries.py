"""Reading rinks, seasons, grids and rules. Nothing here writes."""

import datetime as dt
from dataclasses import dataclass

from django.db.models import Q, QuerySet

from rinklog.rink.models import BucketTest, ChosenRule, Grid, PhaseChange, Rink, Season, Zone
from rinklog.rink.practice import BY_KEY, RULES, Rule


@dataclass(frozen=True)
class RuleInForce:
    """A rule with the value this rink works by."""

    rule: Rule
    value: float
    chosen: bool


def season_on(rink: Rink, day: dt.date) -> Season | None:
    """The season that `day` (rink-local) falls in, else the latest one begun before it."""
    return (
        Season.objects.select_related("grid")
        .filter(rink=rink, starts_on__lte=day)
        .order_by("-starts_on")
        .first()
    )


def seasons(rink: Rink) -> QuerySet[Season]:
    """All seasons, the latest first."""
    return Season.objects.select_related("grid").filter(rink=rink)


def zones(grid: Grid) -> list[Zone]:
    """The zones of a grid, row by row."""
    return list(Zone.objects.filter(grid=grid).order_by("row", "column"))


def rules(rink: Rink) -> list[RuleInForce]:
    """Every rule with the value in force, in the order of practice.py."""
    chosen = dict(ChosenRule.objects.filter(rink=rink).values_list("key", "value"))
    return [RuleInForce(rule, chosen.get(rule.key, rule.default), rule.key in chosen) for rule in RULES]


def rule_value(rink: Rink, key: str) -> float:
    """The value in force for one rule."""
    value = ChosenRule.objects.filter(rink=rink, key=key).values_list("value", flat=True).first()
    return BY_KEY[key].default if value is None else value


def latest_flow_ls(rink: Rink) -> float | None:
    """The hose flow of the latest bucket test [l/s], or None when none was made."""
    test = BucketTest.objects.filter(rink=rink).first()
    return test.flow_ls if test else None


def phase_on(season: Season, day: dt.date) -> PhaseChange | None:
    """The phase the season was in on a day."""
    return PhaseChange.objects.filter(Q(season=season), on__lte=day).order_by("-on", "-recorded_at").first()
