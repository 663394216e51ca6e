"""Forecast answers: small ones written after the providers' public documentation, values by hand calculation."""

import datetime as dt
import json
from contextlib import suppress
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rinklog.weather.providers import met_norway, open_meteo, us_nws
from rinklog.weather.providers.answer import AnswerError
from tests.open_data import Member, fetch

# An answer recorded on 20 July 2020, in the tests of a client library (MIT); the body stands under "data".
RECORDED = Member(
    "metno-locationforecast",
    "2.1.0",
    "tests/test_data/lat51.5lon-0.1altitude25_complete.json",
    "14ff75d707602265ed17125037588428c7ed533f25192323ec830c08ebce744a",
    source=True,
)
PROVIDERS = (met_norway, us_nws, open_meteo)


def utc(hour: int, day: int = 15) -> dt.datetime:
    return dt.datetime(2026, 1, day, hour, tzinfo=dt.UTC)


def as_bytes(answer: Any) -> bytes:
    return json.dumps(answer).encode()


def test_met_norway_has_hours_and_then_steps_of_six() -> None:
    units = {
        "air_temperature": "celsius",
        "relative_humidity": "%",
        "wind_speed": "m/s",
        "precipitation_amount": "mm",
    }
    series = [
        {
            "time": "2026-01-15T18:00:00Z",
            "data": {
                "instant": {
                    "details": {"air_temperature": -7.4, "relative_humidity": 81.0, "wind_speed": 2.5}
                },
                "next_1_hours": {"details": {"precipitation_amount": 0.3}},
            },
        },
        {
            "time": "2026-01-15T19:00:00Z",
            "data": {
                "instant": {
                    "details": {"air_temperature": -8.0, "relative_humidity": 80.0, "wind_speed": 2.0}
                },
                "next_6_hours": {"details": {"precipitation_amount": 1.8}},
            },
        },
    ]
    meta = {"updated_at": "2026-01-15T17:41:00Z", "units": units}
    forecast = met_norway.parse(as_bytes({"properties": {"timeseries": series, "meta": meta}}))
    first, second = forecast.parsed.hours
    assert (first.at, first.air_c, first.humidity_frac, first.precip_mm, first.step_s) == (
        utc(18),
        -7.4,
        0.81,
        0.3,
        3600,
    )
    assert (second.precip_mm, second.step_s) == (1.8, 21600)
    assert forecast.made_at == dt.datetime(2026, 1, 15, 17, 41, tzinfo=dt.UTC)


def test_a_recorded_answer_of_met_norway_is_read_whole() -> None:
    body = json.loads(fetch(RECORDED).read_bytes())["data"]
    forecast = met_norway.parse(as_bytes(body))
    hours = forecast.parsed.hours
    # Read in the answer: 82 times, the first six-hour step at 18:00 on the 22nd, none missing.
    assert (len(hours), forecast.parsed.flags, forecast.parsed.gaps) == (82, [], [])
    assert forecast.made_at == dt.datetime(2020, 7, 20, 1, 30, 57, tzinfo=dt.UTC)
    first, last = hours[0], hours[-1]
    assert (first.at, last.at) == (
        dt.datetime(2020, 7, 20, 11, tzinfo=dt.UTC),
        dt.datetime(2020, 7, 29, 6, tzinfo=dt.UTC),
    )
    assert (first.air_c, first.dew_point_c, first.wind_ms, first.wind_from_deg) == (18.8, 7.2, 2.3, 349.3)
    assert (first.humidity_frac, first.cloud_frac) == (pytest.approx(0.47), pytest.approx(0.125))
    assert (first.precip_mm, first.pressure_pa) == (0.0, pytest.approx(102_320))
    assert next(h.at for h in hours if h.step_s == 21600) == dt.datetime(2020, 7, 22, 18, tzinfo=dt.UTC)


def test_the_us_service_spreads_an_amount_over_its_interval_and_holds_the_rest() -> None:
    properties = {
        "updateTime": "2026-01-15T17:00:00+00:00",
        "temperature": {
            "uom": "wmoUnit:degC",
            "values": [{"validTime": "2026-01-15T18:00:00+00:00/PT2H", "value": -5}],
        },
        "windSpeed": {
            "uom": "wmoUnit:km_h-1",
            "values": [{"validTime": "2026-01-15T18:00:00+00:00/PT2H", "value": 18}],
        },
        "quantitativePrecipitation": {
            "uom": "wmoUnit:mm",
            "values": [{"validTime": "2026-01-15T18:00:00+00:00/PT2H", "value": 3}],
        },
    }
    hours = us_nws.parse(as_bytes({"properties": properties})).parsed.hours
    # 18 km/h = 5 m/s; 3 mm over two hours are 1.5 mm an hour.
    assert [(h.at, h.air_c, h.wind_ms, h.precip_mm) for h in hours] == [
        (utc(18), -5, 5.0, 1.5),
        (utc(19), -5, 5.0, 1.5),
    ]


@pytest.mark.parametrize(
    "text",
    [
        "2026-01-15T18:00:00+00:00",
        "2026-01-15T18:00:00+00:00/P1Y",
        "2026-01-15T18:00:00+00:00/PT0H",
        "2026-01-15T18:00:00+00:00/P9999999999999D",
        "9999-12-31T23:00:00+00:00/PT5H",
        "x/PT1H",
        "",
    ],
)
def test_an_interval_that_is_none_is_refused(text: str) -> None:
    assert us_nws.interval(text) is None


