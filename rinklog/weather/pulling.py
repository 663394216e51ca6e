"""Asking the sources that a keeper has switched on, in their order, until one answers well.

No network call happens inside a transaction. What came of an asking stands in `ProviderState`: so the next task, the
page and another process know it. After three failures in a row a source rests, longer each time; one that asks for
quiet (429) gets it. Whatever fails, the last good forecast stays.
"""

import datetime as dt
from dataclasses import dataclass

from django.conf import settings
from django.db import transaction
from django.db.models import Q
from django.utils.translation import gettext as _

from rinklog.facts import Refused
from rinklog.rink.models import Rink
from rinklog.version import VERSION
from rinklog.weather import client
from rinklog.weather.models import ForecastRun, ProviderState, WeatherSetup
from rinklog.weather.providers import metar_reports
from rinklog.weather.providers.answer import AnswerError
from rinklog.weather.providers.asking import Ask, Place, Provider
from rinklog.weather.providers.registry import PROVIDERS
from rinklog.weather.services import store_forecast, store_observations

AT_MOST_EVERY = dt.timedelta(seconds=60)  # whoever presses the button
REST = dt.timedelta(minutes=5)  # after a first or second failure
LONG_REST = dt.timedelta(minutes=30)  # after the third; doubled with every further one
LONGEST_REST = dt.timedelta(hours=6)
FAILURES_TO_OPEN = 3
OLD = dt.timedelta(hours=12)
METAR_HOURS = 6


@dataclass(frozen=True)
class Pulled:
    """What a round of asking brought: the run that is now the newest, how many observations, what went wrong."""

    run: ForecastRun | None = None
    observations: int = 0
    problems: tuple[str, ...] = ()


class NotNow(Exception):
    """Somebody else is asking, or asked a moment ago."""


def pull(*, rink: Rink, now: dt.datetime) -> Pulled:
    """One round: the first forecast that works, and the station's reports. Safe to call twice; calls out only if due."""
    setup = WeatherSetup.objects.filter(rink=rink).first()
    sources = list(ProviderState.objects.filter(rink=rink, is_on=True))
    if setup is None or not sources:
        return Pulled()
    problems: list[str] = []
    run = _first_forecast(rink, setup, [s for s in sources if s.provider in PROVIDERS], now, problems)
    seen = 0
    for source in sources:
        if source.provider == metar_reports.SLUG and setup.metar_station:
            seen = _reports(rink, setup, source, now, problems)
    return Pulled(run, seen, tuple(problems))


def _first_forecast(
    rink: Rink, setup: WeatherSetup, sources: list[ProviderState], now: dt.datetime, problems: list[str]
) -> ForecastRun | None:
    place = place_of(rink, setup)
    if place is None:
        if sources:
            problems.append(no_position())
        return None
    for source in sources:
        if source.rest_until and source.rest_until > now:
            problems.append(source.problem)
            continue
        if source.expires_at and source.expires_at > now and source.asked_for == str(place):
            return None  # what we have is fresh
        provider = PROVIDERS[source.provider]
        try:
            run, fresh = _one_forecast(rink, setup, source, provider, place, now)
        except NotNow:
            return None
        except (client.NoAnswer, AnswerError, Refused) as error:
            problems.append(_failed(source, error, now))
            continue
        if fresh:
            return run
        problems.append(source.problem)
    return None


def place_of(rink: Rink, setup: WeatherSetup | None) -> Place | None:
    """The rink's position, or None while it has none."""
    if rink.latitude is None or rink.longitude is None:
        return None
    return Place(rink.latitude, rink.longitude, setup.altitude_m if setup else None)


def no_position() -> str:
    """What is said of a rink without a position."""
    return _("This rink has no position, so no forecast can be asked for; give latitude and longitude.")


def _one_forecast(
    rink: Rink, setup: WeatherSetup, source: ProviderState, provider: Provider, place: Place, now: dt.datetime
) -> tuple[ForecastRun | None, bool]:
    """Ask one provider. Returns the run, and whether it is young enough to need no other."""
    _claim(source, now)
    if source.asked_for != str(place):
        source.etag = source.last_modified = source.found_path = ""
    manners = client.Manners(provider.name, agent(setup))
    base = settings.WEATHER_URLS.get(provider.slug) or provider.base
    ask = _second_address(source, provider, place, base, manners)
    answer = client.get(ask.below(base), manners, etag=source.etag, last_modified=source.last_modified)
    if answer.body is None:
        _went_well(source, answer, str(place), now)
        return _newest(rink, provider.slug), True
    with transaction.atomic():
        run = store_forecast(
            rink=rink, provider=provider.slug, forecast=provider.parse(answer.body), fetched_at=now
        )
        old = now - run.made_at > OLD
        _went_well(source, answer, str(place), now, _too_old(provider.name, now - run.made_at) if old else "")
    return run, not old


