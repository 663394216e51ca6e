"""Writing rinks, their grids and what is known of their zones. Keyword-only; time and person are passed in."""

import datetime as dt
import uuid
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import Any
from uuid import UUID

from django.db import transaction
from django.db.models import ProtectedError
from django.utils.text import slugify
from django.utils.translation import gettext_lazy as _

from rinklog.facts import Refused
from rinklog.geometry.grid import Grid as Plan
from rinklog.rink.models import BucketTest, ChosenRule, Grid, Rink, Season, Zone
from rinklog.rink.practice import BY_KEY


@dataclass(frozen=True)
class RinkSize:
    """Length, width and corner radius [m]."""

    length_m: float
    width_m: float
    corner_m: float = 0.0


@dataclass(frozen=True)
class Position:
    """Where the near left corner lies [°], and where the length points to, clockwise from north [°]."""

    latitude: float | None = None
    longitude: float | None = None
    bearing_deg: float | None = None


@dataclass(frozen=True)
class Divided:
    """A size and how it is divided into zones."""

    size: RinkSize
    rows: int
    columns: int


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
    position: Position | None = None,
    id: UUID | None = None,
) -> Rink:
    """Make a rink with its first grid and season; the same id again is the same rink."""
    with transaction.atomic():
        rink, made = Rink.objects.get_or_create(
            id=id or uuid.uuid4(),
            defaults={
                "slug": free_slug(name),
                "name": name,
                "place": place,
                "time_zone": time_zone,
                **asdict(size),
                **asdict(position or Position()),
            },
        )
        if made:
            grid = make_grid(rink=rink, rows=rows, columns=columns, now=now)
            start_season(rink=rink, grid=grid, name=season_name(starts_on), starts_on=starts_on)
    return rink


def describe_rink(*, rink: Rink, name: str, place: str, time_zone: str, position: Position) -> None:
    """Set what can change at any time: names, time zone, position. The size belongs to the grid."""
    Rink.objects.filter(id=rink.id).update(name=name, place=place, time_zone=time_zone, **asdict(position))
    rink.refresh_from_db()


def divide_again(*, rink: Rink, season: Season, into: Divided, now: dt.datetime) -> Grid:
    """Give a season another size or grid, while nothing is recorded on the one it has.

    Refused once something is: what is recorded keeps its zones. The database's own protection decides.
    """
    try:
        with transaction.atomic():
            old = Season.objects.select_for_update().get(id=season.id).grid
            grid = measure_and_divide(rink=rink, into=into, now=now)
            season.grid = grid
            season.save(update_fields=["grid"])
            if not old.seasons.exists():
                old.delete()
    except ProtectedError:
        rink.refresh_from_db()
        season.refresh_from_db()
        raise Refused(
            "rows",
            _("Work is recorded on this grid, so it stays as it is. The next season can have another."),
        ) from None
    return grid


def measure_and_divide(*, rink: Rink, into: Divided, now: dt.datetime) -> Grid:
    """Set the rink's size and lay a new grid over it."""
    Rink.objects.filter(id=rink.id).update(**asdict(into.size))
    rink.refresh_from_db()
    return make_grid(rink=rink, rows=into.rows, columns=into.columns, now=now)


def survey_zones(*, grid: Grid, known: dict[int, dict[str, Any]]) -> int:
    """Set depth_m, sun, wears or low_spot of zones, by zone id; what is not given stays. Returns the zones set.

    Zones of another grid are left alone.
    """
    with transaction.atomic():
        zones = list(Zone.objects.select_for_update().filter(grid=grid, id__in=known))
        for zone in zones:
            for name, value in known[zone.id].items():
                setattr(zone, name, value)
        Zone.objects.bulk_update(zones, ["depth_m", "sun", "wears", "low_spot"])
    return len(zones)


def mark_low_spots(*, grid: Grid, zone_ids: Iterable[int]) -> None:
    """Say which zones of a grid lie low; all others do not."""
    with transaction.atomic():
        zones = Zone.objects.filter(grid=grid)
        zones.filter(low_spot=True).exclude(id__in=zone_ids).update(low_spot=False)
        zones.filter(low_spot=False, id__in=zone_ids).update(low_spot=True)


def choose_rule(*, rink: Rink, key: str, value: float, by: Any, now: dt.datetime) -> None:
    """Set a rule of practice for this rink. Refused outside what the rule allows."""
    rule = BY_KEY[key]
    if not rule.lowest <= value <= rule.highest:
        raise Refused("value", _("That is outside what this rule allows."))
    ChosenRule.objects.update_or_create(
        rink=rink, key=key, defaults={"value": value, "by": by, "chosen_at": now}
    )


def return_to_default(*, rink: Rink, key: str) -> None:
    """Work by the published default again."""
    ChosenRule.objects.filter(rink=rink, key=key).delete()


def add_bucket_test(
    *, id: UUID, rink: Rink, hose: str, water_m3: float, seconds: float, by: Any, now: dt.datetime
) -> BucketTest:
    """Keep how fast a hose filled a bucket; the same id again is the same test."""
    test, _made = BucketTest.objects.get_or_create(
        id=id,
        defaults={
            "rink": rink,
            "hose": hose,
            "water_m3": water_m3,
            "seconds": seconds,
            "by": by,
            "measured_at": now,
        },
    )
    return test


def remove_bucket_test(*, test: BucketTest) -> None:
    """Drop a test that went wrong."""
    BucketTest.objects.filter(id=test.id).delete()


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
