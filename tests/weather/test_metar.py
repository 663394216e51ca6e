"""METAR: reports and what they mean, from the tests of the `metar` package (BSD) and by hand from WMO FM 15."""

import ast
import datetime as dt
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rinklog.weather.providers.answer import AnswerError
from rinklog.weather.providers.metar_reports import ask, parse
from tests.open_data import Member, fetch

THEIRS = Member(
    "metar",
    "2.0.2",
    "test/test_metar.py",
    "1d11681b7b0c85c8b51bd5f06a1bb5520e0df71c47e1b037b31b39a9ee5d44e0",
    source=True,
)
NEAR = dt.datetime(2026, 1, 15, 12, tzinfo=dt.UTC)
REPORT = re.compile(r"^(METAR |SPECI )?([A-Z][A-Z0-9]{3}) \d{6}Z .*\d")


def one(line: str, station: str = "KEWR", near: dt.datetime = NEAR) -> list[object]:
    parsed = parse(line.encode(), station, near)
    return [*parsed.hours, *(flag.why for flag in parsed.flags)]


def reports() -> list[str]:
    """Every whole report in their tests."""
    found = [
        node.value
        for node in ast.walk(ast.parse(fetch(THEIRS).read_text()))
        if isinstance(node, ast.Constant)
    ]
    return [text for text in found if isinstance(text, str) and REPORT.match(text)]


def test_the_thunderstorm_at_newark_reads_as_it_says() -> None:
    # T02270215: 22.7 and 21.5 °C; G19KT: 19 × 1852/3600 m/s; SLP114: 1011.4 hPa; P0013: 0.13 in; OVC: 8 oktas
    (report,) = [text for text in reports() if "KEWR 111851Z" in text]
    (hour,) = parse(report.encode(), "KEWR", NEAR).hours
    assert hour.at == dt.datetime(2026, 1, 11, 18, 51, tzinfo=dt.UTC)
    assert (hour.air_c, hour.dew_point_c) == (22.7, 21.5)
    assert hour.wind_ms == pytest.approx(3 * 1852 / 3600, rel=1e-4)
    assert hour.gust_ms == pytest.approx(19 * 1852 / 3600, rel=1e-4)
    assert (hour.pressure_pa, hour.pressure_is_station) == (pytest.approx(101_140), False)
    assert (hour.wind_from_deg, hour.cloud_frac) == (None, 1.0)
    assert hour.precip_mm is None  # it is of the hour before, for which no report is here


def test_snow_on_the_ground_and_an_altimeter_setting() -> None:
    # their test_snowdepth: 4/001 is one inch; T10071007 is −0.7 °C; SLP213 is 1021.3 hPa
    (report,) = [text for text in reports() if text.startswith("KDOV")]
    (hour,) = parse(report.encode(), "KDOV", NEAR).hours
    assert hour.snow_m == pytest.approx(0.0254)
    assert hour.air_c == -0.7
    assert hour.pressure_pa == pytest.approx(102_130)


def test_every_report_of_theirs_gives_an_hour_or_says_why_not() -> None:
    seen = reports()
    assert len(seen) >= 20
    for text in seen:
        found = REPORT.match(text)
        assert found
        parsed = parse(text.encode(), found[2], NEAR)
        assert parsed.hours or parsed.flags, text


def test_dirty_reports_are_flagged_and_the_good_part_is_used() -> None:
    # both are refused by the library's own tests when read strictly
    hour, why = one("K9L2 100958Z AUTO 33006KT 10SM CLR M A3007 RMK AO2 SLPNO FZRANO $", "K9L2")
    assert why == "partly-read"
    assert hour.wind_ms == pytest.approx(6 * 1852 / 3600, rel=1e-4)  # type: ignore[attr-defined]
    found = one("METAR EDDM 022150Z 26006KT CAVOK 201/16", "EDDM")
    assert "partly-read" in found
    assert found[0].air_c is None  # type: ignore[attr-defined]


def test_what_is_no_report_of_the_station_is_flagged() -> None:
    good = "KEWR 151151Z 09010KT 10SM CLR M05/M10 A3000"
    both = parse(f"{good}\nKJFK 151151Z 09010KT 10SM CLR M05/M10 A3000\nno report\n".encode(), "KEWR", NEAR)
    assert [flag.why for flag in both.flags] == ["other-station", "unreadable"]
    assert [hour.air_c for hour in both.hours] == [-5.0]
    assert one("KEWR 320053Z AUTO 31009KT 10SM CLR 05/00 A2980") == ["no-time"]
    assert one("KEWR 151151Z NIL") == ["empty"]
    assert one(f"{good}\n{good}")[1] == "doubled"


def test_a_page_instead_of_reports_is_refused() -> None:
    with pytest.raises(AnswerError, match="no report"):
        parse(b"<html>\n<body>Sorry</body>", "KEWR", NEAR)
    assert parse(b"", "KEWR", NEAR).hours == []


@pytest.mark.parametrize(
    ("near", "day", "at"),
    [
        (dt.datetime(2026, 3, 1, 0, 30, tzinfo=dt.UTC), "282351", (2026, 2, 28)),
        (dt.datetime(2024, 3, 1, 0, 30, tzinfo=dt.UTC), "292351", (2024, 2, 29)),
        (dt.datetime(2025, 12, 31, 23, 59, tzinfo=dt.UTC), "010000", (2026, 1, 1)),
        (dt.datetime(2026, 1, 31, 12, tzinfo=dt.UTC), "311151", (2026, 1, 31)),
    ],
)
def test_a_day_belongs_to_the_nearest_month_that_has_it(
    near: dt.datetime, day: str, at: tuple[int, ...]
) -> None:
    hour, *_ = one(f"KEWR {day}Z 09010KT 10SM CLR M05/M10 A3000", near=near)
    assert (hour.at.year, hour.at.month, hour.at.day) == at  # type: ignore[attr-defined]


def test_rain_moves_to_the_report_that_begins_its_hour() -> None:
    # P0010 at 11:51 fell from 10:51 on: 0.10 in = 2.54 mm
    text = (
        "KEWR 151051Z 09010KT 10SM CLR M05/M10 A3000\n"
        "KEWR 151151Z 09010KT 10SM CLR M05/M10 A3000 RMK AO2 P0010\n"
    )
    first, second = parse(text.encode(), "KEWR", NEAR).hours
    assert first.precip_mm == pytest.approx(2.54)
    assert second.precip_mm is None


def test_the_question_names_station_and_hours() -> None:
    assert ask("ENGM", 6).below("http://127.0.0.1:1") == (
        "http://127.0.0.1:1/api/data/metar?ids=ENGM&format=raw&hours=6"
    )


GROUPS = st.sampled_from(
    [
        *("09010KT", "VRB02KT", "00000KT", "/////KT", "9999", "CAVOK", "OVC010", "FEW///", "M05/M10"),
        *("05/", "//", "Q1013", "A2992", "QNH", "RMK", "P0001", "4/999", "99/99"),
    ]
)


@given(st.lists(GROUPS | st.text("0123456789/MGKTQA", max_size=8), max_size=12))
def test_no_report_however_broken_stops_the_reader(groups: list[str]) -> None:
    parsed = parse(" ".join(["KEWR 151151Z", *groups]).encode(), "KEWR", NEAR)
    assert parsed.hours or parsed.flags