def _second_address(
    source: ProviderState, provider: Provider, place: Place, base: str, manners: client.Manners
) -> Ask:
    """What to ask for; where that stands in a first answer, it is remembered for the place."""
    if provider.find is None or provider.found is None:
        return provider.ask(place)
    if not source.found_path:
        first = client.get(provider.find(place).below(base), manners)
        source.found_path = provider.found(first.body or b"").path
    return Ask(source.found_path)


def _newest(rink: Rink, provider: str) -> ForecastRun | None:
    return ForecastRun.objects.filter(rink=rink, provider=provider).order_by("-made_at", "-id").first()


def _reports(
    rink: Rink, setup: WeatherSetup, source: ProviderState, now: dt.datetime, problems: list[str]
) -> int:
    """The station's reports of the last hours as observations; returns how many are new."""
    if source.rest_until and source.rest_until > now:
        problems.append(source.problem)
        return 0
    station = setup.metar_station
    if source.expires_at and source.expires_at > now and source.asked_for == station:
        return 0
    try:
        _claim(source, now)
        base = settings.WEATHER_URLS.get(metar_reports.SLUG) or metar_reports.BASE
        url = metar_reports.ask(station, METAR_HOURS).below(base)
        answer = client.get(url, client.Manners(metar_reports.NAME, agent(setup)))
        parsed = metar_reports.parse(answer.body or b"", station, now)
        hours = [hour for hour in parsed.hours if abs(hour.at - now) < OLD * 2]
        problem = "" if hours else no_reports(station)
        with transaction.atomic():
            seen = store_observations(rink=rink, source=f"station {station}", hours=hours, recorded_at=now)
            _went_well(source, answer, station, now, problem)
    except NotNow:
        return 0
    except (client.NoAnswer, AnswerError) as error:
        problems.append(_failed(source, error, now))
        return 0
    problems += [problem] if problem else []
    return seen


def no_reports(station: str) -> str:
    """What is said of a station without reports."""
    return _("Station %(station)s has sent no report within a day; check its four letters.") % {
        "station": station
    }


def agent(setup: WeatherSetup) -> str:
    """How we name ourselves to a service: the program, its version, and whom to ask."""
    contact = setup.contact or settings.WEATHER_CONTACT
    kept = "".join(letter for letter in contact if letter.isascii() and letter.isprintable())
    return f"rinklog/{VERSION} {kept}".strip()


def _claim(source: ProviderState, now: dt.datetime) -> None:
    """Take the turn to ask. Errors: NotNow when another task has just taken it."""
    free = Q(asked_at=None) | Q(asked_at__lte=now - AT_MOST_EVERY) | Q(asked_at__gt=now + AT_MOST_EVERY)
    if not ProviderState.objects.filter(free, id=source.id).update(asked_at=now):
        raise NotNow
    source.asked_at = now


def _went_well(
    source: ProviderState, answer: client.Answer, asked_for: str, now: dt.datetime, problem: str = ""
) -> None:
    source.good_at, source.failures, source.rest_until, source.problem = now, 0, None, problem[:400]
    source.expires_at = now + answer.life if answer.life is not None else None
    source.etag, source.last_modified = (
        answer.etag or source.etag,
        answer.last_modified or source.last_modified,
    )
    source.asked_for = asked_for
    _save(source)


def _failed(source: ProviderState, error: Exception, now: dt.datetime) -> str:
    """Remember a failure and how long to leave the source alone. Returns the sentence."""
    source.failures += 1
    source.problem = str(error)[:400]
    source.found_path = ""  # the grid of a service may have moved
    source.rest_until = now + rest_after(source.failures, error)
    _save(source)
    return source.problem


def rest_after(failures: int, error: Exception) -> dt.timedelta:
    """How long a source rests after so many failures in a row."""
    if isinstance(error, client.NoAnswer) and error.wait is not None:
        return error.wait
    if isinstance(error, client.NoAnswer) and error.code in ("refused", "nowhere"):
        return LONGEST_REST
    if failures < FAILURES_TO_OPEN:
        return REST
    return min(LONG_REST * 2 ** min(failures - FAILURES_TO_OPEN, 10), LONGEST_REST)


STATE = (
    *(
        "good_at",
        "failures",
        "rest_until",
        "problem",
        "expires_at",
        "etag",
        "last_modified",
        "asked_for",
        "found_path",
    ),
)


def _save(source: ProviderState) -> None:
    ProviderState.objects.filter(id=source.id).update(**{name: getattr(source, name) for name in STATE})


def _too_old(name: str, age: dt.timedelta) -> str:
    hours = int(age.total_seconds() // 3600)
    return _("The forecast of %(name)s was made %(hours)d hours ago.") % {"name": name, "hours": hours}
