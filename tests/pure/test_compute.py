"""The command `compute`: names, keys and results as the contract fixes them, values from the open reference table.

The literals are the same published or computed values that the tests of physics, geometry and survival name.
"""

from __future__ import annotations

import io
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from rinklog.calculators.cli import main
from rinklog.calculators.registry import CALCULATORS, GROUPS, group_of
from tests.pure.asking import GOOD, answered, refused, run

SIX_MP = "6 6 6 6+ 7 9+ 10 10+ 11+ 13 16 17+ 19+ 20+ 22 23 25+ 32+ 32+ 34+ 35+"
PLACEBO = "1 1 2 2 3 4 4 5 5 8 8 8 8 11 11 12 12 15 17 22 23"
ICE = {"k_ice_wmk": 2.22, "rho_ice_kgm3": 917, "latent_jkg": 333400, "c_ice_jkgk": 2090}
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
    (
        "wind-chill",
        "air_f=0 wind_mph=15",
        {"wind_chill_f": -19.398, "rounded": -19, "frostbite": "10-30 min"},
    ),
    ("drift", "wind_ms=15 hours=2", {"transported_kgm": 906.88}),
    (
        "ice-growth",
        "start_mm=50 air_c=-12 exchange_wm2k=15 hours=48 snow_mm=50 snow_density_kgm3=300",
        {"ice_mm": 63.864},
    ),
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


def test_every_name_of_the_contract_is_there_in_five_groups() -> None:
    assert set(CALCULATORS) == set(GOOD) == set(EXPECTED)
    assert len(GROUPS) == 5
    assert all(group_of(name) in GROUPS for name in CALCULATORS)


@pytest.mark.parametrize("name", sorted(GOOD))
def test_each_calculator_answers_with_the_contracts_results(name: str, spells: Path) -> None:
    results = answered(name, GOOD[name].format(spells=spells))["results"]
    assert set(results) == set(EXPECTED[name])
    for key, value in EXPECTED[name].items():
        if isinstance(value, str):
            assert results[key] == value
        elif value is not None:
            tolerance = {"abs": 0.15} if key == "wet_bulb_c" else {"rel": 5e-3, "abs": 1e-9}
            assert results[key] == pytest.approx(value, **tolerance), key


@pytest.mark.parametrize(("name", "typed", "expected"), OTHER_WAYS)
def test_each_other_way_of_asking(name: str, typed: str, expected: dict[str, Any]) -> None:
    results = answered(name, typed)["results"]
    for key, value in expected.items():
        if isinstance(value, str):
            assert results[key] == value
        else:
            assert results[key] == pytest.approx(value, rel=1e-2 if key == "hours" else 2e-3), key


def test_defaults_are_shown_among_the_inputs() -> None:
    assert answered("freeze-front", "drop_k=1 hours=1")["inputs"] == {"drop_k": 1, "hours": 1, **ICE}
    assert answered("drift", "air_c=-5")["inputs"] == {"air_c": -5}
    sun = answered("sun", "latitude=60 longitude=10 time=2024-01-15T12:00+01:00")["inputs"]
    assert (sun["pressure_pa"], sun["air_c"], sun["altitude_m"]) == (101325, 0, 0)
    assert sun["time"] == "2024-01-15T12:00+01:00"
    assert answered("liner", GOOD["liner"])["inputs"]["overlap_m"] == 0.3
    cover = answered("cover-melt", "sun_wm2=1 longwave_down_wm2=200 exchange_wm2k=20 air_c=0")["inputs"]
    assert (cover["albedo"], cover["emissivity"], cover["contact_m2kw"], cover["hours"]) == (
        0.05,
        0.95,
        0.04,
        1,
    )


def test_a_constant_can_be_given() -> None:
    # Stefan's square root of k, by hand.
    thin, thick = (answered("freeze-front", f"drop_k=10 hours=24 k_ice_wmk={k}")["results"] for k in (1, 4))
    assert thick["stefan_mm"] == pytest.approx(2 * thin["stefan_mm"])


def test_people_are_warned_where_work_can_hurt() -> None:
    for name in ("bearing", "torch", "board-load", "wind-chill", "ice-growth", "pour", "basin"):
        assert answered(name, GOOD[name])["caution"]
    assert "No ice is safe ice" in answered("bearing", GOOD["bearing"])["caution"]
    assert "half a metre" in answered("board-load", "depth_m=0.51")["caution"]
    assert answered("sky", GOOD["sky"])["caution"] is None