def test_open_meteo_is_local_time_and_its_sums_are_of_the_hour_before() -> None:
    answer = {
        "utc_offset_seconds": 3600,
        "hourly_units": {"temperature_2m": "°F", "precipitation": "mm", "wind_speed_10m": "mp/h"},
        "hourly": {
            "time": ["2026-01-15T19:00", "2026-01-15T20:00"],
            "temperature_2m": [14, 5],
            "precipitation": [9.9, 0.4],
            "wind_speed_10m": [10, None],
        },
    }
    first, second = open_meteo.parse(as_bytes(answer)).parsed.hours
    # 14 °F = −10 °C, 5 °F = −15 °C, 10 mph = 4.4704 m/s (NIST SP 811).
    assert (first.at, first.air_c, second.air_c) == (utc(18), pytest.approx(-10), pytest.approx(-15))
    assert (first.wind_ms, second.wind_ms) == (pytest.approx(4.4704), None)
    assert (first.precip_mm, second.precip_mm) == (0.4, None)


def test_a_unit_that_is_not_known_is_flagged_and_its_values_left_out() -> None:
    answer = {
        "hourly_units": {"temperature_2m": "°Ré"},
        "hourly": {"time": ["2026-01-15T19:00"], "temperature_2m": [3]},
    }
    parsed = open_meteo.parse(as_bytes(answer)).parsed
    assert parsed.hours[0].air_c is None
    assert [flag.why for flag in parsed.flags] == ["unknown-unit"]


@pytest.mark.parametrize("provider", PROVIDERS, ids=lambda one: one.NAME)
@pytest.mark.parametrize(
    "content",
    [
        b"<html>Too many requests</html>",
        b'{"properties": {"times',
        b"[]",
        b"{}",
        b"",
        b"\xff\xfe",
        pytest.param(b"[" * 200_000, id="nested without end"),
    ],
)
def test_what_is_no_forecast_is_refused_with_a_sentence(provider: Any, content: bytes) -> None:
    with pytest.raises(AnswerError, match=provider.NAME):
        provider.parse(content)


JSON = st.recursive(
    st.none() | st.booleans() | st.floats() | st.text(max_size=8),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(
                [
                    "properties",
                    "timeseries",
                    "hourly",
                    "time",
                    "data",
                    "temperature",
                    "values",
                    "meta",
                    "units",
                    "uom",
                ]
            ),
            inner,
            max_size=4,
        )
    ),
    max_leaves=12,
)


@given(JSON)
def test_no_answer_breaks_a_reader(answer: Any) -> None:
    for provider in PROVIDERS:
        with suppress(AnswerError):
            assert provider.parse(as_bytes(answer)).parsed.hours is not None


def answers() -> tuple[dict[str, Any], ...]:
    """One whole answer of each provider, in the order of PROVIDERS."""
    met = {
        "properties": {
            "meta": {
                "updated_at": "2026-01-15T17:41:00Z",
                "units": {"air_temperature": "celsius", "precipitation_amount": "mm"},
            },
            "timeseries": [
                {
                    "time": "2026-01-15T18:00:00Z",
                    "data": {
                        "instant": {"details": {"air_temperature": -7.4}},
                        "next_1_hours": {"details": {"precipitation_amount": 0.3}},
                    },
                }
            ],
        }
    }
    spell = {"validTime": "2026-01-15T18:00:00+00:00/PT2H", "value": -5}
    nws = {"properties": {"temperature": {"uom": "wmoUnit:degC", "values": [spell]}}}
    meteo = {
        "utc_offset_seconds": 3600,
        "hourly_units": {"temperature_2m": "°C"},
        "hourly": {"time": ["2026-01-15T19:00", "2026-01-15T20:00"], "temperature_2m": [1, 2]},
    }
    return met, nws, meteo


def leaves(node: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The path of every value in an answer, whole branches too."""
    inner = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    return [path, *(one for key, value in inner for one in leaves(value, (*path, key)))]


def spoiled(node: Any, path: tuple[Any, ...], junk: Any) -> Any:
    """A copy of an answer with junk at one place."""
    if not path:
        return junk
    copy = list(node) if isinstance(node, list) else dict(node)
    copy[path[0]] = spoiled(node[path[0]], path[1:], junk)
    return copy


JUNK = (
    None,
    True,
    float("nan"),
    float("inf"),
    -9999,
    100_000,
    10**30,
    1e300,
    "",
    "x",
    "0001-01-01T00:00:00+10:00",
    "9999-12-31T23:30",
    "9999-12-31T23:00:00+00:00/PT5H",
    "2026-01-15T18:00:00+00:00/P9999999999999D",
    [],
    [None],
    {},
    {"a": []},
)


@pytest.mark.parametrize("place", range(3), ids=[one.NAME for one in PROVIDERS])
def test_one_spoiled_value_anywhere_never_breaks_a_reader(place: int) -> None:
    provider, answer = PROVIDERS[place], answers()[place]
    assert provider.parse(as_bytes(answer)).parsed.flags == []
    for path in leaves(answer):
        for junk in JUNK:
            with suppress(AnswerError):
                parsed = provider.parse(as_bytes(spoiled(answer, path, junk))).parsed
                assert all(h.air_c is None or -90 <= h.air_c <= 60 for h in parsed.hours)
                assert parsed.gaps is not None
