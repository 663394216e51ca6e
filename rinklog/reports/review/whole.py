"""The review itself: gathered once, frozen, and told apart from another by its fingerprint."""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.reports.review import (
    asked,
    days,
    earlier,
    floods,
    hazards,
    held,
    labour,
    lessons,
    money,
    opening,
    practice,
    snow,
    water,
    zones,
)
from rinklog.reports.review.cuts import Seconds
from rinklog.reports.review.facts import Facts
from rinklog.reports.review.floods import SNOW_MM
from rinklog.reports.review.span import Span
from rinklog.reports.review.tables import FIGURE, Shape, Table
from rinklog.reports.review.weather import STRONG_WIND_MS, Winter, winter_of
from rinklog.rink.models import Season
from rinklog.rink.queries import seasons as seasons_of
from rinklog.rink.queries import zones as zones_of
from rinklog.weather.hours import Hour
from rinklog.work.models import Hazard, Repair

FIGURES_SHAPE = Shape("figures", lazy("The season in figures"), FIGURE)
WEATHER_SHAPE = Shape("weather", lazy("The winter"), FIGURE)


@dataclass(frozen=True)
class SeasonReview:
    """One season's tables, frozen. Everything that is shown or written comes from here."""

    season_id: UUID
    season: str
    rink: str
    first: dt.date
    last: dt.date
    made_at: dt.datetime
    tables: tuple[Table, ...]

    def table(self, key: str) -> Table:
        """One table by its key. Errors: KeyError."""
        return {table.key: table for table in self.tables}[key]


Hours = Callable[[Span], list[Hour]]


def no_hours(span: Span) -> list[Hour]:
    """What is known of the weather where nothing is stored."""
    return []


def season_review(
    season: Season,
    *,
    now: dt.datetime,
    hours: Hours = no_hours,
    cold: earlier.Cold | None = None,
    progress: Callable[[int, int], Any] = lambda done, total: None,
) -> SeasonReview:
    """Gather a season's review. `hours` reads its weather; `cold` gives freezing degree days of earlier seasons."""
    span = Span(season, ZoneInfo(season.rink.time_zone), now)
    facts = Facts(span)
    winter = winter_of(hours(span), span.zone)
    steps = _steps(span, facts, (winter, hours), dict(cold or {}), now)
    tables: list[Table] = []
    for done, step in enumerate(steps):
        progress(done, len(steps))
        tables += step()
    progress(len(steps), len(steps))
    return SeasonReview(season.id, season.name, season.rink.name, span.first, span.last, now, tuple(tables))


def _steps(
    span: Span,
    facts: Facts,
    weather_of: tuple[Winter, Hours],
    cold: dict[UUID, float | None],
    now: dt.datetime,
) -> list[Callable[[], list[Table]]]:
    """The review in the order it is read, each step a few tables."""
    winter, hours = weather_of
    changes = opening.changes_by_season(span.season.rink)
    opened = opening.open_days(changes.get(span.season.id, []), span.bounds[1], span.zone)
    found = list(
        Hazard.objects.filter(season=span.season)
        .exclude(state=Hazard.State.WITHDRAWN)
        .exclude(zones=None)
        .annotate(seconds=Seconds("found_at"))
        .values_list("zones", "seconds", "kind")
    )
    sheet = zones_of(span.season.grid)
    cold[span.season.id] = winter.freezing_degree_days if winter.known else None

    def of_floods() -> list[Table]:
        judged = floods.judge(facts, found, winter)
        told = [floods.summary(judged), floods.spoilers(judged), floods.every(judged, span.zone)]
        return told + practice.practice(judged, span.zone)

    lives = cache(lambda: hazards.lives(span))
    people = cache(lambda: labour.by_person(facts))

    def of_lessons() -> list[Table]:
        return [lessons.lessons(facts), asked.asked(facts, lives(), people().notes)]

    return [
        lambda: [figures(facts, opened, winter), days.by_day(facts, opened, winter), weather(winter)],
        lambda: [water.by_week(facts), water.by_kind(facts), water.meter(facts)],
        lambda: [people(), labour.by_role(facts), labour.by_kind(facts)],
        of_floods,
        lambda: [snow.summary(facts), snow.by_tools(facts)],
        lambda: [hazards.by_kind(lives()), hazards.every(lives(), span)],
        lambda: held.worked(span, air_of_repairs(span, winter, hours), {zone.id: zone for zone in sheet}),
        lambda: [zones.by_zone(facts, sheet, found)],
        lambda: [money.money(facts)],
        lambda: [earlier.by_season(span, list(seasons_of(span.season.rink)), changes, cold, now)],
        of_lessons,
    ]


