"""Typed quantities: factors of NIST SP 811 (2008) appendix B as literals, pint as an independent oracle."""

from __future__ import annotations

import math
from contextlib import suppress

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rinklog import units

NIST_SP_811 = [
    ("1 gal", "volume", 3.785412e-3),
    ("1 imp gal", "volume", 4.54609e-3),
    ("1 gpm", "flow", 6.309020e-5),
    ("1 ft", "length", 0.3048),
    ("1 in", "depth", 0.0254),
    ("1 mph", "speed", 0.44704),
    ("1 km/h", "speed", 2.777778e-1),
    ("1 kn", "speed", 5.144444e-1),
    ("1 lb", "mass", 4.535924e-1),
    ("1 h", "duration", 3600.0),
    ("1 psi", "pressure", 6894.757),
    ("1 Btu", "energy", 1055.056),
    ("1 Btu_th", "energy", 1054.350),
    ("1 lb/ft3", "density", 16.01846),
]
AS_TYPED = [
    ("1/2 in", "depth", 0.0127),
    ('3/8"', "depth", 0.009525),
    ("1 1/2 in", "depth", 0.0381),
    ("1-1/2 in", "depth", 0.0381),
    ("1½ in", "depth", 0.0381),
    ("40 l", "volume", 0.040),
    ("1 000 l", "volume", 1.0),
    ("2,5 cm", "depth", 0.025),
    ("0,125 in", "depth", 0.003175),
    ("20 °F", "temperature", -6.0 - 2 / 3),
    ("-5 C", "temperature", -5.0),
    ("−40F", "temperature", -40.0),
    ("5' 6\"", "length", 1.6764),
    ("5 ft 6", "length", 1.6764),
    ("1h30", "duration", 5400.0),
    ("1:30", "duration", 5400.0),
    ("90 min", "duration", 5400.0),
    ("1 h 30 min", "duration", 5400.0),
]
NONSENSE = [
    "nan",
    "inf",
    "-",
    "--5",
    "1/0 in",
    "1.5.2",
    "mm",
    "½½",
    "1 2 mm",
    "3 mm 4",
    "٣",
    "5 ft 13 in",
    "1h90",
]
PINT = {
    "mm": "millimeter",
    "cm": "centimeter",
    "in": "inch",
    "ft": "foot",
    "l": "liter",
    "gal_us": "gallon",
    "gal_imperial": "imperial_gallon",
    "km/h": "kilometer/hour",
    "mph": "mile/hour",
    "kn": "knot",
    "l/min": "liter/minute",
    "m3/h": "meter**3/hour",
    "gal/min": "gallon/minute",
    "imp gal/min": "imperial_gallon/minute",
    "lb": "pound",
    "psi": "psi",
    "lb/ft3": "pound/foot**3",
    "Btu_IT": "Btu_it",
    "Btu_th": "Btu_th",
    "kWh": "kWh",
    "t": "metric_ton",
    "d": "day",
}
BASE = {
    "length": "meter",
    "volume": "meter**3",
    "speed": "meter/second",
    "flow": "meter**3/second",
    "mass": "kilogram",
    "duration": "second",
    "pressure": "pascal",
    "density": "kilogram/meter**3",
    "energy": "joule",
}


REGISTRY = pint.UnitRegistry()


@pytest.mark.parametrize(("text", "dimension", "si"), NIST_SP_811)
def test_one_of_a_unit_has_its_published_factor(text: str, dimension: str, si: float) -> None:
    assert units.parse(text, dimension, "m") == pytest.approx(si, rel=1e-6)


@pytest.mark.parametrize(("text", "dimension", "si"), AS_TYPED)
def test_what_people_type_is_understood(text: str, dimension: str, si: float) -> None:
    assert units.parse(text, dimension, "m") == pytest.approx(si, rel=1e-12)


