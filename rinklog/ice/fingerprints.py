"""A fingerprint of everything that made the state at an hour: what tells whether a checkpoint still holds.

It is a chain: that of an hour covers the chain up to the last fixed hour before it and what came since. It takes
what is marched (weather as prepared, deeds, holes, looks, answers), so whatever changes an input changes it, and what
changes nothing (an id, a note, a second look at the same forecast) does not.
"""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Callable

from rinklog.ice.forcing import HOUR
from rinklog.ice.inputs import Inputs
from rinklog.ice.state import SETTINGS

VERSION = 1
"""Raise it whenever the same inputs would give other numbers: every checkpoint is then made again."""
FIXED_HOURS, DAILY_HOUR = (0, 6, 12, 18), 12
"""Hours [UTC] of checkpoints: all four for some days back, so that a late entry costs little more than its own time;
of older days one, and of weeks that are past one a week."""
ALL_FOR, DAILY_FOR = dt.timedelta(days=4), dt.timedelta(days=14)


def fixed_hours(first: dt.datetime, last: dt.datetime) -> list[dt.datetime]:
    """The fixed hours after `first` up to and with `last`."""
    count = (last - first) // HOUR
    hours = [first.replace(minute=0, second=0, microsecond=0) + n * HOUR for n in range(1, count + 2)]
    return [at for at in hours if at <= last and at.hour in FIXED_HOURS]


def chain(inputs: Inputs, last: dt.datetime) -> Callable[[dt.datetime], str]:
    """Fingerprints of all hours up to `last`, each stretch hashed once.

    Arguments: inputs, last full hour. Returns: a function from a full hour [UTC] to its fingerprint.
    """
    before = inputs.start
    links = {before: _digest(_ground(inputs))}
    for at in fixed_hours(inputs.start, last):
        links[at] = _digest(links[before].encode(), _between(inputs, before, at))
        before = at

    def of(at: dt.datetime) -> str:
        if at in links:
            return links[at]
        link = max(one for one in links if one <= at)
        return _digest(links[link].encode(), _between(inputs, link, at))

    return of


def _digest(*parts: bytes) -> str:
    return hashlib.sha256(b"\0".join(parts)).hexdigest()


def _ground(inputs: Inputs) -> bytes:
    """What holds for the whole march."""
    said = (
        VERSION,
        SETTINGS,
        inputs.seed,
        inputs.grounds,
        inputs.start,
        inputs.stood_m,
        inputs.begun,
        inputs.spread,
    )
    return repr(said).encode()


def _between(inputs: Inputs, first: dt.datetime, last: dt.datetime) -> bytes:
    """What is marched from one hour to another. A hole counts at the start of its hour."""
    rows = slice(inputs.index(first), inputs.index(last))
    weather = inputs.weather
    arrays = [*weather.values.values(), weather.longwave_wm2, weather.lead_h, weather.bridged]
    parts = [array[rows].tobytes() for array in arrays]
    parts += [
        repr((d.at, d.what, d.amounts, d.key, d.water_c)).encode()
        for d in inputs.deeds
        if first <= d.at < last
    ]
    parts += [
        repr((h.at, h.zone, h.ice_m, h.key, h.answer)).encode() for h in inputs.holes if first <= h.at < last
    ]
    parts += [repr(one).encode() for one in inputs.looks if first <= one.at < last]
    return b"\1".join(parts)


def is_kept(at: dt.datetime, now: dt.datetime) -> bool:
    """Whether a checkpoint stays: all fixed hours of four days, one a day of fourteen, before that Monday's."""
    if at.hour not in FIXED_HOURS or at.minute:
        return False
    if now - at <= ALL_FOR:
        return True
    return at.hour == DAILY_HOUR and (now - at <= DAILY_FOR or at.weekday() == 0)
