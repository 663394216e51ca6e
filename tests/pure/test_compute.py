"""The command `compute`: names, keys and results as the contract fixes them, values from the open reference table.

The literals are the same published or computed values that the tests of physics, geometry and survival name.
"""

from __future__ import annotations

import io
import json
import math
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from rinklog.calculators.cli import main
from rinklog.calculators.registry import CALCULATORS, GROUPS, group_of

SIX_MP = "6 6 6 6+ 7 9+ 10 10+ 11+ 13 16 17+ 19+ 20+ 22 23 25+ 32+ 32+ 34+ 35+"
PLACEBO = "1 1 2 2 3 4 4 5 5 8 8 8 8 11 11 12 12 15 17 22 23"
ICE = {"k_ice_wmk": 2.22, "rho_ice_kgm3": 917, "latent_jkg": 333400, "c_ice_jkgk": 2090}
GOOD = {
    "freeze-front": "drop_k=10 hours=24",
    "ice-growth": "air_c=-10 exchange_wm2k=20 hours=24",
    "coat-freeze": "water_mm=4.58 air_c=-10 exchange_wm2k=20",
    "degree-days": "coefficient_cm=2.7262 degree_days_c=166.6667",
    "humid-air": "air_c=20 humidity_frac=0.5",
    "sky": "air_c=-10 humidity_frac=0.7",
    "surface-exchange": "air_c=-10 surface_c=0 wind_ms=4 humidity_frac=0.7 transfer=1.5e-3",
    "sun": "latitude=39.742476 longitude=-105.1786 time=2003-10-17T12:30:30-07:00 altitude_m=1830.14"
    " pressure_pa=82000 air_c=11",
    "snow-properties": "density_kgm3=300",
    "snow-on-ice": "ice_mm=200 snow_mm=200 snow_density_kgm3=200",
    "wind-chill": "air_c=-20 wind_kmh=30",
    "bearing": "clear_mm=80 white_mm=60",
    "drift": "wind_ms=10 fetch_m=500 snow_water_mm=100 air_c=-5",
    "fence": "height_m=1.2",
    "basin": "length_m=40 width_m=20 fall_long=0.01 depth_low_m=0.2",
    "board-load": "depth_m=0.3",
    "hose": "length_m=30.48 diameter_mm=19.05 flow_ls=0.630902",
    "fill-time": "volume_m3=50 flow_ls=0.630902",
    "liner": "length_m=20 width_m=10 board_m=0.5 depth_m=0.3",
    "hold": "data=@{spells}",
    "cover-melt": "sun_wm2=400 longwave_down_wm2=230 exchange_wm2k=15 air_c=-5 contact_m2kw=0.02",
    "pour": "water_c=60 ice_c=-5 litres=2 area_m2=0.5",
    "torch": "power_kw=30 area_m2=10 depth_mm=2",
    "circle": "radius_m=8.5",
    "corner": "radius_m=5 spacing_m=2",
    "thaw": "degree_day_mm=5 thaw_degree_days_c=4",
}
EXPECTED: dict[str, dict[str, Any]] = {
    "freeze-front": {"neumann_mm": 110.87, "stefan_mm": 112.02, "stefan_number": 0.062687, "root": 0.175235},
    "ice-growth": {"ice_mm": 46.698, "growth_mm": 46.698},
    "coat-freeze": {"hours": 2.1685, "from_below_mm": 0.0, "cold_limit_mm": None},
    "degree-days": {"ice_mm": 13.856 * 25.4, "coefficient_in": 0.8},
    "humid-air": {
        "saturation_water_pa": 2339.2,
        "saturation_ice_pa": None,
        "vapour_pa": 1169.6,
        "dew_point_c": 9.27,
        "frost_point_c": None,
        "wet_bulb_c": 13.783,
        "wet_bulb_stull_c": 13.699,
    },
    "sky": {
        "emissivity_brutsaert": 0.61797,
        "emissivity_idso": 0.73574,
        "emissivity_idso_jackson": 0.75795,
        "longwave_down_wm2": 168.03,
    },
    "surface-exchange": {"sensible_wm2": -80.886, "latent_wm2": -57.466, "transfer": 1.5e-3},
    "sun": {
        "zenith_deg": 50.11162,
        "azimuth_deg": 194.34024,
        "elevation_deg": 39.872,
        "sunrise": None,
        "sunset": None,
        "day_length_h": None,
        "clear_sky_wm2": 642.3,
    },
    "snow-properties": {
        "conductivity_sturm_wmk": 0.12597,
        "conductivity_calonne_wmk": 0.2121,
        "conductivity_yen_wmk": 0.22984,
    },
    "snow-on-ice": {
        "critical_snow_mm": 83.0,
        "freeboard_mm": -23.4,
        "slush_mm": 107.29,
        "saturated_kgm3": 781.9,
        "freeze_fraction": 0.7819,
    },
    "wind-chill": {"wind_chill_c": -32.568, "rounded": -33, "frostbite": "10-30 min"},
    "bearing": {"effective_mm": 110.0, "load_kg": 484.0},
    "drift": {
        "transport_kgms": 0.026982,
        "transported_kgm": 97.134,
        "relocated_kgm": 41912,
        "threshold_ms": 8.6125,
    },
    "fence": {
        "capacity_tm": 12.695,
        "setback_m": 42,
        "drift_length_m": 36,
        "drift_depth_m": 1.44,
        "height_m": 1.2,
        "bottom_gap_m": 0.15,
    },
    "basin": {
        "volume_m3": 40,
        "volume_simpson_m3": None,
        "greatest_depth_m": 0.2,
        "wet_area_m2": 400,
        "mean_depth_m": 0.1,
    },
    "board-load": {"pressure_pa": 2942, "force_nm": 441.3, "moment_nmm": 44.13},
    "hose": {"head_loss_m": 9.7427, "loss_pa": 13.857 * 6894.757},
    "fill-time": {"hours": 22.014},
    "liner": {"cut_length_m": 22.2, "cut_width_m": 12.2, "area_m2": 270.84},
    "hold": {"groups": None, "logrank_chi2": None, "logrank_p": None},
    "cover-melt": {"cover_c": 3.219, "into_ice_wm2": 160.95, "melt_mm": 1.8952},
    "pour": {"melted_kg": 1.46226, "freeze_load_kj": 1169.6, "ratio_to_5c": 1.6503, "melt_depth_mm": 3.1892},
    "torch": {"minutes": 11.323},
    "circle": {"radius_m": 8.5, "perimeter_m": 53.40708},
    "corner": {"x_m": None, "y_m": None, "chord_m": None},
    "thaw": {"melt_water_mm": 20, "melt_ice_mm": 21.81},
}
OTHER_WAYS = [
    ("wind-chill", "air_f=0 wind_mph=15", {"wind_chill_f": -19.398, "rounded": -19}),
    ("bearing", "load_kg=2500", {"needed_mm": 250}),
    ("torch", "propane_kg=1", {"melted_kg": 41.707}),
    ("fence", "store_tm=20", {"height_m": 1.4754, "capacity_tm": 20}),
    ("circle", "perimeter_m=53.40708", {"radius_m": 8.5}),
    ("coat-freeze", "ice_mm=10 air_c=-10 exchange_wm2k=20 base_c=-5", {"hours": 2.7461}),
    (
        "coat-freeze",
        "ice_mm=10 air_c=-10 exchange_wm2k=20 base_c=-5 base_mm=100",
        {"cold_limit_mm": 3.1344, "from_below_mm": 3.1344},
    ),
    (
        "ice-growth",
        "start_mm=50 air_c=-12 exchange_wm2k=15 hours=48 snow_mm=50 snow_k_wmk=0.15",
        {"ice_mm": 65.917, "growth_mm": 15.917},
    ),
    (
        "snow-properties",
        "air_c=-10 wind_ms=5",
        {"new_hedstrom_pomeroy_kgm3": 68.999, "new_pahaut_kgm3": 107.14, "new_jordan_kgm3": 105.04},
    ),
    (
        "surface-exchange",
        "air_c=-10 surface_c=0 wind_ms=4 humidity_frac=0.7 height_m=2 roughness_m=1e-3",
        {"transfer": 0.0027694},
    ),
    ("basin", "length_m=40 width_m=20 fall_long=0.01 cover_m=0.05", {"volume_m3": 200}),
    ("cover-melt", "sun_wm2=250 longwave_down_wm2=200 exchange_wm2k=20 air_c=-12", {"melt_mm": 0}),
]


