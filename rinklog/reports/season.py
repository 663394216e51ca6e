"""What a season took: water, labour and counts, by kind, by week on the rink's clock, and by person.

Entries that were amended, withdrawn or undone do not count; what replaced them does.
"""

import datetime as dt
from collections import defaultdict
from dataclasses import dataclass, field
from zoneinfo import ZoneInfo

from django.db.models import Case, Count, IntegerField, Max, Min, Sum, Value, When

from rinklog.clock import day_bounds, local_day
from rinklog.rink.models import Season
from rinklog.work.models import Entry, EntryPerson

WEEK = dt.timedelta(days=7)


@dataclass
class Sums:
    """Entries, water [m³] and labour [min]."""

    entries: int = 0
    water_m3: float = 0.0
    labour_min: float = 0.0


@dataclass
class Week(Sums):
    """The sums of one week, and its entries by kind."""

    by_kind: dict[str, int] = field(default_factory=dict)


@dataclass(frozen=True)
class SeasonReport:
    """Everything the season's page, its CSV files and its charts show."""

    season: Season
    whole: Sums
    kinds: dict[str, Sums]
    weeks: dict[dt.date, Week]  # by their Monday
    people: dict[str, Sums]  # by name; water is not a person's

    @property
    def kinds_used(self) -> list[str]:
        """The kinds of work that were done at all."""
        return list(self.kinds)


def season_report(season: Season, zone: ZoneInfo) -> SeasonReport:
    """Sum a season up in three queries, whatever its size."""
    entries = Entry.objects.filter(season=season, state=Entry.State.STANDING)
    ends = entries.aggregate(first=Min("started_at"), last=Max("started_at"))
    mondays = mondays_between(ends["first"], ends["last"], zone)
    report = SeasonReport(season, Sums(), {}, {monday: Week() for monday in mondays}, {})
    if mondays:
        _add_entries(report, entries.annotate(week=_week("started_at", mondays, zone)), mondays)
        labour = EntryPerson.objects.filter(entry__season=season, entry__state=Entry.State.STANDING)
        _add_labour(report, labour.annotate(week=_week("entry__started_at", mondays, zone)), mondays)
    return report


def mondays_between(first: dt.datetime | None, last: dt.datetime | None, zone: ZoneInfo) -> list[dt.date]:
    """The Mondays of all weeks from the first moment to the last, on the rink's clock; none without moments."""
    if first is None or last is None:
        return []
    monday, end = monday_of(local_day(first, zone)), local_day(last, zone)
    return [monday + number * WEEK for number in range((end - monday).days // 7 + 1)]


def monday_of(day: dt.date) -> dt.date:
    """The Monday on or before a day (ISO 8601: weeks begin on Monday)."""
    return day - dt.timedelta(days=day.weekday())


def _week(moment: str, mondays: list[dt.date], zone: ZoneInfo) -> Case:
    """The number of the week a moment falls in, cut at midnight of the rink's Mondays."""
    whens = [
        When(**{f"{moment}__lt": day_bounds(monday + WEEK, zone)[0]}, then=Value(number))
        for number, monday in enumerate(mondays)
    ]
    return Case(*whens, output_field=IntegerField())


def _add_entries(report: SeasonReport, entries: object, mondays: list[dt.date]) -> None:
    rows = entries.values("kind", "week").annotate(entries=Count("id"), water=Sum("water_m3"))  # type: ignore[attr-defined]
    for row in rows.order_by("kind", "week"):
        week = report.weeks[mondays[row["week"]]]
        week.by_kind[row["kind"]] = row["entries"]
        for sums in (report.whole, report.kinds.setdefault(row["kind"], Sums()), week):
            sums.entries += row["entries"]
            sums.water_m3 += row["water"] or 0.0


def _add_labour(report: SeasonReport, labour: object, mondays: list[dt.date]) -> None:
    rows = labour.values("entry__kind", "week", "person_id", "person__name").annotate(  # type: ignore[attr-defined]
        entries=Count("id"), minutes=Sum("minutes")
    )
    people: dict[object, Sums] = defaultdict(Sums)
    names: dict[object, str] = {}
    for row in rows.order_by("person__name", "person_id", "entry__kind", "week"):
        names[row["person_id"]] = row["person__name"]
        person = people[row["person_id"]]
        person.entries += row["entries"]
        sums = (report.whole, report.kinds[row["entry__kind"]], report.weeks[mondays[row["week"]]], person)
        for one in sums:
            one.labour_min += row["minutes"]
    report.people.update(_by_name(people, names))


def _by_name(people: dict[object, Sums], names: dict[object, str]) -> dict[str, Sums]:
    """People by name, most labour first; a name that two people have gets a number."""
    found: dict[str, Sums] = {}
    for id, sums in sorted(people.items(), key=lambda one: (-one[1].labour_min, names[one[0]])):
        name, number = names[id], 2
        while name in found:
            name, number = f"{names[id]} ({number})", number + 1
        found[name] = sums
    return found
