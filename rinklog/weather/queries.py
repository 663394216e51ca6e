"""Reading what is known of the weather: one best hour an hour, whatever it came from.

An observation speaks for the full hour nearest to it. Of several, a person at the rink comes first, then the one nearest
to the hour, then the one recorded last. Foretold hours come from the newest run that speaks of them.
"""

import datetime as dt
import hashlib
from collections.abc import Iterable, Iterator
from functools import reduce
from operator import or_
from typing import Any
from uuid import UUID

from django.db.models import Count, F, Q, QuerySet, Sum, Window
from django.db.models.functions import RowNumber

from rinklog.rink.models import Rink
from rinklog.weather.known import (
    A_PERSON,
    HOUR,
    KnownHour,
    Span,
    disjoint,
    floor,
    holds,
    merged,
    on_the_hour,
    spread,
)
from rinklog.weather.models import (
    ForecastHour,
    ForecastRun,
    Observation,
    ProviderState,
    WeatherFile,
    WeatherSetup,
)
from rinklog.weather.rows import FIELDS, hour_of

NEWEST_FIRST = [F("run__made_at").desc(), F("run__fetched_at").desc(), F("run_id").desc()]
ASK_EVERY = dt.timedelta(minutes=20)  # where a service does not say how long its answer lives
FILE_STANDS_STILL = dt.timedelta(minutes=3)
FILE_KEPT = dt.timedelta(days=7)
LONGEST_STEP = dt.timedelta(hours=24)


def known_hours(
    rink: Rink, start: dt.datetime, end: dt.datetime, *, known_at: dt.datetime | None = None
) -> list[KnownHour]:
    """The hours from the one that holds `start` until before `end`, in order; unknown hours are left out.

    `known_at` gives only what was known then: runs fetched and observations made until then. Two queries.
    """
    return known_spans(rink, [(start, end)], known_at=known_at)


def known_spans(rink: Rink, spans: Iterable[Span], *, known_at: dt.datetime | None = None) -> list[KnownHour]:
    """The same for several stretches at once, each hour once, in order. Two queries, however many they are."""
    wanted = disjoint(spans)
    if not wanted:
        return []
    candidates: dict[dt.datetime, list[KnownHour]] = {}
    for one in _observed(rink, wanted, known_at):
        candidates.setdefault(one.hour.at, []).append(one)
    for at, one in _foretold(rink, wanted, known_at).items():
        candidates.setdefault(at, []).append(one)
    return [merged(candidates[at]) for at in sorted(candidates)]


def latest_run(rink: Rink, *, known_at: dt.datetime | None = None) -> ForecastRun | None:
    """The newest forecast that was fetched, or None."""
    return _runs(rink, known_at).order_by("-made_at", "-fetched_at", "-id").first()


def fingerprint(
    rink: Rink, start: dt.datetime, end: dt.datetime, *, known_at: dt.datetime | None = None
) -> str:
    """A text that differs whenever `known_hours` of the same arguments would. Two queries of sums."""
    start = floor(start)
    seen = _observations(rink, [(start, end)], known_at).aggregate(n=Count("id"), sum=Sum("mark"))
    told = _runs(rink, known_at).filter(starts_at__lt=end, ends_at__gt=start)
    sums = told.aggregate(n=Count("id"), sum=Sum("mark"))
    said = f"{start.isoformat()} {end.isoformat()} {seen['n']} {seen['sum']} {sums['n']} {sums['sum']}"
    return hashlib.sha256(said.encode()).hexdigest()


def _runs(rink: Rink, known_at: dt.datetime | None) -> QuerySet[ForecastRun]:
    runs = ForecastRun.objects.filter(rink=rink)
    return runs if known_at is None else runs.filter(fetched_at__lte=known_at)


def _observations(rink: Rink, spans: list[Span], known_at: dt.datetime | None) -> QuerySet[Observation]:
    within = [Q(at__gte=start - HOUR / 2, at__lt=_past(end) - HOUR / 2) for start, end in spans]
    rows = Observation.objects.filter(any_of(within), rink=rink)
    return rows if known_at is None else rows.filter(at__lte=known_at)


def any_of(conditions: list[Q]) -> Q:
    """A condition that holds where one of several does."""
    return reduce(or_, conditions)


def _past(end: dt.datetime) -> dt.datetime:
    """The first full hour that is no longer asked for."""
    whole = floor(end)
    return whole if whole == end else whole + HOUR