@pytest.mark.parametrize("name", sorted(PINT))
def test_every_unit_agrees_with_pint(name: str) -> None:
    expected = REGISTRY.Quantity(7.25, PINT[name]).to(BASE[units.UNITS[name].dimension]).magnitude
    assert units.to_si(7.25, name) == pytest.approx(expected, rel=1e-12)


@given(st.floats(-200, 200))
def test_fahrenheit_agrees_with_pint(value: float) -> None:
    expected = REGISTRY.Quantity(value, "degF").to("degC").magnitude
    assert units.to_si(value, "F") == pytest.approx(expected, abs=1e-9)


def test_fahrenheit_meets_celsius_where_they_are_defined_to_meet() -> None:
    assert [units.to_si(f, "F") for f in (32, 212, -40)] == [0, 100, -40]
    assert units.show(-5, "F") == "23 °F"


@pytest.mark.parametrize("text", NONSENSE)
def test_nonsense_is_refused_with_a_number_to_imitate(text: str) -> None:
    dimension = "duration" if "h" in text else "temperature" if text == "--5" else "depth"
    with pytest.raises(units.UnitError) as caught:
        units.parse(text, dimension, "mm" if dimension == "depth" else "min" if "h" in text else "C")
    assert caught.value.code == "not_a_number"
    assert text in str(caught.value)
    assert caught.value.template % caught.value.params == str(caught.value)


def test_each_other_refusal_names_its_reason() -> None:
    cases = [
        ("", {}, "empty"),
        ("1,000 mm", {}, "ambiguous"),
        ("3 furlongs", {}, "unknown_unit"),
        ("3 gal", {}, "unknown_unit"),
        ("-3 mm", {}, "negative"),
        ("9" * 50, {}, "not_finite"),
        ("30 cm", {"low": 0.0, "high": 0.2}, "out_of_range"),
        ("1 mm", {"low": 0.002}, "too_low"),
        ("1 m", {"high": 0.2}, "too_high"),
    ]
    for text, bounds, code in cases:
        with pytest.raises(units.UnitError) as caught:
            units.parse(text, "depth", "mm", **bounds)
        assert caught.value.code == code, text
        assert str(caught.value).count(".") <= 2


def test_a_refused_range_is_shown_in_the_persons_unit() -> None:
    with pytest.raises(units.UnitError, match="0 in to 8 in"):
        units.parse("9 in", "depth", "in", low=0, high=0.2032)


def test_a_bound_typed_exactly_is_permitted() -> None:
    assert units.parse("8 in", "depth", "in", low=0, high=0.2032) == pytest.approx(0.2032)


@given(st.text(max_size=80))
def test_any_text_gives_a_finite_number_or_a_unit_error(text: str) -> None:
    for dimension, unit in (("depth", "mm"), ("temperature", "C"), ("duration", "min")):
        with suppress(units.UnitError):
            assert math.isfinite(units.parse(text, dimension, unit))


@given(st.integers(0, 999), st.integers(0, 15), st.sampled_from([2, 4, 8, 16]))
def test_a_mixed_fraction_is_its_parts_added(whole: int, top: int, bottom: int) -> None:
    typed = units.parse(f"{whole} {top}/{bottom} in", "depth", "mm")
    assert typed == pytest.approx((whole + top / bottom) * 0.0254, rel=1e-14, abs=1e-15)


@given(st.floats(0, 1e5), st.sampled_from(sorted(units.UNITS)))
def test_what_is_shown_reads_back(value: float, unit: str) -> None:
    dimension = units.UNITS[unit].dimension
    si = units.to_si(round(value, 3), unit)
    text = units.show(si, unit, 3)
    assert units.parse(text, dimension, "m") == pytest.approx(si, rel=1e-9, abs=1e-9)


def test_what_a_person_may_choose_exists() -> None:
    assert all(units.unit_named(name) for names in units.CHOICES.values() for name in names)


def test_nothing_is_shown_as_minus_zero() -> None:
    assert units.show(-1e-9, "mm") == "0.0 mm"
    assert units.number(-1e-9, "mm") == "0"
