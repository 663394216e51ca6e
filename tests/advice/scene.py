"""Situations for the tests of the rules: plain inputs, no database."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import replace
from typing import Any
from zoneinfo import ZoneInfo

from rinklog.advice.items import FrozenBy, Item, Window
from rinklog.advice.rules import advice
from rinklog.advice.situation import HazardNow, HourAhead, Range, Situation, ZoneNow
from rinklog.rink.practice import RULES

# 18:30 in Oslo
NOW = dt.datetime(2026, 1, 15, 17, 30, tzinfo=dt.UTC)
HOUR = dt.timedelta(hours=1)
FULL_HOUR = NOW.replace(minute=0)
DEFAULTS = {rule.key: rule.default for rule in RULES}


def exactly(value: float) -> Range:
    """A value that is known without spread."""
    return Range(value, value, value)


def zone(number: int = 1, **known: Any) -> ZoneNow:
    """A zone with 12 cm of dry ice, or as told."""
    usual = {"thickness_m": exactly(0.12), "wet_m": exactly(0.0), "snow_m": exactly(0.0)}
    return ZoneNow(id=number, label=f"A{number}", area_m2=50.0, **(usual | known))


def hours(
    air_c: Iterable[float] | float, first: dt.datetime = FULL_HOUR, **same: Any
) -> tuple[HourAhead, ...]:
    """Hours one after another; a single temperature is held for three days."""
    series = [air_c] * 72 if isinstance(air_c, int | float) else list(air_c)
    return tuple(HourAhead(at=first + n * HOUR, air_c=value, **same) for n, value in enumerate(series))


def hazard(**known: Any) -> HazardNow:
    """A bump that can trip, found an hour ago, without a cone; or as told."""
    usual: dict[str, Any] = {
        "id": "7", "number": 7, "kind": "bump", "severity": "trip", "state": "found", "cone_out": False,
        "found_at": NOW - HOUR, "zones": ("A3",), "zone_ids": (3,),
    }  # fmt: skip
    return HazardNow(**(usual | known))


def window(**known: Any) -> Window:
    """A window at 20:00 in Oslo, frozen by 23:00, or as told."""
    start = known.get("starts_at", NOW.replace(hour=19, minute=0))
    usual: dict[str, Any] = {
        "id": "w1", "starts_at": start, "coat_mm": 4.0, "chance": 0.9, "deadline": start + 12 * HOUR,
        "frozen_by": FrozenBy(start + 2 * HOUR, start + 3 * HOUR, start + 4 * HOUR),
    }  # fmt: skip
    return Window(**(usual | known))


def scene(**known: Any) -> Situation:
    """A cold dry evening on a rink where people skate, or as told."""
    rules = DEFAULTS | known.pop("rules", {})
    usual: dict[str, Any] = {"zones": (zone(),), "hours": hours(-10.0)}
    base = Situation(now=NOW, zone=ZoneInfo("Europe/Oslo"), rules=rules)
    return replace(base, **(usual | known))


def item(key: str, situation: Situation) -> Item | None:
    """The item of that key, or None."""
    return next((one for one in advice(situation) if one.key == key), None)


def whys(one: Item | None) -> set[str]:
    """The ids of an item's reasons."""
    assert one is not None
    return {why.id for why in one.why}
