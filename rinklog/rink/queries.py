"""Reading rinks, seasons, grids and rules. Nothing here writes."""

import datetime as dt
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.db.models import Count, Q, QuerySet, Subquery

from rinklog.rink.machine_rule import MachineRule
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
    return seasons(rink).filter(starts_on__lte=day).order_by("-starts_on").first()


def season_shown_on(rink: Rink, day: dt.date) -> Season | None:
    """The season that pages show on a day: before the first one begins, that one."""
    return season_on(rink, day) or seasons(rink).order_by("starts_on").first()


def season(rink: Rink, id: UUID) -> Season | None:
    """One season of a rink."""
    return Season.objects.select_related("grid").filter(rink=rink, id=id).first()


def seasons(rink: Rink) -> QuerySet[Season]:
    """All seasons, the latest first."""
    return Season.objects.select_related("grid").filter(rink=rink)


def zones(grid: Grid) -> list[Zone]:
    """The zones of a grid, row by row."""
    return list(Zone.objects.filter(grid=grid).order_by("row", "column"))


def grid_holding(rink: Rink, zone_ids: set[int]) -> Grid | None:
    """The grid of this rink that holds all of these zones; None when no single one does."""
    held = Grid.objects.filter(rink=rink, zones__id__in=zone_ids).annotate(found=Count("zones"))
    return held.filter(found=len(zone_ids)).first()


def rules(rink: Rink) -> list[RuleInForce]:
    """Every rule with the value in force, in the order of practice.py."""
    chosen = dict(ChosenRule.objects.filter(rink=rink).values_list("key", "value"))
    return [RuleInForce(rule, chosen.get(rule.key, rule.default), rule.key in chosen) for rule in RULES]


def rule_value(rink: Rink, key: str) -> float:
    """The value in force for one rule."""
    value = ChosenRule.objects.filter(rink=rink, key=key).values_list("value", flat=True).first()
    return BY_KEY[key].default if value is None else value


def rule_in_force(rink: Rink, key: str) -> RuleInForce | None:
    """One rule with the value in force; None for a key that practice.py does not know."""
    return next((one for one in rules(rink) if one.rule.key == key), None)


def machine_rule(rink: Rink) -> MachineRule:
    """The rule for machines in force at this rink."""
    return MachineRule(round(rule_value(rink, "machine_holes")), rule_value(rink, "machine_thickness_m"))


def bucket_tests(rink: Rink) -> QuerySet[BucketTest]:
    """All bucket tests, the latest first."""
    return BucketTest.objects.select_related("by").filter(rink=rink)


def bucket_test(rink: Rink, id: UUID) -> BucketTest | None:
    """One bucket test of a rink."""
    return bucket_tests(rink).filter(id=id).first()


def latest_flow_ls(rink: Rink) -> float | None:
    """The hose flow of the latest bucket test [l/s], or None when none was made."""
    test = BucketTest.objects.filter(rink=rink).first()
    return test.flow_ls if test else None


def phase_on(season: Season, day: dt.date) -> PhaseChange | None:
    """The phase the season was in on a day."""
    return PhaseChange.objects.filter(Q(season=season), on__lte=day).order_by("-on", "-recorded_at").first()


def phases(season: Season) -> list[PhaseChange]:
    """The phases a season went through, in order."""
    return list(PhaseChange.objects.select_related("by").filter(season=season))


def phase_change(rink: Rink, id: UUID) -> PhaseChange | None:
    """One phase change of a rink."""
    return PhaseChange.objects.filter(season__rink=rink, id=id).first()


def restarts(changes: list[PhaseChange]) -> int:
    """How often building began again: each time after the first."""
    return max(0, sum(change.phase == PhaseChange.Phase.BUILDING for change in changes) - 1)


def zones_on(season: Season, day: dt.date) -> tuple[list[Zone], set[int]]:
    """The season's zones, and the ids of those to flood first: the low spots, while the ice was built on that day."""
    latest = PhaseChange.objects.filter(season=season, on__lte=day).order_by("-on", "-recorded_at")
    known = Zone.objects.filter(grid=season.grid_id).annotate(phase=Subquery(latest.values("phase")[:1]))
    sheet: list[Any] = list(known.order_by("row", "column"))
    low = {zone.id for zone in sheet if zone.low_spot and zone.phase == PhaseChange.Phase.BUILDING}
    return sheet, low
