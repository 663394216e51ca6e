"""Rows of the weather's ways in, as sentences for their pages."""

import datetime as dt
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.weather.hours import WHY
from rinklog.weather.models import ProviderState, WeatherFile
from rinklog.weather.providers import metar_reports
from rinklog.weather.providers.registry import PROVIDERS

SHOWN_FLAGS = 100
NAMES: dict[str, Any] = {
    "air_c": lazy("air"),
    "dew_point_c": lazy("dew point"),
    "humidity_frac": lazy("humidity"),
    "wind_ms": lazy("wind"),
    "gust_ms": lazy("gusts"),
    "wind_from_deg": lazy("wind direction"),
    "cloud_frac": lazy("cloud"),
    "shortwave_wm2": lazy("sun"),
    "longwave_wm2": lazy("sky radiation"),
    "pressure_pa": lazy("air pressure"),
    "precip_mm": lazy("rain and snowfall"),
    "snow_m": lazy("snow on the ground"),
    "at": lazy("time"),
    "time": lazy("time"),
    "line": lazy("line"),
}


@dataclass(frozen=True)
class Line:
    """How it stands with one source."""

    name: str
    credit: str
    state: ProviderState
    rests_until: dt.datetime | None


@dataclass(frozen=True)
class Shown:
    """One thing that was not used as it stands."""

    where: str
    name: str
    value: str
    why: str


def lines(sources: list[ProviderState], now: dt.datetime) -> list[Line]:
    """The sources that are switched on, in their turn."""
    return [_line(source, now) for source in sources if source.is_on]


def source_name(slug: str) -> str:
    """What a source is called on a page."""
    return PROVIDERS[slug].name if slug in PROVIDERS else metar_reports.NAME


def _line(source: ProviderState, now: dt.datetime) -> Line:
    provider = PROVIDERS.get(source.provider)
    name = source_name(source.provider)
    credit = provider.credit if provider else metar_reports.CREDIT
    rests = source.rest_until if source.rest_until and source.rest_until > now else None
    return Line(name, credit, source, rests)


def name_of(code: str) -> str:
    """What a value is called on a page."""
    return str(NAMES.get(code, code))


def kinds(one: WeatherFile) -> list[tuple[str, str, int]]:
    """What was not used, how often: (what, why, count)."""
    found = []
    for kind, count in one.flagged.items():
        name, _sep, why = kind.rpartition(" ")
        found.append((name_of(name), _(WHY.get(why, why)), count))
    return found


def shown_flags(one: WeatherFile) -> list[Shown]:
    """The first of them, line by line."""
    return [Shown(where, name_of(name), value, _(WHY.get(why, why))) for where, name, value, why in one.flags]


def missing(one: WeatherFile) -> list[tuple[str, str]]:
    """The values that a file lacks: (what, in how many hours)."""
    words = []
    for name, count in one.missing.items():
        what = _("in every hour") if count == one.hours else _("in %(n)d hours") % {"n": count}
        words.append((name_of(name), what))
    return words
