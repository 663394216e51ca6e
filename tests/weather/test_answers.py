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
    "text", ["2026-01-15T18:00:00+00:00", "2026-01-15T18:00:00+00:00/P1Y", "x/PT1H", "", "/PT0H"]
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
    "content", [b"<html>Too many requests</html>", b'{"properties": {"times', b"[]", b"{}", b"", b"\xff\xfe"]
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
