"""The season's review against plain sums by sqlite3 and csv, and against what was counted by hand."""

import csv
import datetime as dt
import io
from collections import defaultdict
from typing import Any
from uuid import uuid4
from zoneinfo import ZoneInfo

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from rinklog.reports.review.tables import Table
from rinklog.reports.review.whole import SeasonReview, season_review
from rinklog.reports.services import ask_for_review, build_review
from rinklog.work.entry_events import add_event
from rinklog.work.hazards import add_event as say
from rinklog.work.services import withdraw_entry
from tests.reports.large import generate
from tests.support.cast import NOW, Cast
from tests.support.hazards import put_up
from tests.support.records import an_opening

pytestmark = pytest.mark.django_db
OSLO = ZoneInfo("Europe/Oslo")
DAY = dt.timedelta(days=1)


def review(cast: Cast, now: dt.datetime = NOW) -> SeasonReview:
    return season_review(cast.season, now=now)


def figures(table: Table) -> dict[str, Any]:
    return {str(row[0]): row[1] for row in table.rows}


def raw(sql: str) -> list[Any]:
    """Rows straight from the database driver."""
    connection.ensure_connection()
    return list(connection.connection.cursor().execute(sql))


def monday(stored: object) -> str:
    local = dt.datetime.fromisoformat(str(stored)).replace(tzinfo=dt.UTC).astimezone(OSLO)
    year, week, _day = local.isocalendar()
    return dt.date.fromisocalendar(year, week, 1).isoformat()


def test_water_and_hours_of_twenty_thousand_entries_are_those_of_sqlite_and_csv(
    cast: Cast, client: Client
) -> None:
    generate(cast, 20_000)
    built, _due = ask_for_review(season=cast.season, now=NOW)
    build_review(id=built.id, now=NOW)
    entries = raw("select kind, started_at, water_m3 from work_entry where state = 'standing'")
    labour = raw(
        "select e.started_at, e.kind, p.name, w.minutes from work_entryperson w join work_entry e on e.id = w.entry_id "
        "join crew_person p on p.id = w.person_id where e.state = 'standing'"
    )
    weeks: dict[str, list[float]] = defaultdict(lambda: [0.0, 0.0, 0.0])
    kinds: dict[str, float] = defaultdict(float)
    people: dict[str, float] = defaultdict(float)
    for kind, started, water in entries:
        weeks[monday(started)][0] += 1
        weeks[monday(started)][1] += water or 0.0
        kinds[kind] += water or 0.0
    for started, _kind, name, minutes in labour:
        weeks[monday(started)][2] += minutes / 60
        people[name] += minutes / 60
    assert len(entries) == 18_000
    client.force_login(cast.ada)
    found = {row["week_from"]: row for row in rows_of(client, cast, "weeks")}
    assert set(found) == set(weeks)
    for key, (n, water, hours) in weeks.items():
        assert int(found[key]["entries"]) == n
        assert float(found[key]["water_m3"]) == pytest.approx(water, abs=5.1e-4), key
        assert float(found[key]["labour_h"]) == pytest.approx(hours, abs=5.1e-3), key
    by_kind = {row["kind"]: float(row["water_m3"]) for row in rows_of(client, cast, "water-by-kind")}
    assert by_kind["flood"] == pytest.approx(kinds["flood"], abs=5.1e-4)
    assert by_kind["total"] == pytest.approx(sum(kinds.values()), abs=5.1e-4)
    by_person = {row["person"]: float(row["labour_h"]) for row in rows_of(client, cast, "labour-by-person")}
    assert by_person == pytest.approx(dict(people), abs=5.1e-3)
    by_zone = [float(row["water_m3"]) for row in rows_of(client, cast, "zones")]
    assert sum(by_zone) == pytest.approx(sum(kinds.values()), abs=5e-3)


def rows_of(client: Client, cast: Cast, table: str) -> list[dict[str, str]]:
    answer = client.get(f"/r/{cast.rink.slug}/season/{cast.season.id}/review/{table}.csv")
    assert answer.status_code == 200
    return list(csv.DictReader(io.StringIO(answer.content.decode()), strict=True))


