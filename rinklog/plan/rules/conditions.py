"""Whether recurring work is wanted on a date: "only when" it is cold, calm and dry enough, the coat is frozen, it is due.

A condition that cannot be judged, because nothing is known, lets nothing go: a person sees the date and decides.
"""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

SNOW_FALLS_MM = 0.05
"""Water in an hour [mm] from which something falls; feeds step by 0.1 mm. Common practice, no source."""


@dataclass(frozen=True)
class HourSeen:
    """One hour of weather, observed or foretold."""

    at: dt.datetime
    air_c: float | None = None
    wind_ms: float | None = None
    precip_mm: float | None = None


@dataclass(frozen=True)
class Seen:
    """What is known about the span of a date: its hours, whether a coat is wet, days since the last time."""

    hours: Sequence[HourSeen] = ()
    coat_is_wet: bool | None = None
    days_since: float | None = None  # None: never done


@dataclass(frozen=True)
class Reason:
    """Why a date is let go: the condition, what it asked, what was found, and when."""

    key: str
    asked: float | bool
    found: float | bool
    at: dt.datetime | None = None

    def as_json(self) -> dict[str, Any]:
        """For the database."""
        return {
            "key": self.key,
            "asked": self.asked,
            "found": self.found,
            "at": self.at.isoformat() if self.at else None,
        }


def let_go(only_when: dict[str, Any], seen: Seen) -> Reason | None:
    """Why a date need not be done; None while every condition holds or cannot be judged.

    Keys: colder_than_c, calmer_than_ms, no_snow (true), coat_frozen (true), days_since. The weather must suit in one
    and the same hour of the span; the reason names the first condition that fails in the hour nearest to suiting.
    """
    for key, judge in (("coat_frozen", _coat), ("days_since", _since)):
        if only_when.get(key) and (reason := judge(only_when, seen)):
            return reason
    asked = [(key, only_when[key]) for key in HOURLY if only_when.get(key) not in (None, False)]
    if not asked or not seen.hours:
        return None
    failures = [
        [(key, limit) for key, limit in asked if not HOURLY[key].holds(limit, hour)] for hour in seen.hours
    ]
    if any(not failed for failed in failures):
        return None
    nearest = min(range(len(failures)), key=lambda at: len(failures[at]))
    key, limit = failures[nearest][0]
    best = min(seen.hours, key=lambda hour: HOURLY[key].measure(hour))
    return Reason(key, limit, HOURLY[key].found(best), best.at)


@dataclass(frozen=True)
class _Hourly:
    """A condition on one hour: its measure is what must stay small."""

    measure: Callable[[HourSeen], float]

    def holds(self, limit: Any, hour: HourSeen) -> bool:
        """Whether the hour suits; an hour that says nothing suits."""
        measured = self.measure(hour)
        return measured == UNKNOWN or measured < (SNOW_FALLS_MM if limit is True else limit)

    def found(self, hour: HourSeen) -> float:
        """What was measured."""
        return self.measure(hour)


UNKNOWN = float("-inf")


def _of(value: float | None) -> float:
    return UNKNOWN if value is None else value


HOURLY: dict[str, _Hourly] = {
    "colder_than_c": _Hourly(lambda hour: _of(hour.air_c)),
    "calmer_than_ms": _Hourly(lambda hour: _of(hour.wind_ms)),
    "no_snow": _Hourly(lambda hour: _of(hour.precip_mm)),
}


def _coat(only_when: dict[str, Any], seen: Seen) -> Reason | None:
    return Reason("coat_frozen", True, False) if seen.coat_is_wet else None


def _since(only_when: dict[str, Any], seen: Seen) -> Reason | None:
    asked = float(only_when["days_since"])
    if seen.days_since is None or seen.days_since >= asked:
        return None
    return Reason("days_since", asked, seen.days_since)
