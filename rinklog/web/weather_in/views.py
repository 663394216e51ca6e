"""The weather's ways in: which services are asked, files, and what a person reads at the rink."""

import csv
import io
from typing import Any
from uuid import UUID

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from rinklog.archive.cells import text
from rinklog.crew.rights import Right
from rinklog.facts import Conflict, Refused
from rinklog.upkeep.queue import soon
from rinklog.weather import queries
from rinklog.weather.importing import receive_file
from rinklog.weather.pulling import no_position
from rinklog.weather.readings import record_reading
from rinklog.weather.sources import choose_sources
from rinklog.weather.tasks import pull_forecast, read_file
from rinklog.web.access import At, on_rink
from rinklog.web.panels import posted, reply
from rinklog.web.weather_in.forms import ReadingForm, SourcesForm, WeatherFileForm
from rinklog.web.weather_in.showing import kinds, lines, missing, shown_flags, source_name

SHOWN_FILES = 20
SHOWN_READINGS = 20


@on_rink(Right.KEEP)
def weather_sources(request: HttpRequest, at: At) -> HttpResponse:
    """Which services are asked, and how the last asking went."""
    setup, sources = queries.setup_of(at.rink), queries.sources(at.rink)
    form = SourcesForm(posted(request), setup=setup, sources=sources)
    if request.method == "POST" and form.is_valid():
        try:
            with transaction.atomic():
                choose_sources(rink=at.rink, wish=form.wish(), by=at.person, now=at.now)
                soon(pull_forecast, at.rink.id)
        except Refused as refused:
            field = {"metar_station": "station"}.get(refused.field, refused.field)
            form.add_error(field if field in form.fields else None, str(refused.sentence))
        else:
            return redirect("weather-sources", slug=at.rink.slug)
    context = {
        "form": form,
        "lines": lines(sources, at.now),
        "no_position": no_position() if at.rink.latitude is None else "",
        "run": (run := queries.latest_run(at.rink)),
        "run_name": source_name(run.provider) if run else "",
    }
    return render(request, "weather_in/sources.html", context, status=422 if form.is_bound else 200)


@on_rink(Right.KEEP)
@require_POST
def weather_ask(request: HttpRequest, at: At) -> HttpResponse:
    """Ask now what is due; a service that rests, or whose answer is fresh, is left alone."""
    soon(pull_forecast, at.rink.id)
    return redirect("weather-sources", slug=at.rink.slug)


@on_rink(Right.KEEP)
def weather_files(request: HttpRequest, at: At) -> HttpResponse:
    """The files so far, and a form for the next."""
    return files_page(request, at, WeatherFileForm())


def files_page(request: HttpRequest, at: At, form: WeatherFileForm, status: int = 200) -> HttpResponse:
    """The page with its form."""
    context = {"form": form, "files": queries.weather_files(at.rink)[:SHOWN_FILES]}
    return render(request, "weather_in/files.html", context, status=status)


@on_rink(Right.KEEP)
@require_POST
def weather_file_post(request: HttpRequest, at: At) -> HttpResponse:
    """Take a file in, to be read."""
    form = WeatherFileForm(request.POST, request.FILES)
    if form.is_valid():
        data = form.cleaned_data
        try:
            one = receive_file(
                id=data["id"],
                rink=at.rink,
                file=data["file"],
                format=data["format"],
                by=at.person,
                now=at.now,
            )
        except Refused as refused:
            form.add_error(refused.field, str(refused.sentence))
        except Conflict:
            form.add_error(
                "file", _("This form has sent another file already; reload the page and choose again.")
            )
        else:
            soon(read_file, one.id)
            return redirect("weather-file", slug=at.rink.slug, id=one.id)
    return files_page(request, at, form, 422)


@on_rink(Right.KEEP)
def weather_file(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """How far a file is, and what of it was not used."""
    one = at.weather_file(id)
    context: dict[str, Any] = {
        "one": one,
        "kinds": kinds(one),
        "flags": shown_flags(one),
        "missing": missing(one),
    }
    return reply(request, "weather_in/file.html", "weather_in/_file.html", context)


@on_rink(Right.KEEP)
def weather_file_flags(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """What of a file was not used, as CSV."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(["where", "what", "value", "reason"])
    for flag in shown_flags(at.weather_file(id)):
        writer.writerow([flag.where, flag.name, text(flag.value), flag.why])
    response = HttpResponse(out.getvalue(), content_type="text/csv; charset=utf-8")
    response.headers["Content-Disposition"] = 'attachment; filename="not-used.csv"'
    return response


@on_rink(Right.LOG)
def weather_reading(request: HttpRequest, at: At) -> HttpResponse:
    """What a person reads at the rink."""
    form = ReadingForm(posted(request), zone=at.zone, now=at.now)
    if request.method == "POST" and form.is_valid():
        try:
            record_reading(rink=at.rink, hour=form.hour(), by=at.person, now=at.now)
        except Refused as refused:
            form.add_error(refused.field if refused.field in form.fields else None, str(refused.sentence))
        else:
            return redirect("weather-reading", slug=at.rink.slug)
    context = {"form": form, "readings": queries.readings(at.rink)[:SHOWN_READINGS]}
    return render(request, "weather_in/reading.html", context, status=422 if form.is_bound else 200)