def _observed(rink: Rink, spans: list[Span], known_at: dt.datetime | None) -> Iterator[KnownHour]:
    """What was observed, the best of an hour first."""
    found = []
    rows = _observations(rink, spans, known_at)
    for at, source, recorded_at, number, *values in rows.values_list(
        "at", "source", "recorded_at", "id", *FIELDS
    ):
        on = on_the_hour(at)
        one = KnownHour(hour_of(on, values), True, source, recorded_at)
        found.append(((source != A_PERSON, abs(at - on), -recorded_at.timestamp(), -number), one))
    found.sort(key=lambda pair: pair[0])
    yield from (one for _, one in found)


def _foretold(rink: Rink, spans: list[Span], known_at: dt.datetime | None) -> dict[dt.datetime, KnownHour]:
    """What the newest run says of each hour; long steps are spread to hours."""
    best: dict[dt.datetime, tuple[tuple[dt.datetime, dt.datetime, int], KnownHour]] = {}
    steps = {}
    for at, step_s, run, provider, made_at, fetched_at, *values in _newest_steps(rink, spans, known_at):
        steps[run, at] = (provider, (made_at, fetched_at, run), hour_of(at, values, step_s))
    for (run, at), (provider, age, step) in steps.items():
        long = step.step_s > 3600
        after = steps.get((run, at + dt.timedelta(seconds=step.step_s))) if long else None
        source = f"{provider}, from steps of {step.step_s // 3600} h" if long else provider
        for hour in spread(step, after and after[2]):
            if holds(spans, hour.at) and (hour.at not in best or best[hour.at][0] < age):
                best[hour.at] = (age, KnownHour(hour, False, source, age[0], interpolated=long))
    return {at: one for at, (_, one) in best.items()}


def _newest_steps(
    rink: Rink, spans: list[Span], known_at: dt.datetime | None
) -> QuerySet[ForecastHour, tuple[Any, ...]]:
    """Of every time and length of step, the one of the newest run; one more at either end, to draw lines to."""
    rank = Window(RowNumber(), partition_by=[F("at"), F("step_s")], order_by=NEWEST_FIRST)
    speaking = any_of([Q(starts_at__lt=end, ends_at__gt=start) for start, end in spans])
    near = any_of([Q(at__gte=start - LONGEST_STEP, at__lt=end + LONGEST_STEP) for start, end in spans])
    rows = ForecastHour.objects.filter(near, run__in=_runs(rink, known_at).filter(speaking))
    ranked = rows.annotate(rank=rank).filter(rank=1)
    return ranked.values_list(
        "at", "step_s", "run_id", "run__provider", "run__made_at", "run__fetched_at", *FIELDS
    )


def sources_due(now: dt.datetime) -> list[Any]:
    """The ids of the rinks that have a source switched on which should be asked now."""
    due = ProviderState.objects.filter(is_on=True)
    due = due.filter(Q(expires_at=None) | Q(expires_at__lte=now), Q(rest_until=None) | Q(rest_until__lte=now))
    due = due.filter(Q(asked_at=None) | Q(asked_at__lte=now - ASK_EVERY))
    return sorted(set(due.values_list("rink_id", flat=True)))


def sources(rink: Rink) -> list[ProviderState]:
    """The rink's sources in their turn, those that are off last."""
    return list(ProviderState.objects.filter(rink=rink).order_by("-is_on", "turn", "id"))


def setup_of(rink: Rink) -> WeatherSetup | None:
    """What the keeper said of the sources, or None."""
    return WeatherSetup.objects.filter(rink=rink).first()


def altitude_m(rink: Rink) -> float | None:
    """Metres above the sea, where the keeper has said so."""
    setup = setup_of(rink)
    return setup.altitude_m if setup else None


def weather_files(rink: Rink) -> QuerySet[WeatherFile]:
    """The weather files of a rink, the latest first."""
    return WeatherFile.objects.filter(rink=rink).select_related("by")


def weather_file(rink: Rink, id: UUID) -> WeatherFile | None:
    """One weather file of a rink."""
    return weather_files(rink).filter(id=id).first()


def files_standing_still(now: dt.datetime) -> QuerySet[WeatherFile]:
    """Files that a task should be at and none is."""
    busy = (WeatherFile.State.WAITING, WeatherFile.State.READING)
    return WeatherFile.objects.filter(state__in=busy, moved_at__lt=now - FILE_STANDS_STILL)


def files_to_forget(now: dt.datetime) -> QuerySet[WeatherFile]:
    """Files that are read, or never will be, and need not be kept."""
    busy = (WeatherFile.State.WAITING, WeatherFile.State.READING)
    old = WeatherFile.objects.filter(made_at__lt=now - FILE_KEPT)
    return old.exclude(file="").exclude(state__in=busy)


def readings(rink: Rink) -> QuerySet[Observation]:
    """What people read at the rink, the latest first."""
    return Observation.objects.filter(rink=rink, source=A_PERSON).select_related("by").order_by("-at")
