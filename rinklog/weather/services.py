"""Writing the weather down: a forecast as one run, observations hour by hour. Both are safe to repeat."""

import datetime as dt
import hashlib
from collections.abc import Iterable
from dataclasses import replace

from django.db import transaction
from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.facts import Refused
from rinklog.rink.models import Rink
from rinklog.weather.hours import Hour
from rinklog.weather.known import floor
from rinklog.weather.models import ForecastHour, ForecastRun, Observation
from rinklog.weather.providers.answer import Forecast
from rinklog.weather.rows import FIELDS, columns, content_of, mark_of

CLOCK_SLACK = dt.timedelta(hours=2)
MOST_FLAGS = 50
AT_A_TIME = 2000


@transaction.atomic
def store_forecast(*, rink: Rink, provider: str, forecast: Forecast, fetched_at: dt.datetime) -> ForecastRun:
    """Keep one answer as a run; the same content as the provider's last run is that run.

    Hours before the one it was fetched in are left out: a forecast says nothing of the past. Errors: Refused when
    nothing is left, or when it says it was made in the future: then a clock is wrong.
    """
    Rink.objects.select_for_update().get(id=rink.id)
    made_at = forecast.made_at or fetched_at
    if made_at > fetched_at + CLOCK_SLACK:
        raise Refused("made_at", _made_later(provider, made_at, fetched_at))
    ahead = [hour for hour in forecast.parsed.hours if _end(hour) > floor(fetched_at)]
    if not ahead:
        raise Refused("hours", _all_past(provider, forecast, fetched_at))
    content = [content_of(hour) for hour in forecast.parsed.hours]
    mark = hashlib.sha256(f"{forecast.made_at} {content}".encode()).hexdigest()
    last = ForecastRun.objects.filter(rink=rink, provider=provider).order_by("-fetched_at", "-id").first()
    if last is not None and last.fingerprint == mark:
        return last
    run = ForecastRun.objects.create(
        rink=rink,
        provider=provider,
        made_at=made_at,
        fetched_at=fetched_at,
        expires_at=forecast.expires_at,
        fingerprint=mark,
        mark=mark_of(f"{provider} {made_at.isoformat()} {fetched_at.isoformat()} {mark}"),
        starts_at=ahead[0].at,
        ends_at=_end(ahead[-1]),
        flags=[str(flag) for flag in forecast.parsed.flags[:MOST_FLAGS]],
    )
    ForecastHour.objects.bulk_create(
        [ForecastHour(run=run, at=hour.at, step_s=hour.step_s, **columns(hour)) for hour in ahead]
    )
    return run


def _end(hour: Hour) -> dt.datetime:
    return hour.at + dt.timedelta(seconds=hour.step_s)


def _made_later(provider: str, made_at: dt.datetime, fetched_at: dt.datetime) -> str:
    return _(
        "%(provider)s says its forecast was made at %(made)s, which is later than now (%(now)s); "
        "allowed: the past. One of the two clocks is wrong."
    ) % {
        "provider": provider,
        "made": f"{made_at:%Y-%m-%d %H:%M} UTC",
        "now": f"{fetched_at:%Y-%m-%d %H:%M} UTC",
    }


def _all_past(provider: str, forecast: Forecast, fetched_at: dt.datetime) -> str:
    hours = forecast.parsed.hours
    if not hours:
        return _("%(provider)s sent no hour that can be used.") % {"provider": provider}
    return _(
        "The last hour that %(provider)s sent is %(last)s, which is past (now is %(now)s); allowed: hours to come. "
        "Its answer is old, or a clock is wrong."
    ) % {
        "provider": provider,
        "last": f"{hours[-1].at:%Y-%m-%d %H:%M} UTC",
        "now": f"{fetched_at:%Y-%m-%d %H:%M} UTC",
    }


def store_observations(
    *, rink: Rink, source: str, hours: Iterable[Hour], recorded_at: dt.datetime, by: Person | None = None
) -> int:
    """Keep observations; the same source and time is the same observation. Returns how many are new or say more.

    What comes again replaces value by value; what is missing in it erases nothing. In chunks, so that a long iterable
    stays in bounded memory.
    """
    written, chunk = 0, []
    for hour in hours:
        chunk.append(hour)
        if len(chunk) >= AT_A_TIME:
            written += _store(rink, source, chunk, recorded_at, by)
            chunk = []
    return written + (_store(rink, source, chunk, recorded_at, by) if chunk else 0)


@transaction.atomic
def _store(rink: Rink, source: str, hours: list[Hour], recorded_at: dt.datetime, by: Person | None) -> int:
    Rink.objects.select_for_update().get(id=rink.id)
    times = [hour.at for hour in hours]
    there = Observation.objects.filter(rink=rink, source=source, at__gte=min(times), at__lte=max(times))
    known = {row.at: row for row in there}
    new: dict[dt.datetime, Observation] = {}
    changed: dict[dt.datetime, Observation] = {}
    for hour in hours:
        row = known.get(hour.at) or new.get(hour.at)
        if row is None:
            new[hour.at] = Observation(
                rink=rink,
                source=source,
                at=hour.at,
                recorded_at=recorded_at,
                by=by,
                mark=_mark(source, hour),
                **columns(hour),
            )
        elif _corrected(row, hour, recorded_at, by) and hour.at in known:
            changed[hour.at] = row
    Observation.objects.bulk_create(new.values(), batch_size=500)
    Observation.objects.bulk_update(changed.values(), [*FIELDS, "recorded_at", "by", "mark"], batch_size=100)
    return len(new) + len(changed)


def _corrected(row: Observation, hour: Hour, recorded_at: dt.datetime, by: Person | None) -> bool:
    """Put what an hour says over what the row says; False when it says nothing else."""
    says = {name: value for name, value in columns(hour).items() if value is not None}
    if all(getattr(row, name) == value for name, value in says.items()):
        return False
    for name, value in says.items():
        setattr(row, name, value)
    row.recorded_at, row.by = recorded_at, by
    kept = {name: getattr(row, name) for name in FIELDS}
    row.mark = _mark(row.source, replace(hour, **kept))
    return True


def _mark(source: str, hour: Hour) -> int:
    return mark_of(f"{source} {content_of(hour)}")
