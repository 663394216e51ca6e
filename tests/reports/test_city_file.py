"""The file for the city and the insurer: what is on record, with the weather of its hour, for those who may see it."""

import csv
import io

import pytest
from django.test import Client

from rinklog.owed.services import end_deadline
from rinklog.weather.hours import Hour
from rinklog.weather.services import store_observations
from tests.support.cast import NOW, Cast
from tests.support.loans import a_deadline, a_loan, it_happened
from tests.support.records import a_check, an_accident, an_opening, skaters

pytestmark = pytest.mark.django_db


def rows(client: Client, cast: Cast, table: str) -> list[dict[str, str]]:
    answer = client.get(f"/r/{cast.rink.slug}/season/{cast.season.id}/city/{table}.csv")
    assert answer.status_code == 200, table
    return list(csv.DictReader(io.StringIO(answer.content.decode()), strict=True))


def on_record(cast: Cast) -> None:
    """One of everything, in an hour whose weather is known: 20:00 UTC is 21:00 in Oslo."""
    hour = Hour(at=NOW.replace(minute=0), air_c=-7.25, wind_ms=3.0)
    store_observations(rink=cast.rink, source="station", hours=[hour], recorded_at=NOW)
    an_opening(cast, "closed", NOW, reason="flood tonight")
    a_check(cast)
    an_accident(cast, "hit the post")
    skaters(cast, 12, NOW)
    cast.work("drill-hole", details={"clear_ice_m": 0.1, "white_ice_m": 0.02})
    before_and_after = {"meter_before_m3": 100.0, "meter_after_m3": 101.5}
    cast.flood(water_m3=1.5, details={"by": "meter", "water": "cold", "tool": "hose"} | before_and_after)
    cast.flood(water_m3=0.5)


def test_every_record_stands_with_the_weather_of_its_hour(cast: Cast, client: Client) -> None:
    on_record(cast)
    client.force_login(cast.bo)
    for table in ("closures", "inspections", "thickness", "attendance", "accidents"):
        (row,) = rows(client, cast, table)
        assert (row["air_c"], row["wind_ms"]) == ("-7.2", "3.0"), table
        assert (row.get("at") or row["hour"]).startswith("2026-01-15T21:"), table
    (accident,) = rows(client, cast, "accidents")
    assert accident["happened"] == "hit the post"
    (hole,) = rows(client, cast, "thickness")
    assert (hole["clear_mm"], hole["white_mm"], hole["counted_mm"]) == ("100.0", "20.0", "110.0")


def test_the_water_return_gives_the_meter_before_and_after(cast: Cast, client: Client) -> None:
    on_record(cast)
    client.force_login(cast.bo)
    (row,) = rows(client, cast, "water-return")
    assert (row["before_m3"], row["after_m3"], row["water_m3"]) == ("100.000", "101.500", "1.500")
    page = client.get(f"/r/{cast.rink.slug}/season/{cast.season.id}/city/").content.decode()
    assert "By the meter 1.500 m³, of 2.000 m³ written down in the season." in page


def test_only_those_who_read_accidents_open_it(cast: Cast, client: Client) -> None:
    on_record(cast)
    for login, status in {"ada": 200, "bo": 200, "cleo": 404, "eli": 404}.items():
        client.force_login(getattr(cast, login))
        assert client.get(f"/r/{cast.rink.slug}/season/city/").status_code == status, login


def test_loans_with_faults_and_losses_and_the_dates_stand_in_the_file(cast: Cast, client: Client) -> None:
    loan = a_loan(cast, count=3)
    it_happened(cast, loan, "fault", note="split")
    it_happened(cast, loan, "lost")
    end_deadline(deadline=a_deadline(cast, days=2), done=True, by=cast.ada, now=NOW, today=NOW.date())
    client.force_login(cast.bo)
    (row,) = rows(client, cast, "loans")
    assert [row[key] for key in ("lent", "in_order", "broken", "lost", "given_back")] == [
        "3",
        "1",
        "1",
        "1",
        "0",
    ]
    assert row["happened"] == "2026-01-15: 1 broken split; 2026-01-15: 1 lost"
    (date,) = rows(client, cast, "dates")
    assert (date["due_on"], date["done_on"], date["done_by"]) == ("2026-01-17", "2026-01-15", cast.ada.name)


def test_an_empty_season_gives_an_empty_file_and_no_wrong_total(cast: Cast, client: Client) -> None:
    client.force_login(cast.bo)
    page = client.get(f"/r/{cast.rink.slug}/season/city/").content.decode()
    assert page.count("None written down.") == 8
    assert "By the meter 0.000 m³, of 0.000 m³ written down in the season." in page
