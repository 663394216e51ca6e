"""When work falls due: an RFC 5545 rule on the rink's own clock.

The rule runs over wall-clock times, and each is then found on the rink's clock (RFC 5545, section 3.3.10): a time
that the clock skips is read with the offset before the change, of a time that comes twice the first counts.
"""

import datetime as dt
import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from itertools import islice
from zoneinfo import ZoneInfo

from dateutil.rrule import rrule, rrulestr

from rinklog import clock

LONGEST = dt.timedelta(days=366 * 12)
"""A rule is followed this far from its beginning; one that has not occurred until then never does."""
MOST_DATES = 1500
FREQUENCIES = ("DAILY", "WEEKLY", "MONTHLY", "YEARLY")
PART = re.compile(r"[A-Z]+=[A-Z0-9,+\-]+")


class BadRule(ValueError):
    """A rule that cannot stand; `key` says why: unreadable, frequency, both-ends, for-ever, ends-first, never, many."""

    def __init__(self, key: str, value: str = "") -> None:
        super().__init__(f"{key}: {value}")
        self.key, self.value = key, value


@dataclass(frozen=True)
class Recurrence:
    """A rule from its first date on: RRULE text, date and wall-clock time of the beginning, dates left out."""

    rule: str
    begins_on: dt.date
    at: dt.time
    zone: ZoneInfo
    except_on: frozenset[dt.date] = frozenset()

    @property
    def begins(self) -> dt.datetime:
        """DTSTART as the rink's clock shows it."""
        return dt.datetime.combine(self.begins_on, self.at)


def parts_of(rule: str) -> dict[str, str]:
    """The parts of an RRULE, with or without its name. Errors: BadRule."""
    text = rule.strip().upper().removeprefix("RRULE:").rstrip(";")
    pieces = text.split(";")
    if not text or not all(PART.fullmatch(piece) for piece in pieces):
        raise BadRule("unreadable", rule)
    parts = dict(piece.split("=", 1) for piece in pieces)
    if len(parts) != len(pieces):
        raise BadRule("unreadable", rule)
    return parts


def walls(recurrence: Recurrence) -> Iterator[dt.datetime]:
    """Every wall-clock time of a rule, exceptions left out, as long as it is followed. Errors: BadRule."""
    parts = parts_of(recurrence.rule)
    count, until = parts.pop("COUNT", None), parts.pop("UNTIL", None)
    furthest = recurrence.begins + LONGEST
    last = min(furthest, _until(until, recurrence.zone)) if until else furthest
    found = islice(_rule(parts, recurrence.begins, last), _number(count) if count else None)
    return (wall for wall in found if wall.date() not in recurrence.except_on)


def dates(recurrence: Recurrence, start: dt.datetime, end: dt.datetime) -> list[dt.datetime]:
    """The moments [UTC] of a rule with start <= moment < end. Errors: BadRule."""
    found = []
    for wall in walls(recurrence):
        moment = clock.from_local(wall, recurrence.zone, "first")
        if moment >= end:
            break
        if moment >= start:
            found.append(moment)
    return found


def check(recurrence: Recurrence) -> int:
    """How many dates a sound rule has. Errors: BadRule for one that never occurs, never ends, or ends first."""
    parts = parts_of(recurrence.rule)
    if parts.get("FREQ") not in FREQUENCIES:
        raise BadRule("frequency", parts.get("FREQ", ""))
    if "COUNT" in parts and "UNTIL" in parts:
        raise BadRule("both-ends", recurrence.rule)
    if "COUNT" not in parts and "UNTIL" not in parts:
        raise BadRule("for-ever", recurrence.rule)
    if "UNTIL" in parts and _until(parts["UNTIL"], recurrence.zone) < recurrence.begins:
        raise BadRule("ends-first", parts["UNTIL"])
    try:
        number = sum(1 for _wall in islice(walls(recurrence), MOST_DATES + 1))
    except (ValueError, TypeError, IndexError, KeyError) as error:
        raise error if isinstance(error, BadRule) else BadRule("unreadable", recurrence.rule) from None
    if not number:
        raise BadRule("never", recurrence.rule)
    if number > MOST_DATES:
        raise BadRule("many", str(MOST_DATES))
    return number


def wanted_parts(parts: Collection[tuple[str, str]]) -> str:
    """An RRULE from its parts, those without a value left out."""
    return ";".join(f"{name}={value}" for name, value in parts if value)


def _rule(parts: dict[str, str], begins: dt.datetime, last: dt.datetime) -> rrule:
    text = ";".join(f"{name}={value}" for name, value in parts.items())
    ended = f"{text};UNTIL={last:%Y%m%dT%H%M%S}"
    try:
        made = rrulestr(ended, dtstart=begins)
    except (ValueError, TypeError, KeyError, IndexError, AttributeError):
        raise BadRule("unreadable", text) from None
    if not isinstance(made, rrule):
        raise BadRule("unreadable", text)
    return made


def _until(text: str, zone: ZoneInfo) -> dt.datetime:
    """The last wall-clock time: a date means all of that day, a time in UTC is read on the rink's clock."""
    try:
        if re.fullmatch(r"\d{8}", text):
            return dt.datetime.combine(dt.datetime.strptime(text, "%Y%m%d").date(), dt.time(23, 59, 59))
        wall = dt.datetime.strptime(text.removesuffix("Z"), "%Y%m%dT%H%M%S")
    except ValueError:
        raise BadRule("unreadable", f"UNTIL={text}") from None
    return clock.local(wall.replace(tzinfo=dt.UTC), zone).replace(tzinfo=None) if text.endswith("Z") else wall


def _number(text: str) -> int:
    if not text.isdigit() or int(text) < 1:
        raise BadRule("unreadable", f"COUNT={text}")
    return int(text)
