"""The weather page: the last days and the next in one picture, the hours in a table, and what they mean for people."""

import datetime as dt
from typing import Any

import numpy as np
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from rinklog.crew.rights import Right
from rinklog.ice.forcing import Place, clear_sky_wm2, cloud_passes
from rinklog.reports.tables import as_csv
from rinklog.rink.models import Rink
from rinklog.weather import queries
from rinklog.weather.known import HOUR, KnownHour, floor
from rinklog.web.access import At, on_rink
from rinklog.web.weather.cold import FROSTBITE
from rinklog.web.weather.daylight import nights, sun_days
from rinklog.web.weather.picture import picture
from rinklog.web.weather.states import states
from rinklog.web.weather.table import by_day, csv_rows, row_of
from rinklog.web.weather.window import DAY, Shown, shown_days
from rinklog.web.weather.words import source_name


@on_rink(Right.SEE)
def weather(request: HttpRequest, at: At) -> HttpResponse:
    """The weather around today, or around a day of the past."""
    shown = asked_for(request, at)
    hours = queries.known_hours(at.rink, shown.start, shown.end)
    run = queries.latest_run(at.rink)
    context = {
        "shown": shown,
        "states": states(
            rink=at.rink, known=len(hours), run=run, sources=queries.sources(at.rink), now=at.now
        ),
        "picture": drawn(hours, shown, at) if hours else None,
        "present": present(hours, at.now),
        "suns": sun_days(at.rink, at.today, at.today + DAY, at.zone),
        "run": run,
        "run_name": source_name(run.provider) if run else "",
        "seen": last_seen(hours, at.now),
        "table_days": by_day(hours, at.zone),
        "today": at.today,
        "frostbite": FROSTBITE,
    }
    return render(request, "weather/weather.html", context)


@on_rink(Right.SEE)
def hours_csv(request: HttpRequest, at: At) -> HttpResponse:
    """The same hours as a file."""
    shown = asked_for(request, at)
    text = as_csv(csv_rows(queries.known_hours(at.rink, shown.start, shown.end)))
    response = HttpResponse(text, content_type="text/csv; charset=utf-8")
    name = f"{at.rink.slug}-weather-{shown.first.isoformat()}.csv"
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response


def asked_for(request: HttpRequest, at: At) -> Shown:
    """The days that the address asks for."""
    return shown_days(request.GET.get("day", ""), request.GET.get("span", ""), at.today, at.zone)


def drawn(hours: list[KnownHour], shown: Shown, at: At) -> Any:
    """The picture of some hours."""
    dark = nights(at.rink, shown.start, shown.end, at.zone)
    return picture(hours, shown, dark, sun_of(hours, at.rink), at.now)


def sun_of(hours: list[KnownHour], rink: Rink) -> list[float | None]:
    """The sun of each hour [W/m²]: as given, else a clear sky's under the cloud, as the ice estimate takes it."""
    given = [one.hour.shortwave_wm2 for one in hours]
    if rink.latitude is None or rink.longitude is None or None not in given:
        return given
    start = hours[0].hour.at
    count = (hours[-1].hour.at - start) // HOUR + 1
    clear = clear_sky_wm2(start, count, Place(rink.latitude, rink.longitude))
    found: list[float | None] = []
    for one, sun in zip(hours, given, strict=True):
        cloud = one.hour.cloud_frac
        if sun is None and cloud is not None:
            sun = float(clear[(one.hour.at - start) // HOUR] * cloud_passes(np.asarray(cloud)))
        found.append(sun)
    return found


def present(hours: list[KnownHour], now: dt.datetime) -> dict[str, Any] | None:
    """The hour it is now, if anything is known of it."""
    one = next((one for one in hours if one.hour.at == floor(now)), None)
    return {"row": row_of(one), "known": one, "source": source_name(one.source)} if one else None


def last_seen(hours: list[KnownHour], now: dt.datetime) -> dict[str, Any] | None:
    """The last observed hour shown, and by whom."""
    one = next((one for one in reversed(hours) if one.observed and one.hour.at <= now + HOUR), None)
    return {"at": one.hour.at, "source": source_name(one.source)} if one else None