def test_a_review_asks_the_same_number_of_queries_whatever_the_season_holds(cast: Cast) -> None:
    def asked() -> int:
        with CaptureQueriesContext(connection) as context:
            review(cast)
        return len(context)

    cast.flood()
    cast.work("inspection")
    few = asked()
    generate(cast, 300)
    for number in range(5):
        put_up(cast, now=NOW - number * DAY)
        an_opening(cast, "open", NOW - number * DAY)
    assert asked() == few


def test_days_and_weeks_are_cut_on_the_rinks_clock_over_new_year_and_clock_change(cast: Cast) -> None:
    for text in (
        "2025-12-31T23:50",
        "2026-01-01T00:10",
        "2026-03-29T01:30",
        "2026-03-29T23:59",
        "2026-03-30T00:01",
    ):
        cast.flood(now=dt.datetime.fromisoformat(text).replace(tzinfo=OSLO), water_m3=1.0)
    found = review(cast, dt.datetime(2026, 4, 2, tzinfo=dt.UTC))
    days = {row["day"]: row["floods"] for row in found.table("days").dicts() if row["floods"]}
    assert days == {"2025-12-31": 1, "2026-01-01": 1, "2026-03-29": 2, "2026-03-30": 1}
    weeks = {row["week_from"]: row["floods"] for row in found.table("weeks").dicts() if row["floods"]}
    # 29 December 2025, 23 and 30 March 2026 are Mondays.
    assert weeks == {"2025-12-29": 2, "2026-03-23": 2, "2026-03-30": 1}


def test_an_empty_season_says_so_and_divides_by_nothing(cast: Cast) -> None:
    found = review(cast)
    said = " ".join(found.table("figures").notes)
    assert "Nothing is written down in this season yet." in said
    assert "skateable days are not known" in said
    assert "No weather is stored" in said
    assert figures(found.table("figures"))["Water per skateable day"] is None
    assert found.table("weeks").rows == ()


def test_skateable_days_come_from_what_people_set(cast: Cast) -> None:
    cast.flood(water_m3=1.2)
    an_opening(cast, "open", NOW - 4 * DAY)  # 11 January 21:30 in Oslo
    an_opening(cast, "closed", NOW - 2 * DAY)  # 13 January 21:30
    an_opening(cast, "partly", NOW - DAY / 2)  # 15 January 9:30, to now
    found = figures(review(cast).table("figures"))
    assert found["Skateable days"] == 4  # 11, 12, 13 and 15 January
    assert found["Open or partly open"] == 60.0
    assert found["Water per skateable day"] == 0.3


def test_hazards_count_open_days_bare_hours_and_comebacks(cast: Cast) -> None:
    bump = put_up(cast, now=NOW - 10 * DAY)
    for state, days in (("marked", 9), ("holding", 6), ("back-again", 4), ("closed", 1)):
        say(id=uuid4(), hazard=bump, state=state, by=cast.cleo, now=NOW - days * DAY, at=NOW - days * DAY)
    (row,) = review(cast).table("hazards").dicts()
    # Open from day 10 to 6 and from 4 to 1; the cone came out a day late and stayed.
    assert (row["open_days"], row["unmarked_h"], row["comebacks"]) == (7.0, 24.0, 1)


def metered(cast: Cast, hours: int, before: float, after: float, **more: Any) -> None:
    details = {
        "by": "meter",
        "water": "cold",
        "tool": "hose",
        "meter_before_m3": before,
        "meter_after_m3": after,
    }
    water = more.pop("water_m3", after - before)
    cast.flood(now=NOW + dt.timedelta(hours=hours), water_m3=water, details=details | more)


def test_the_meters_own_sum_stands_against_the_entries(cast: Cast) -> None:
    metered(cast, 0, 100.0, 102.0)
    cast.flood(now=NOW + dt.timedelta(hours=1), water_m3=0.7)
    metered(cast, 2, 103.0, 104.0)
    found = review(cast, NOW + DAY).table("meter")
    told = figures(found)
    assert told["The meter moved, where its readings follow each other"] == 4.0
    assert told["Difference: meter less entries"] == pytest.approx(0.3)
    assert "water for other uses" in found.notes[0]


