"""Laying a liner: hours in a row in which it is calm, dry and not too dark to see the folds."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from rinklog.advice.fill.sky import Sky

HOUR = dt.timedelta(hours=1)
# Common practice, no source: an afternoon's work for a crew, by daylight.
LAYING_HOURS = 3
DAYLIGHT = range(8, 17)


@dataclass(frozen=True)
class Calm:
    """A stretch in which a liner can be laid, and the strongest wind foretold in it [m/s]."""

    starts_at: dt.datetime
    ends_at: dt.datetime
    blows_ms: float


def calm_stretches(skies: Sequence[Sky], zone: ZoneInfo, limit_ms: float) -> list[Calm]:
    """Stretches of at least LAYING_HOURS hours by day with wind and gusts below a limit and nothing falling.

    An hour of which the wind is not known is not called calm.
    """
    found: list[list[Sky]] = []
    for sky in sorted(skies, key=lambda sky: sky.at):
        if not _suits(sky, zone, limit_ms):
            continue
        if found and sky.at - found[-1][-1].at == HOUR:
            found[-1].append(sky)
        else:
            found.append([sky])
    return [
        Calm(run[0].at, run[-1].at + HOUR, max(sky.blows_ms or 0.0 for sky in run))
        for run in found
        if len(run) >= LAYING_HOURS
    ]


def _suits(sky: Sky, zone: ZoneInfo, limit_ms: float) -> bool:
    by_day = sky.at.astimezone(zone).hour in DAYLIGHT
    return by_day and sky.blows_ms is not None and sky.blows_ms < limit_ms and not sky.precip_mm
