"""Weather in a few words, in the reader's units: where it blows from, what fell, what it was like at some work."""

from collections.abc import Iterable
from uuid import UUID
from zoneinfo import ZoneInfo

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.clock import local_day
from rinklog.dates import written
from rinklog.reports.entry_weather import EntryWeather, weather_of
from rinklog.rink.models import Rink
from rinklog.weather.known import A_PERSON
from rinklog.weather.providers.registry import PROVIDERS
from rinklog.web import measures
from rinklog.web.middleware import current_units
from rinklog.work.models import Entry

WINDS = (
    lazy("N"),
    lazy("NE"),
    lazy("E"),
    lazy("SE"),
    lazy("S"),
    lazy("SW"),
    lazy("W"),
    lazy("NW"),
)
SNOW_BELOW_C = 1.0
"""What falls below this is called snow, above it rain: half of it is, by physics/column/forcing.py."""


def wind_from(degrees: float | None) -> str:
    """The name of the nearest of eight directions; empty when unknown."""
    return "" if degrees is None else str(WINDS[round(degrees / 45) % 8])


def show(value: float | None, quantity: str) -> str:
    """A stored value with its unit; empty when unknown."""
    return "" if value is None else measures.show(value, quantity, current_units())


def air(low_c: float | None, high_c: float | None) -> str:
    """One temperature, or from the low to the high one."""
    low, high = show(low_c, "temperature"), show(high_c, "temperature")
    return low if low == high else _("%(low)s to %(high)s") % {"low": low, "high": high}


def wind(wind_ms: float | None, from_deg: float | None) -> str:
    """How strong it blew, and from where."""
    if wind_ms is None:
        return ""
    said = {"wind": show(wind_ms, "speed"), "from": wind_from(from_deg)}
    return (_("wind %(wind)s from %(from)s") if said["from"] else _("wind %(wind)s")) % said


def fell(precip_mm: float | None, air_c: float | None) -> str:
    """What fell; empty for nothing. As water, which is how it is measured."""
    if not precip_mm:
        return ""
    amount = {"amount": show(precip_mm, "rain")}
    if air_c is None:
        return _("rain or snow %(amount)s") % amount
    return (_("snow %(amount)s (as water)") if air_c < SNOW_BELOW_C else _("rain %(amount)s")) % amount


def in_short(weather: EntryWeather) -> str:
    """One line for a row of the log; it always says whether it was observed."""
    parts = [
        air(weather.air_low_c, weather.air_high_c),
        wind(weather.wind_ms, weather.wind_from_deg),
        fell(weather.precip_mm, weather.air_high_c),
    ]
    said = _("forecast")
    if weather.observed:
        said = _("partly observed") if weather.guessed else _("observed")
    return f"{', '.join(filter(None, parts))} ({said})"


def lines_of(rink: Rink, entries: Iterable[Entry]) -> dict[UUID, str]:
    """The line of each entry whose weather is known."""
    return {id: in_short(weather) for id, weather in weather_of(rink, entries).items()}


def of_entry(rink: Rink, entry: Entry, zone: ZoneInfo) -> dict[str, str] | None:
    """One entry's weather: the line, where it comes from, and the day to look at."""
    weather = weather_of(rink, [entry]).get(entry.id)
    if weather is None:
        return None
    day = local_day(entry.started_at, zone).isoformat()
    return {"line": in_full(weather), "whence": whence(weather, zone), "day": day}


def in_full(weather: EntryWeather) -> str:
    """All that is known of some hours."""
    gust = show(weather.gust_ms, "speed")
    cloud = weather.cloud_frac
    return ", ".join(
        filter(
            None,
            [
                air(weather.air_low_c, weather.air_high_c),
                wind(weather.wind_ms, weather.wind_from_deg),
                _("gusts %(gust)s") % {"gust": gust} if gust else "",
                _("cloud %(n)d %%") % {"n": round(100 * cloud)} if cloud is not None else "",
                fell(weather.precip_mm, weather.air_high_c),
            ],
        )
    )


def whence(weather: EntryWeather, zone: ZoneInfo) -> str:
    """Whether it was observed, and by whom; a forecast says when it was made and that it may yet be corrected."""
    sources = ", ".join(source_name(source) for source in weather.sources)
    if weather.observed:
        return _("Observed: %(sources)s.") % {"sources": sources}
    made = written(weather.made_at.astimezone(zone), "D j M H:i")
    return _("Forecast, not observed: %(sources)s, made %(made)s. An observation will take its place.") % {
        "sources": sources,
        "made": made,
    }


def source_name(source: str) -> str:
    """A source by the name people know it by."""
    if source == A_PERSON:
        return _("read at the rink")
    for slug, provider in PROVIDERS.items():
        source = source.replace(slug, provider.name)
    return source
