"""When the forecast suits a task: before the ground freezes, in calm, with the cold, with the thaw. Pure rules."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from rinklog.advice.fill.liner import calm_stretches
from rinklog.advice.fill.sky import Day, Sky
from rinklog.advice.fill.start_run import best_run, own_rule

# Two nights in a row as cold as this make the top of wet ground hard enough to stop a stake: common practice, no source.
HARD_NIGHT_C = -3.0
NIGHTS = 2


@dataclass(frozen=True)
class Suits:
    """The day that suits, or by which it must be done; the hours of that day where they are known."""

    on: dt.date
    by_then: bool = False
    starts_at: dt.datetime | None = None
    ends_at: dt.datetime | None = None


def suits(
    days: Sequence[Day], ahead: Sequence[Sky], rules: Mapping[str, float], zone: ZoneInfo
) -> dict[str, Suits]:
    """What the forecast says to each kind of day that a task can wait for; a kind that it does not show is left out.

    Arguments: days noon to noon and hours, from now on; rules in force at the rink; its zone. Returns: by SiteTask.When.
    """
    found: dict[str, Suits] = {}
    if (hard := first_run(days, lambda day: day.low_c <= HARD_NIGHT_C)) is not None:
        found["before-frost"] = Suits(hard, by_then=True)
    calm = calm_stretches(ahead, zone, rules["liner_wind_ms"])
    if calm:
        starts, ends = calm[0].starts_at, calm[0].ends_at
        found["calm"] = Suits(starts.astimezone(zone).date(), starts_at=starts, ends_at=ends)
    run = best_run(days, own_rule(rules["start_night_c"], round(rules["start_nights"])))
    if run.enough:
        found["cold-run"] = Suits(run.days[0].on)
    if (mild := first_run(days, lambda day: day.low_c > 0)) is not None:
        found["thaw"] = Suits(mild)
    return found


def first_run(days: Sequence[Day], is_so) -> dt.date | None:  # type: ignore[no-untyped-def]
    """The first of NIGHTS days in a row of which something is so; a day that is missing ends a row."""
    row: list[dt.date] = []
    for day in days:
        if not is_so(day):
            row = []
            continue
        if row and day.on - row[-1] != dt.timedelta(days=1):
            row = []
        row.append(day.on)
        if len(row) == NIGHTS:
            return row[0]
    return None
