"""When a message may go out: quiet hours by the rink's clock, and gathering into a digest.

Quiet hours are spans between instants, so that a clock change never rings anybody early: where the clock shows a time
twice, quiet begins at the first reading and ends at the second; where it skips one, both move to the end of the gap.
"""

import datetime as dt
from zoneinfo import ZoneInfo

from rinklog.clock import first_showing, last_showing, local

EVENING = dt.time(17)
"""Rink-local hour of the daily digest: before the evening's work, common practice, no source."""


def after_quiet(at: dt.datetime, zone: ZoneInfo, quiet_from: dt.time, quiet_to: dt.time) -> dt.datetime:
    """The first moment from `at` on that is not quiet. Arguments: at [aware], zone, from and to [local times, different].

    Returns: [aware]; `at` itself outside quiet hours.
    """
    today = local(at, zone).date()
    overnight = dt.timedelta(days=1 if quiet_to <= quiet_from else 0)
    for day in (today - dt.timedelta(days=1), today):
        start = first_showing(day, quiet_from, zone)
        end = last_showing(day + overnight, quiet_to, zone)
        if start <= at < end:
            return end
    return at


def gathered_until(at: dt.datetime, zone: ZoneInfo, gather: str) -> dt.datetime:
    """When messages gathered from `at` on go out together. Arguments: at [aware], zone, gather [Wishes.Gather].

    Returns: [aware]: `at`, the next full hour, or the next 17:00 of the rink's clock.
    """
    if gather == "hour":
        whole = at.replace(minute=0, second=0, microsecond=0)
        return whole if whole == at else whole + dt.timedelta(hours=1)
    if gather == "evening":
        today = local(at, zone).date()
        evenings = (first_showing(today + dt.timedelta(days=n), EVENING, zone) for n in (0, 1))
        return next(evening for evening in evenings if evening >= at)
    return at
