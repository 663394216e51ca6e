"""Writing rinks, seasons and grids. Keyword-only; time and person are passed in; safe to call twice."""

import datetime as dt
import uuid
from dataclasses import dataclass

from django.db import transaction
from django.utils.text import slugify

from rinklog.geometry.grid import Grid as Plan
from rinklog.rink.models import Grid, Rink, Season, Zone


@dataclass(frozen=True)
class RinkSize:
    """Length, width and corner radius [m]."""

    length_m: float
    width_m: float
    corner_m: float = 0.0


def make_grid(*, rink: Rink, rows: int, columns: int, now: dt.datetime) -> Grid:
    """Lay a grid over the rink as it is now, with the true area of each zone."""
    with transaction.atomic():
        grid = Grid.objects.create(
            rink=rink,
            rows=rows,
            columns=columns,
            length_m=rink.length_m,
            width_m=rink.width_m,
            corner_m=rink.corner_m,
            made_at=now,
        )
        plan = Plan(rink.length_m, rink.width_m, rink.corner_m, rows, columns)
        Zone.objects.bulk_create(
            Zone(grid=grid, row=zone.row, column=zone.column, area_m2=zone.area_m2) for zone in plan.zones
        )
    return grid


def start_season(*, rink: Rink, grid: Grid, name: str, starts_on: dt.date) -> Season:
    """Begin a season on a grid; the same name again is the same season."""
    with transaction.atomic():
        season, _made = Season.objects.get_or_create(
            rink=rink, name=name, defaults={"grid": grid, "starts_on": starts_on}
        )
    return season


def make_rink(
    *,
    name: str,
    place: str,
    size: RinkSize,
    time_zone: str,
    rows: int,
    columns: int,
    starts_on: dt.date,
    now: dt.datetime,
) -> Rink:
    """Make a rink with its first grid and season."""
    with transaction.atomic():
        rink = Rink.objects.create(
            slug=free_slug(name),
            name=name,
            place=place,
            length_m=size.length_m,
            width_m=size.width_m,
            corner_m=size.corner_m,
            time_zone=time_zone,
        )
        grid = make_grid(rink=rink, rows=rows, columns=columns, now=now)
        start_season(rink=rink, grid=grid, name=season_name(starts_on), starts_on=starts_on)
    return rink


def season_name(starts_on: dt.date) -> str:
    """Name a winter by its two years, from either side of New Year."""
    first = starts_on.year if starts_on.month >= 7 else starts_on.year - 1
    return f"{first}–{(first + 1) % 100:02d}"


def free_slug(name: str) -> str:
    """A short address for the rink that no other rink has."""
    base = slugify(name)[:40] or "rink"
    slug = base
    while Rink.objects.filter(slug=slug).exists():
        slug = f"{base}-{uuid.uuid4().hex[:4]}"
    return slug