def test_a_meter_that_goes_back_or_was_replaced_is_said_and_never_counted(cast: Cast) -> None:
    metered(cast, 0, 100.0, 102.0)
    metered(cast, 2, 7.0, 8.0)
    change = {"meter_change": "replaced", "meter_old_end_m3": 8.5, "meter_new_start_m3": 0.0}
    metered(cast, 4, 8.0, 0.25, water_m3=0.75, **change)
    found = review(cast, NOW + DAY).table("meter")
    assert figures(found)["The meter moved, where its readings follow each other"] == 3.75
    assert "1 reading is lower than the one before it" in " ".join(found.notes)
    assert "was replaced during 1 flood" in " ".join(found.notes)


def test_a_flood_is_spoilt_only_when_somebody_saw_it_in_time_and_before_the_next(cast: Cast) -> None:
    hour = dt.timedelta(hours=1)
    first, second = cast.flood(now=NOW), cast.flood(now=NOW + 10 * hour)
    unseen = cast.flood(now=NOW + 100 * hour)
    zone = cast.zones[0].id
    cast.work("inspection", now=NOW + 12 * hour, zone_ids=(zone,), conditions={zone: "shell-ice"})
    cast.work(
        "inspection", now=NOW + 160 * hour, conditions={zone: "good"}, zone_ids=(zone,)
    )  # too late to speak of the last one
    add_event(id=uuid4(), entry=first, what="frozen", by=cast.cleo, now=NOW + 3 * hour)
    rows = review(cast, NOW + 8 * DAY).table("every-flood").dicts()
    assert [(row["outcome"], row["by"], row["hours_to_freeze"]) for row in rows] == [
        ("good", "", 3.0),
        ("spoilt", "shell-ice", None),
        ("not-seen", "", None),
    ]
    assert second.id != unseen.id


def test_a_withdrawn_flood_leaves_every_table(cast: Cast) -> None:
    wrong = cast.flood(water_m3=9.0)
    cast.flood(water_m3=1.0)
    withdraw_entry(id=uuid4(), entry=wrong, reason="twice", by=cast.cleo, now=NOW)
    found = review(cast)
    assert figures(found.table("figures"))["Water"] == 1.0
    assert len(found.table("every-flood").rows) == 1
    assert sum(row["floods"] for row in found.table("days").dicts()) == 1  # type: ignore[misc]


def test_what_is_built_holds_until_a_late_entry_changes_it(cast: Cast) -> None:
    cast.flood(water_m3=1.0)
    built, due = ask_for_review(season=cast.season, now=NOW)
    assert due
    assert build_review(id=built.id, now=NOW)
    assert not build_review(id=built.id, now=NOW)
    built, due = ask_for_review(season=cast.season, now=NOW + dt.timedelta(hours=1))
    assert (due, built.is_waiting) == (False, False)
    cast.flood(now=NOW - 9 * DAY, water_m3=2.0)
    built, due = ask_for_review(season=cast.season, now=NOW + dt.timedelta(hours=1))
    assert (due, built.is_waiting) == (True, True)
    assert built.content["tables"], "the older one stays readable meanwhile"
    assert build_review(id=built.id, now=NOW + dt.timedelta(hours=1))
    built.refresh_from_db()
    whole = {table["key"]: table for table in built.content["tables"]}
    assert whole["figures"]["rows"][0][1] == 3.0


def test_names_stay_within_the_crew_and_money_with_those_who_see_it(cast: Cast, client: Client) -> None:
    cast.flood()
    built, _due = ask_for_review(season=cast.season, now=NOW)
    build_review(id=built.id, now=NOW)
    path = f"/r/{cast.rink.slug}/season/{cast.season.id}/review/"
    sees = {"eli": (404, 404), "cleo": (200, 404), "bo": (200, 200)}
    for login, (people, money) in sees.items():
        client.force_login(getattr(cast, login))
        assert client.get(path + "labour-by-person.csv").status_code == people, login
        assert client.get(path + "money.csv").status_code == money, login
        assert client.get(path + "weeks.csv").status_code == 200
    assert client.get(path + "no-such-table.csv").status_code == 404
