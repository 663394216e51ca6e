"""The season's sums, checked against a plain walk over raw rows read by sqlite3 (not our queries, not Django's)."""

import csv
import datetime as dt
import io
from collections import Counter, defaultdict
from dataclasses import replace
from typing import Any
from uuid import uuid4
from zoneinfo import ZoneInfo

import pytest
from django.db import connection
from django.test import Client

from rinklog.reports.season import season_report
from rinklog.work.content import EntryContent
from rinklog.work.services import amend_entry, undo_entry, withdraw_entry
from tests.support.cast import NOW, Cast
from tests.support.counting import queries_of

OSLO = ZoneInfo("Europe/Oslo")


def oslo(text: str) -> dt.datetime:
    """A moment on the rink's clock."""
    return dt.datetime.fromisoformat(text).replace(tzinfo=OSLO)


def raw(sql: str) -> list[Any]:
    """Rows straight from the database driver."""
    connection.ensure_connection()
    cursor = connection.connection.cursor()
    return list(cursor.execute(sql))


def week_of(stored: object) -> dt.date:
    """The Monday of a stored UTC time on Oslo's clock, by ISO 8601 year and week."""
    local = dt.datetime.fromisoformat(str(stored)).replace(tzinfo=dt.UTC).astimezone(OSLO)
    year, week, _day = local.isocalendar()
    return dt.date.fromisocalendar(year, week, 1)


def a_season(cast: Cast) -> None:
    """Floods and snow over the clock change and New Year, one amended, one withdrawn, one undone."""
    when = [
        "2025-11-02T23:59",  # the last minute of a Sunday
        "2025-11-03T00:00",  # the first of a Monday
        "2025-12-28T23:30",
        "2025-12-29T00:10",
        "2025-12-31T23:50",
        "2026-01-01T00:10",
        "2026-01-04T23:59",
        "2026-01-05T00:30",
        "2026-03-29T01:30",  # the clock jumps from 2 to 3 that night
        "2026-03-29T23:59",
        "2026-03-30T00:01",
    ]
    for number, text in enumerate(when):
        cast.flood(
            now=oslo(text),
            water_m3=0.1 * (number + 1),
            by=(cast.cleo, cast.dag)[number % 2],
            minutes={cast.cleo.id: 10.0 + number, cast.bo.id: 7.5},
        )
    content = EntryContent(
        started_at=oslo("2026-01-02T20:00"),
        zone_ids=(cast.zones[0].id,),
        minutes={cast.cleo.id: 5.0},
        water_m3=9.0,
        details={"by": "amount", "water": "cold", "tool": "hose"},
    )
    values: dict[str, Any] = {"zone_ids": content.zone_ids, "minutes": content.minutes, "water_m3": 9.0}
    wrong = [cast.flood(now=oslo("2026-01-02T20:00"), **values) for _ in range(3)]
    right = replace(content, water_m3=0.9)
    amend_entry(
        id=uuid4(),
        entry=wrong[0],
        content=right,
        reason="a nought too many",
        by=cast.cleo,
        now=NOW,
        local_day=dt.date(2026, 1, 2),
    )
    withdraw_entry(id=uuid4(), entry=wrong[1], reason="twice", by=cast.cleo, now=NOW)
    saved = wrong[2].recorded_at
    within = dt.timedelta(minutes=15)
    assert undo_entry(id=uuid4(), entry=wrong[2], by=cast.cleo, now=saved, within=within)
    cast.work("snow-removal", now=oslo("2026-01-01T12:00"), details={"tools": ["shovel"]})


@pytest.mark.django_db
def test_sums_by_kind_week_and_person_are_those_of_the_raw_rows(cast: Cast) -> None:
    a_season(cast)
    report = season_report(cast.season, OSLO)
    entries = raw("select kind, started_at, water_m3 from work_entry where state = 'standing'")
    labour = raw(
        "select e.kind, e.started_at, p.name, w.minutes from work_entryperson w "
        "join work_entry e on e.id = w.entry_id join crew_person p on p.id = w.person_id where e.state = 'standing'"
    )
    assert report.whole.entries == len(entries) == 13
    # 0.1 + 0.2 + … + 1.1 m³ and the amended 0.9 m³.
    assert report.whole.water_m3 == pytest.approx(7.5)
    # 11 floods of 10, 11, … 20 min and 7.5 min each, the amended 5 min, the snow's 30 min.
    assert report.whole.labour_min == pytest.approx(165 + 82.5 + 5 + 30)
    assert {kind: sums.entries for kind, sums in report.kinds.items()} == dict(
        Counter(row[0] for row in entries)
    )
    weeks: dict[dt.date, list[float]] = defaultdict(lambda: [0, 0.0, 0.0])
    for _kind, started, water in entries:
        weeks[week_of(started)][0] += 1
        weeks[week_of(started)][1] += water or 0
    people: dict[str, float] = defaultdict(float)
    for _kind, started, name, minutes in labour:
        weeks[week_of(started)][2] += minutes
        people[name] += minutes
    for monday, week in report.weeks.items():
        assert [week.entries, week.water_m3, week.labour_min] == pytest.approx(weeks[monday]), monday
    assert set(weeks) <= set(report.weeks)
    assert {name: sums.labour_min for name, sums in report.people.items()} == pytest.approx(dict(people))


