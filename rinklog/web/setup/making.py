"""Making a rink, and changing what it is called, where it lies and how it is divided."""

import datetime as dt
from dataclasses import asdict
from typing import Any, cast
from zoneinfo import ZoneInfo

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from rinklog import clock
from rinklog.crew.models import Person
from rinklog.crew.rights import Right
from rinklog.crew.ways_in import found_rink
from rinklog.facts import Refused
from rinklog.geometry.grid import Grid as Plan
from rinklog.rink.models import Grid, Rink, Zone
from rinklog.rink.services import Divided, describe_rink, divide_again, make_rink
from rinklog.web.access import At, keeper_somewhere, on_rink
from rinklog.web.panels import posted
from rinklog.web.rinkmap.drawing import Drawing, draw
from rinklog.web.setup.forms import GridForm, NewRinkForm, PlaceForm, time_zones


@keeper_somewhere
def new_rink(request: HttpRequest) -> HttpResponse:
    """Make a rink: the first one by whoever claimed the site, a further one by any keeper."""
    form = NewRinkForm(posted(request), initial={"starts_on": timezone.now().date()})
    if request.method == "POST" and "look" not in request.POST and form.is_valid():
        return redirect("home", slug=make(form, cast(Person, request.user)).slug)
    return grid_page(request, "setup/new_rink.html", form)


def make(form: NewRinkForm, person: Person) -> Rink:
    """Make the rink and its first keeper, or neither."""
    data, divided, now = form.cleaned_data, form.divided(), timezone.now()
    with transaction.atomic():
        rink = make_rink(
            id=data["id"],
            name=data["name"],
            place=data["place"],
            size=divided.size,
            time_zone=data["time_zone"],
            rows=divided.rows,
            columns=divided.columns,
            starts_on=starts_on(form, now),
            position=form.position(),
            now=now,
        )
        found_rink(by=person, rink=rink, now=now)
    return rink


def starts_on(form: NewRinkForm, now: dt.datetime) -> dt.date:
    """The day the season starts. A proposal left as it was means today where the rink lies, which may be another day."""
    data = form.cleaned_data
    told: dt.date = data["starts_on"]
    return told if "starts_on" in form.changed_data else clock.local_day(now, ZoneInfo(data["time_zone"]))


def grid_page(
    request: HttpRequest, template: str, form: GridForm, context: dict[str, Any] | None = None
) -> HttpResponse:
    """A page with a grid in the making: as far as the numbers go, its map is shown."""
    status = 422 if request.method == "POST" and "look" not in request.POST else 200
    drawing, divided = None, None
    if request.method == "POST":
        form.is_valid()
        if not {"length", "width", "corner", "rows", "columns"} & set(form.errors):
            divided = form.divided()
            drawing = draw_plan(divided)
        if "look" in request.POST:
            keep_errors(form, {"length", "width", "corner", "rows", "columns"})
    known = {"form": form, "drawing": drawing, "divided": divided, "time_zones": time_zones()}
    return render(request, template, known | (context or {}), status=status)


def keep_errors(form: GridForm, names: set[str]) -> None:
    """Only looking: what is still empty elsewhere is no error yet."""
    for name in [name for name in form.errors if name not in names]:
        del form.errors[name]


def draw_plan(divided: Divided) -> Drawing:
    """The map of a grid that is not made yet."""
    plan = Plan(**asdict(divided.size), rows=divided.rows, columns=divided.columns)
    grid = Grid(**asdict(divided.size), rows=divided.rows, columns=divided.columns)
    return draw(grid, [Zone(row=zone.row, column=zone.column) for zone in plan.zones])


@on_rink(Right.KEEP)
def place(request: HttpRequest, at: At) -> HttpResponse:
    """What the rink is called and where it lies."""
    rink = at.rink
    start = {name: getattr(rink, name) for name in ("name", "place", "time_zone", "latitude", "longitude")}
    form = PlaceForm(posted(request), initial=start | {"bearing": rink.bearing_deg})
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        describe_rink(
            rink=rink,
            name=data["name"],
            place=data["place"],
            time_zone=data["time_zone"],
            position=form.position(),
        )
        return redirect("setup", slug=rink.slug)
    context = {"form": form, "time_zones": time_zones()}
    return render(request, "setup/place.html", context, status=422 if request.method == "POST" else 200)


@on_rink(Right.KEEP)
def grid(request: HttpRequest, at: At) -> HttpResponse:
    """Size and grid of this season, while nothing is recorded on it."""
    season = at.season
    start = start_of(season.grid)
    form = GridForm(posted(request), initial=start)
    if request.method == "POST" and "look" not in request.POST and form.is_valid():
        try:
            divide_again(rink=at.rink, season=season, into=form.divided(), now=at.now)
            return redirect("setup", slug=at.rink.slug)
        except Refused as refused:
            form.add_error(None, str(refused.sentence))
    return grid_page(request, "setup/grid.html", form, {"season": season})


def start_of(grid: Grid) -> dict[str, Any]:
    """A grid's numbers, to start a form with."""
    return {
        "length": grid.length_m,
        "width": grid.width_m,
        "corner": grid.corner_m,
        "rows": grid.rows,
        "columns": grid.columns,
    }