def test_a_table_for_reading_has_units_source_and_caution() -> None:
    status, out, err = run("bearing", "clear_mm=80")
    assert (status, err) == (0, "")
    for part in ("effective_mm", "80 mm", "256 kg", "Gold 1971", "caution: No ice"):
        assert part in out


def test_the_sun_over_a_polar_night_and_in_both_halves_of_the_world() -> None:
    night = answered("sun", "latitude=75 longitude=20 time=2024-12-21T12:00+01:00")["results"]
    assert (night["sunrise"], night["sunset"], night["day_length_h"]) == (None, None, 0)
    south = answered("sun", "latitude=-45 longitude=170 time=2024-12-21T12:00+12:00")["results"]
    assert south["day_length_h"] > 15
    rise = answered("sun", "latitude=45.42 longitude=-75.70 time=2024-01-15T08:00-05:00")["results"][
        "sunrise"
    ]
    assert rise.startswith("2024-01-15T12:3")
    assert rise.endswith("+00:00")


def test_a_list_gives_a_list(tmp_path: Path) -> None:
    results = answered("freeze-front", "drop_k=10,5 hours=24,6")["results"]
    assert results["neumann_mm"] == pytest.approx([110.87, 39.399], rel=1e-3)
    (tmp_path / "drops.csv").write_text("10\n5\n")
    from_file = answered("freeze-front", f"drop_k=@{tmp_path}/drops.csv hours=24,6")["results"]
    assert from_file == results
    assert "a list of 3" in refused("freeze-front", "drop_k=1,2,3", "hours=1,2")


def test_a_surveyed_floor_from_a_file(tmp_path: Path) -> None:
    # Simpson 132 and trapezoid 131 m³, by hand.
    grid = tmp_path / "grid.csv"
    grid.write_text("-.10,-.14,-.19\n-.12,-.17,-.20\n-.11,-.18,-.26\n")
    typed = f"levels=@{grid} spacing_long_m=20 spacing_cross_m=10"
    results = answered("basin", f"{typed} water_level_m=0")["results"]
    assert (results["volume_simpson_m3"], results["volume_m3"]) == pytest.approx((132, 131))
    covered = answered("basin", f"{typed} cover_m=0.1")["results"]
    assert covered["volume_m3"] == pytest.approx(131)


def test_how_long_repairs_held(spells: Path) -> None:
    # lifelines: medians 23 and 8, chi2 16.793, p 4.17e-5.
    results = answered("hold", f"data=@{spells}")["results"]
    assert [(g["group"], g["median_days"]) for g in results["groups"]] == [("6-MP", 23), ("placebo", 8)]
    first = results["groups"][0]["table"][0]
    assert set(first) == {"time", "at_risk", "failed", "survival", "standard_error"}
    assert (first["time"], first["at_risk"], first["failed"]) == (6, 21, 3)
    assert results["logrank_chi2"] == pytest.approx(16.793, abs=5e-4)
    assert results["logrank_p"] == pytest.approx(4.17e-5, rel=5e-3)


def test_one_group_needs_no_name_and_may_have_a_header(tmp_path: Path) -> None:
    path = tmp_path / "held.csv"
    path.write_text("held_days,failed\n5,0\n9,0\n", encoding="utf-8-sig")
    results = answered("hold", f"data=@{path}")["results"]
    assert results == {"groups": [{"group": None, "table": [], "median_days": None}]}


def test_floating_rules_are_refused_for_ice_frozen_to_the_liner() -> None:
    for name in ("bearing", "snow-on-ice"):
        assert "frozen to the liner" in refused(name, "base=frozen", *GOOD[name].split())
        assert answered(name, "base=water " + GOOD[name])["inputs"]["base"] == "water"


def test_the_list_prints_every_name_key_unit_default_validity_and_source() -> None:
    status, out, err = run("--list")
    assert (status, err) == (0, "")
    for calculator in CALCULATORS.values():
        assert f"  {calculator.name}: " in out
        assert f"validity: {calculator.validity}" in out
        assert f"source: {'; '.join(calculator.source)}" in out
        for key in calculator.keys:
            assert f"    {key.name} " in out
    described = json.loads(run("--list", "--json")[1])
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
