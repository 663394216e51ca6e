"""Formulas and rules broken on purpose: for each, the test that must notice.

Add a row when you add a rule: the file, a snippet that stands in it exactly once, what breaks it, and the test that
must fail. Choose a quick test. `test_breakage.py` tries every row.
"""

from typing import NamedTuple


class Breakage(NamedTuple):
    """One way to break the program, and who must notice."""

    file: str
    was: str
    broken: str
    test: str


BREAKAGES = [
    Breakage(
        "rinklog/upkeep/services.py",
        "return used == 1",
        "return True",
        "tests/upkeep/test_claims.py::test_a_claim_works_once",
    ),
    Breakage(
        "rinklog/upkeep/services.py",
        "Claim.objects.filter(used_at=None).delete()",
        "pass",
        "tests/upkeep/test_claims.py::test_a_new_claim_ends_the_earlier_one_but_keeps_the_trace_of_a_used_one",
    ),
    Breakage(
        "rinklog/upkeep/queries.py",
        "HEART_STOPS_AFTER = timedelta(seconds=75)",
        "HEART_STOPS_AFTER = timedelta(hours=75)",
        "tests/upkeep/test_claims.py::test_a_heart_that_beat_lately_beats",
    ),
    Breakage(
        "rinklog/site_key.py",
        "        if production:\n",
        "        if not production:\n",
        "tests/console/test_secret_key.py::test_production_never_invents_one",
    ),
    Breakage(
        "rinklog/console/certificate.py",
        "and named >= {*names, *addresses}",
        "",
        "tests/console/test_certificate.py::test_a_new_address_makes_it_anew_and_a_lost_one_does_not",
    ),
    Breakage(
        "rinklog/physics/freeze.py",
        "return c_ice_jkgk * drop_k / latent_jkg",
        "return c_ice_jkgk * drop_k / latent_jkg / 2",
        "tests/pure/test_freeze.py::test_ice_under_a_cold_surface",
    ),
    Breakage(
        "rinklog/physics/freeze.py",
        "film = k_ice_wmk * (1 / np.asarray(exchange_wm2k) + snow_m",
        "film = k_ice_wmk * (0 / np.asarray(exchange_wm2k) + snow_m",
        "tests/pure/test_freeze.py::test_ice_under_an_air_film",
    ),
    Breakage(
        "rinklog/physics/freeze.py",
        "return speed * root_s if limit is None else min(speed * root_s, limit)",
        "return speed * root_s",
        "tests/pure/test_freeze.py::test_a_slab_runs_out_of_cold",
    ),
    Breakage(
        "rinklog/physics/air.py",
        "611.2 * np.exp(22.46 * temperature_c / (272.62 + temperature_c))",
        "611.2 * np.exp(17.62 * temperature_c / (243.12 + temperature_c))",
        "tests/pure/test_air.py::test_saturation_over_ice_agrees_with_ashrae",
    ),
    Breakage(
        "rinklog/physics/surface.py",
        "return factor * (air_pa - magnus_ice_pa(surface_c))",
        "return factor * (magnus_ice_pa(surface_c) - air_pa)",
        "tests/pure/test_surface.py::test_turbulent_exchange_with_melting_ice",
    ),
    Breakage(
        "rinklog/physics/sun.py",
        "aberration = np.radians(-20.4898 / 3600 / radius)",
        "aberration = 5 * np.radians(-20.4898 / 3600 / radius)",
        "tests/pure/test_sun.py::test_any_time_from_1990_to_2060_agrees_with_the_whole_algorithm",
    ),
    Breakage(
        "rinklog/physics/snow.py",
        "overload = rho_ice_kgm3 * ice_m + density_kgm3 * snow_m - rho_water_kgm3 * ice_m",
        "overload = density_kgm3 * snow_m",
        "tests/pure/test_snow.py::test_snow_on_floating_ice",
    ),
    Breakage(
        "rinklog/physics/wind_chill.py",
        "math.floor(abs(value) + 0.5)",
        "round(abs(value))",
        "tests/pure/test_wind_chill.py::test_halves_are_rounded_away_from_zero",
    ),
    Breakage(
        "rinklog/physics/bearing.py",
        '    if base == "frozen":',
        '    if base == "ice":',
        "tests/pure/test_bearing.py::test_ice_frozen_to_the_ground_is_refused_with_the_reason",
    ),
    Breakage(
        "rinklog/physics/melt.py",
        "np.maximum(flux_wm2, 0.0) * seconds",
        "np.asarray(flux_wm2) * seconds",
        "tests/pure/test_melt.py::test_a_dark_cover_in_strong_sun_melts_and_in_deep_cold_does_not",
    ),
    Breakage(
        "rinklog/geometry/boards.py",
        "return force_nm(depth_m, rho_water_kgm3, gravity_ms2) * depth_m / 3",
        "return force_nm(depth_m, rho_water_kgm3, gravity_ms2) * depth_m / 2",
        "tests/pure/test_water.py::test_water_against_the_boards",
    ),
    Breakage(
        "rinklog/geometry/grid.py",
        "return (a1 - a0) * (b1 - b0) - disc",
        "return 0.0",
        "tests/pure/test_grid.py::test_the_zones_add_up_to_the_rink",
    ),
    Breakage(
        "rinklog/survival/kaplan_meier.py",
        "        at_risk -= len(here)",
        "        at_risk -= failed",
        "tests/pure/test_survival.py::test_the_textbook_table_of_6_mp",
    ),
    Breakage(
        "rinklog/units.py",
        "GALLON_US_M3 = 231 * INCH_M**3",
        "GALLON_US_M3 = 277 * INCH_M**3",
        "tests/pure/test_units.py::test_one_of_a_unit_has_its_published_factor",
    ),
    Breakage(
        "rinklog/clock.py",
        "if wall.time() >= NIGHT_TURNS else wall.date() - timedelta(days=1)",
        "",
        "tests/pure/test_clock.py::test_three_in_the_morning_belongs_to_the_evening_before",
    ),
]