@pytest.fixture(scope="session")
def spells(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Freireich 1963: weeks held of two groups."""
    rows = [
        f"{word.rstrip('+')},{0 if word.endswith('+') else 1},{name}"
        for name, words in (("6-MP", SIX_MP), ("placebo", PLACEBO))
        for word in words.split()
    ]
    path = tmp_path_factory.mktemp("compute") / "spells.csv"
    path.write_text("\n".join(rows) + "\n", encoding="utf-8")
    return path


def _run(*argv: str) -> tuple[int, str, str]:
    out, err = io.StringIO(), io.StringIO()
    return main(argv, out, err), out.getvalue(), err.getvalue()


def _refused(*argv: str) -> str:
    status, out, err = _run(*argv)
    assert (status, out) == (2, "")
    assert err.endswith("\n")
    assert err.count("\n") == 1
    assert "permitted: " in err
    assert "Traceback" not in err
    return err


def _answer(name: str, typed: str) -> dict[str, Any]:
    status, out, err = _run(name, *typed.split(), "--json")
    assert (status, err) == (0, "")
    answer: dict[str, Any] = json.loads(out)
    assert set(answer) == {"name", "inputs", "results", "source", "caution"}
    assert answer["name"] == name
    assert answer["source"]
    return answer


def test_every_name_of_the_contract_is_there_in_five_groups() -> None:
    assert set(CALCULATORS) == set(GOOD) == set(EXPECTED)
    assert len(GROUPS) == 5
    assert all(group_of(name) in GROUPS for name in CALCULATORS)


@pytest.mark.parametrize("name", sorted(GOOD))
def test_each_calculator_answers_with_the_contracts_results(name: str, spells: Path) -> None:
    results = _answer(name, GOOD[name].format(spells=spells))["results"]
    assert set(results) == set(EXPECTED[name])
    for key, value in EXPECTED[name].items():
        if isinstance(value, str):
            assert results[key] == value
        elif value is not None:
            tolerance = {"abs": 0.15} if key == "wet_bulb_c" else {"rel": 5e-3, "abs": 1e-9}
            assert results[key] == pytest.approx(value, **tolerance), key


@pytest.mark.parametrize(("name", "typed", "expected"), OTHER_WAYS)
def test_each_other_way_of_asking(name: str, typed: str, expected: dict[str, float]) -> None:
    results = _answer(name, typed)["results"]
    for key, value in expected.items():
        assert results[key] == pytest.approx(value, rel=1e-2 if key == "hours" else 2e-3), key


def test_defaults_are_shown_among_the_inputs() -> None:
    assert _answer("freeze-front", "drop_k=1 hours=1")["inputs"] == {"drop_k": 1, "hours": 1, **ICE}
    sun = _answer("sun", "latitude=60 longitude=10 time=2024-01-15T12:00+01:00")["inputs"]
    assert (sun["pressure_pa"], sun["air_c"], sun["altitude_m"]) == (101325, 0, 0)
    assert sun["time"] == "2024-01-15T12:00+01:00"
    assert _answer("liner", GOOD["liner"])["inputs"]["overlap_m"] == 0.3
    cover = _answer("cover-melt", "sun_wm2=1 longwave_down_wm2=200 exchange_wm2k=20 air_c=0")["inputs"]
    assert (cover["albedo"], cover["emissivity"], cover["contact_m2kw"], cover["hours"]) == (
        0.05,
        0.95,
        0.04,
        1,
    )


def test_a_constant_can_be_given() -> None:
    # Stefan's square root of k, by hand.
    thin, thick = (_answer("freeze-front", f"drop_k=10 hours=24 k_ice_wmk={k}")["results"] for k in (1, 4))
    assert thick["stefan_mm"] == pytest.approx(2 * thin["stefan_mm"])


def test_people_are_warned_where_work_can_hurt() -> None:
    for name in ("bearing", "torch", "board-load", "wind-chill", "ice-growth", "pour", "basin"):
        assert _answer(name, GOOD[name])["caution"]
    assert "No ice is safe ice" in _answer("bearing", GOOD["bearing"])["caution"]
    assert "half a metre" in _answer("board-load", "depth_m=0.51")["caution"]
    assert _answer("sky", GOOD["sky"])["caution"] is None


def test_a_table_for_reading_has_units_source_and_caution() -> None:
    status, out, err = _run("bearing", "clear_mm=80")
    assert (status, err) == (0, "")
    for part in ("effective_mm", "80 mm", "256 kg", "Gold 1971", "caution: No ice"):
        assert part in out


def test_the_sun_over_a_polar_night_and_in_both_halves_of_the_world() -> None:
    night = _answer("sun", "latitude=75 longitude=20 time=2024-12-21T12:00+01:00")["results"]
    assert (night["sunrise"], night["sunset"], night["day_length_h"]) == (None, None, 0)
    south = _answer("sun", "latitude=-45 longitude=170 time=2024-12-21T12:00+12:00")["results"]
    assert south["day_length_h"] > 15
    rise = _answer("sun", "latitude=45.42 longitude=-75.70 time=2024-01-15T08:00-05:00")["results"]["sunrise"]
    assert rise.startswith("2024-01-15T12:3")
    assert rise.endswith("+00:00")


def test_a_list_gives_a_list(tmp_path: Path) -> None:
    results = _answer("freeze-front", "drop_k=10,5 hours=24,6")["results"]
    assert results["neumann_mm"] == pytest.approx([110.87, 39.399], rel=1e-3)
    (tmp_path / "drops.csv").write_text("10\n5\n")
    from_file = _answer("freeze-front", f"drop_k=@{tmp_path}/drops.csv hours=24,6")["results"]
    assert from_file == results
    assert "a list of 3" in _refused("freeze-front", "drop_k=1,2,3", "hours=1,2")


def test_a_surveyed_floor_from_a_file(tmp_path: Path) -> None:
    # Simpson 132 and trapezoid 131 m³, by hand.
    grid = tmp_path / "grid.csv"
    grid.write_text("-.10,-.14,-.19\n-.12,-.17,-.20\n-.11,-.18,-.26\n")
    typed = f"levels=@{grid} spacing_long_m=20 spacing_cross_m=10"
    results = _answer("basin", f"{typed} water_level_m=0")["results"]
    assert (results["volume_simpson_m3"], results["volume_m3"]) == pytest.approx((132, 131))
    covered = _answer("basin", f"{typed} cover_m=0.1")["results"]
    assert covered["volume_m3"] == pytest.approx(131)


def test_how_long_repairs_held(spells: Path) -> None:
    # lifelines: medians 23 and 8, chi2 16.793, p 4.17e-5.
    results = _answer("hold", f"data=@{spells}")["results"]
    assert [(g["group"], g["median_days"]) for g in results["groups"]] == [("6-MP", 23), ("placebo", 8)]
    first = results["groups"][0]["table"][0]
    assert set(first) == {"time", "at_risk", "failed", "survival", "standard_error"}
    assert (first["time"], first["at_risk"], first["failed"]) == (6, 21, 3)
    assert results["logrank_chi2"] == pytest.approx(16.793, abs=5e-4)
    assert results["logrank_p"] == pytest.approx(4.17e-5, rel=5e-3)


def test_one_group_needs_no_name_and_may_have_a_header(tmp_path: Path) -> None:
    path = tmp_path / "held.csv"
    path.write_text("held_days,failed\n5,0\n9,0\n", encoding="utf-8-sig")
    results = _answer("hold", f"data=@{path}")["results"]
    assert results == {"groups": [{"group": None, "table": [], "median_days": None}]}


def test_floating_rules_are_refused_for_ice_frozen_to_the_liner() -> None:
    for name in ("bearing", "snow-on-ice"):
        assert "frozen to the liner" in _refused(name, "base=frozen", *GOOD[name].split())
        assert _answer(name, "base=water " + GOOD[name])["inputs"]["base"] == "water"


BAD = [
    (["nope"], "nope"),
    ([], "missing"),
    (["freeze-front", "drop_k=10"], "hours is missing"),
    (["freeze-front", "drop_k=ten", "hours=1"], "drop_k is ten; permitted: a number, 0 to 80 K"),
    (["freeze-front", "drop_k=nan", "hours=1"], "drop_k is nan"),
    (["freeze-front", "drop_k=inf", "hours=1"], "drop_k is inf"),
    (["freeze-front", "drop_k=1e999", "hours=1"], "drop_k is 1e999"),
    (["freeze-front", "drop_k=", "hours=1"], "drop_k is empty"),
    (["freeze-front", "drop_k=80.1", "hours=1"], "drop_k is 80.1; permitted: 0 to 80 K"),
    (["freeze-front", "drop_k=1_0", "hours=1"], "drop_k is 1_0"),
    (["freeze-front", "drop_k=1", "hours=1", "colour=red"], "key is colour"),
    (["freeze-front", "drop_k=1", "hours=1", "hours=2"], "second time"),
    (["freeze-front", "drop_k"], "argument is drop_k"),
    (["freeze-front", "drop_k=@/nowhere.csv", "hours=1"], "drop_k is @/nowhere.csv"),
    (["coat-freeze", "water_mm=1", "ice_mm=1", "air_c=-1", "exchange_wm2k=9"], "given as well"),
    (["coat-freeze", "air_c=-1", "exchange_wm2k=9"], "water_mm is missing"),
    (["coat-freeze", "water_mm=1", "air_c=-61", "exchange_wm2k=9"], "air_c is -61; permitted: -60 to 50"),
    (["bearing", "clear_mm=9", "coefficient=7.1"], "coefficient is 7.1; permitted: 3 to 7"),
    (["bearing", "clear_mm=9", "base=sand"], "base is sand; permitted: water"),
    (["wind-chill", "air_c=10.1", "wind_kmh=20"], "air_c is 10.1"),
    (["wind-chill", "air_c=0", "wind_kmh=4.8"], "wind_kmh is 4.8; permitted: above 4.8"),
    (["wind-chill", "air_c=0", "wind_mph=20"], "missing"),
    (["sun", "latitude=1", "longitude=1", "time=2024-01-01T12:00"], "offset"),
    (["sun", "latitude=91", "longitude=1", "time=2024-01-01T12:00Z"], "latitude is 91"),
    (["drift", "hours=2"], "missing"),
    (["drift", "fetch_m=2"], "snow_water_mm is missing"),
    (["drift", "hours=2", "air_c=-3"], "only together with wind_ms"),
    (["ice-growth", "air_c=-1", "exchange_wm2k=9", "hours=1", "snow_mm=5"], "snow_k_wmk is missing"),
    (["basin", "length_m=40", "width_m=20", "fall_long=0.1", "depth_low_m=1", "cover_m=1"], "cover_m"),
    (["basin", "levels=3,4", "spacing_long_m=1", "spacing_cross_m=1", "cover_m=1"], "levels is 3,4"),
    (["surface-exchange", "air_c=0", "surface_c=0", "wind_ms=1", "humidity_frac=1"], "transfer is missing"),
]


@pytest.mark.parametrize(("argv", "part"), BAD)
def test_bad_input_is_one_line_naming_key_value_and_range(argv: list[str], part: str) -> None:
    assert part in _refused(*argv)


@pytest.mark.parametrize(
    ("content", "part"),
    [
        (b"", "no rows"),
        (b"\xff\xfe1,2", "UTF-8"),
        (b"5,2\n", "failed 2 on line 1"),
        (b"5,1\n-1,0\n", "held_days -1 on line 2"),
        (b"5,1,a\n5,1\n", "2 columns on line 2"),
        (b"nan,1\n", "held_days nan"),
        (b'5,"1\n', "UTF-8"),
        (b"held_days,failed\n", "empty"),
        (b"5\x00,1\n", "data is"),
    ],
)
def test_a_bad_file_of_spells_is_refused_with_its_line(tmp_path: Path, content: bytes, part: str) -> None:
    path = tmp_path / "bad.csv"
    path.write_bytes(content)
    assert part in _refused("hold", f"data=@{path}")
    assert "data is" in _refused("hold", f"data=@{tmp_path}")


@pytest.mark.parametrize(
    ("content", "part"),
    [
        ("1,2\n3\n", "1 numbers on line 2"),
        ("1,2\n", "1 x 2"),
        ("1,x\n3,4\n", "x on line 1"),
        ("1,2\n3,1e9\n", "line 2"),
    ],
)
def test_a_bad_grid_is_refused_with_its_line(tmp_path: Path, content: str, part: str) -> None:
    path = tmp_path / "grid.csv"
    path.write_text(content)
    asked = (f"levels=@{path}", "spacing_long_m=1", "spacing_cross_m=1", "water_level_m=5")
    assert part in _refused("basin", *asked)


TYPED = st.one_of(
    st.text(max_size=30),
    st.floats().map(repr),
    st.sampled_from(
        ["", "nan", "-inf", "1e400", "--1", "0x10", "1,,2", ",", "@", "@@", "@/dev/null", "1;2", "١"]
    ),
    st.integers().map(str),
)


@settings(max_examples=400, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(st.sampled_from(sorted(GOOD)), st.data(), TYPED)
@example("freeze-front", None, "nan")
def test_any_value_is_answered_finitely_or_refused_in_one_line(name: str, data: Any, value: str) -> None:
    keys = [key.name for key in CALCULATORS[name].keys]
    chosen = data.draw(st.sampled_from(keys)) if data else keys[0]
    rest = [word for word in GOOD[name].split() if not word.startswith(chosen + "=")]
    status, out, err = _run(name, *rest, f"{chosen}={value}", "--json")
    if status == 0:
        assert err == ""
        json.loads(out, parse_constant=lambda word: pytest.fail(f"{word} in the answer"))
    else:
        assert status == 2
        assert out == ""
        assert err.count("\n") == 1
        assert "permitted: " in err


@settings(max_examples=300, deadline=None)
@given(st.sampled_from(sorted(set(GOOD) - {"hold"})), st.data())
def test_every_number_within_the_stated_ranges_is_answered(name: str, data: Any) -> None:
    words = []
    for word in GOOD[name].split():
        key = CALCULATORS[name].key(word.partition("=")[0])
        assert key is not None
        if key.kind != "number":
            words.append(word)
            continue
        low = max(key.low, -1e6)
        value = data.draw(st.floats(low, min(key.high, 1e6), exclude_min=key.above))
        words.append(f"{key.name}={value!r}")
    status, out, err = _run(name, *words, "--json")
    assert (status, err) == (0, ""), words
    assert not any(isinstance(v, float) and not math.isfinite(v) for v in json.loads(out)["results"].values())


@given(st.lists(st.text(max_size=12), max_size=4))
def test_any_command_line_ends_with_a_status_and_never_a_traceback(argv: list[str]) -> None:
    status, out, err = _run(*argv)
    assert status in (0, 2)
    assert (out == "") == (status == 2)
    assert err.count("\n") == (1 if status == 2 else 0)


def test_the_list_prints_every_name_key_unit_default_validity_and_source() -> None:
    status, out, err = _run("--list")
    assert (status, err) == (0, "")
    for calculator in CALCULATORS.values():
        assert f"  {calculator.name}: " in out
        assert f"validity: {calculator.validity}" in out
        assert f"source: {'; '.join(calculator.source)}" in out
        for key in calculator.keys:
            assert f"    {key.name} " in out
    described = json.loads(_run("--list", "--json")[1])
    assert [one["name"] for one in described] == list(CALCULATORS)


def test_permitted_ranges_are_at_least_the_contracts() -> None:
    # The contract: drop_k 0-80, air_c -60..50, exchange_wm2k 1-1000, coefficient 3-7.
    for name, calculator in CALCULATORS.items():
        for key in calculator.keys:
            if key.name == "exchange_wm2k":
                assert (key.low, key.high) == (1, 1000)
            if key.name == "air_c" and name != "wind-chill":
                assert key.low <= -60
                assert key.high >= 50
    assert CALCULATORS["bearing"].key("coefficient") is not None


def test_one_value_needs_neither_scipy_nor_django() -> None:
    code = (
        "import io, sys; from rinklog.calculators.cli import main;"
        "main(['coat-freeze','water_mm=5','air_c=-10','exchange_wm2k=20'], io.StringIO(), sys.stderr);"
        "print([m for m in ('scipy', 'django', 'pandas', 'pvlib') if m in sys.modules])"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"


def test_an_ascii_terminal_gets_question_marks_rather_than_a_traceback() -> None:
    raw = io.BytesIO()
    out = io.TextIOWrapper(raw, encoding="ascii")
    assert main(["degree-days", *GOOD["degree-days"].split()], out, io.StringIO()) == 0
    out.flush()
    assert b"?" in raw.getvalue()