def air_of_repairs(span: Span, winter: Winter, hours: Hours) -> Winter:
    """The weather of this season, and of every earlier one in which something was repaired."""
    before = Season.objects.filter(rink=span.season.rink, starts_on__lt=span.first)
    repaired = Repair.objects.filter(hazard__season__in=before).values("hazard__season_id")
    known = dict(winter.hours)
    for season in before.filter(id__in=repaired).select_related("rink"):
        known |= winter_of(hours(Span(season, span.zone, span.now)), span.zone).hours
    return Winter(hours=known)


def figures(facts: Facts, opened: opening.Open, winter: Winter) -> Table:
    """What people ask for first."""
    water_m3, hours = water.total_m3(facts), labour.total_min(facts) / 60
    days_open = opened.skateable if opened.changes else None
    area = facts.span.area_m2
    rows: list[tuple[Any, float | None, str, int]] = [
        (_("Water"), water_m3, "m³", 3),
        (_("Water per square metre"), 1000 * water_m3 / area, "l/m²", 1),
        (_("Water per skateable day"), water_m3 / days_open if days_open else None, "m³", 3),
        (_("Labour"), hours, "h", 2),
        (_("Labour per skateable day"), hours / days_open if days_open else None, "h", 2),
        (_("Skateable days"), days_open, _("days"), 0),
        (_("Open or partly open"), opened.hours if opened.changes else None, "h", 1),
        (_("Entries"), sum(day.entries for day in facts.days), "", 0),
        (_("Freezing degree days"), winter.freezing_degree_days if winter.known else None, "°C·d", 1),
    ]
    notes = []
    if not facts.days:
        notes.append(_("Nothing is written down in this season yet."))
    if not opened.changes:
        notes.append(_("Nobody set the rink open or closed: skateable days are not known."))
    if not winter.known:
        notes.append(
            _("No weather is stored for this season: nothing is set against degree days, snow or wind.")
        )
    return Table.of_figures(FIGURES_SHAPE, rows, notes)


def weather(winter: Winter) -> Table:
    """The winter in figures; empty when no weather is stored."""
    if not winter.known:
        return Table.of(WEATHER_SHAPE, [], [_("No weather is stored for this season.")])
    counting = winter.counting
    windy = sum((day.wind_ms or 0.0) >= STRONG_WIND_MS for day in counting)
    rows: list[tuple[Any, float | None, str, int]] = [
        (_("Days with weather"), len(counting), _("days"), 0),
        (_("Freezing degree days"), winter.freezing_degree_days, "°C·d", 1),
        (_("Thawing degree days"), winter.thawing_degree_days, "°C·d", 1),
        (_("Thaw days in the middle of the winter"), winter.thaw_days, _("days"), 0),
        (_("Coldest hour"), min(day.low_c for day in counting), "°C", 1),
        (_("Snowfall, as water"), sum(day.snow_mm for day in counting), "mm", 1),
        (_("Days with snowfall"), sum(day.snow_mm >= SNOW_MM for day in counting), _("days"), 0),
        (_("Rain"), sum(day.rain_mm for day in counting), "mm", 1),
        (_("Days with a strong breeze or more"), windy, _("days"), 0),
    ]
    return Table.of_figures(WEATHER_SHAPE, rows, [_("A day counts when at least 18 of its hours are known.")])