@pytest.mark.django_db
def test_new_year_and_the_clock_change_cut_no_week_in_two(cast: Cast) -> None:
    a_season(cast)
    weeks = season_report(cast.season, OSLO).weeks
    # ISO 8601: 29 December 2025 is a Monday; 1 and 4 January 2026 belong to its week. Three floods, snow, one amended.
    assert weeks[dt.date(2025, 12, 29)].entries == 6
    assert weeks[dt.date(2025, 12, 29)].by_kind == {"flood": 5, "snow-removal": 1}
    # Sunday 29 March 2026 has 23 hours; its last minute is the week before, not Monday's.
    assert weeks[dt.date(2026, 3, 23)].entries == 2
    assert weeks[dt.date(2026, 3, 30)].entries == 1
    # Weeks in which nothing was done are there too: 27 October to 30 March are 23 Mondays.
    assert len(weeks) == 23
    assert weeks[dt.date(2026, 2, 2)].entries == 0


@pytest.mark.django_db
def test_an_empty_season_has_no_weeks(cast: Cast) -> None:
    report = season_report(cast.season, OSLO)
    assert (report.weeks, report.whole.entries) == ({}, 0)


@pytest.mark.django_db
@pytest.mark.parametrize("table", ["kinds", "weeks", "people"])
def test_each_table_is_rfc_4180_and_says_what_the_page_says(cast: Cast, client: Client, table: str) -> None:
    a_season(cast)
    cast.cleo.name = 'Cleo "C", of the hut'
    cast.cleo.save()
    client.force_login(cast.eli)
    answer = client.get(f"/r/{cast.rink.slug}/season/{cast.season.id}/{table}.csv")
    assert answer.headers["Content-Type"] == "text/csv; charset=utf-8"
    text = answer.content.decode()
    assert text.endswith("\r\n")
    assert "\n" not in text.replace("\r\n", "")
    rows = list(csv.DictReader(io.StringIO(text), strict=True))
    assert sum(float(row["labour_min"]) for row in rows) == pytest.approx(282.5)
    if table == "people":
        # 11 floods of 10, 11, … 20 min, the amended 5 min, the snow's 30 min.
        assert {row["person"]: row["labour_min"] for row in rows} == {
            'Cleo "C", of the hut': "200",
            "Bo": "82.5",
        }
    else:
        assert sum(float(row["water_m3"]) for row in rows) == pytest.approx(7.5)
        assert sum(int(row["entries"]) for row in rows) == 13


@pytest.mark.django_db
def test_gallons_and_litres_follow_the_person(cast: Cast, client: Client) -> None:
    cast.flood(water_m3=3.785412)  # NIST SP 811, appendix B: 1 US gallon = 3.785 412 E-03 m³
    cast.eli.water_unit = "gal"
    cast.eli.save()
    client.force_login(cast.eli)
    page = client.get(f"/r/{cast.rink.slug}/season/").content.decode()
    assert "1,000 gal" in page
    assert 'role="img"' in page
    assert "<title>Water by week (gal)</title>" in page


@pytest.mark.django_db
def test_the_page_asks_the_same_number_of_queries_whatever_the_season_holds(
    cast: Cast, client: Client
) -> None:
    client.force_login(cast.eli)
    path = f"/r/{cast.rink.slug}/season/"
    cast.flood()
    few = queries_of(client, path)
    a_season(cast)
    many = queries_of(client, path)
    assert few == many


@pytest.mark.django_db
def test_another_rinks_season_is_not_found(cast: Cast, client: Client) -> None:
    client.force_login(cast.ada)
    other = cast.other_rink.seasons.get().id
    assert client.get(f"/r/{cast.rink.slug}/season/{other}/").status_code == 404
    assert client.get(f"/r/{cast.rink.slug}/season/{other}/weeks.csv").status_code == 404
    assert client.get(f"/r/{cast.rink.slug}/season/{cast.season.id}/costs.csv").status_code == 404
