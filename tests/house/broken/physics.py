"""Physics, and the commands that march it."""

from tests.house.broken import Breakage

ROWS = [
    Breakage(
        "rinklog/physics/wind_chill.py",
        "13.12 + 0.6215 * air_c",
        "13.12 + 0.6125 * air_c",
        "tests/pure/test_wind_chill.py::test_it_agrees_with_metpy",
    ),
    Breakage(
        "rinklog/physics/wind_chill.py",
        "math.floor(abs(value) + 0.5)",
        "round(abs(value))",
        "tests/pure/test_wind_chill.py::test_halves_are_rounded_away_from_zero",
    ),
    Breakage(
        "rinklog/physics/bearing.py",
        "return coefficient * (100 * effective) ** 2",
        "return coefficient * (100 * effective) ** 1.9",
        "tests/pure/test_bearing.py::test_golds_rule_says_what_a_thickness_carries",
    ),
    Breakage(
        "rinklog/physics/bearing.py",
        "return clear_m + white_share * white_m",
        "return clear_m + white_m",
        "tests/pure/test_bearing.py::test_white_ice_counts_half",
    ),
    Breakage(
        "rinklog/physics/bearing.py",
        '    if base == "frozen":\n',
        '    if base == "stone":\n',
        "tests/pure/test_bearing.py::test_ice_frozen_to_the_ground_is_refused_with_the_reason",
    ),
    Breakage(
        "rinklog/physics/snow.py",
        "0.138 - 1.01e-3 * rho",
        "0.138 - 1.1e-3 * rho",
        "tests/pure/test_snow.py::test_three_published_conductivities_of_snow",
    ),
    Breakage(
        "rinklog/physics/snow.py",
        "return 1 - density_kgm3 / rho_ice_kgm3",
        "return 1.0 + 0 * density_kgm3 / rho_ice_kgm3",
        "tests/pure/test_snow.py::test_flooded_snow_holds_less_water_to_freeze",
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
        "rinklog/physics/column/implicit.py",
        "(resistance + np.sqrt(resistance * resistance + 4 * push)) / 2",
        "resistance",
        "tests/pure/test_column_limits.py::test_standing_water_freezes_as_neumann_found",
    ),
    Breakage(
        "rinklog/physics/column/implicit.py",
        "np.maximum(-taken / steep, 0.0) * beta[:, 1]",
        "0.0",
        "tests/pure/test_column_limits.py::test_neumann_holds_at_drops_of_no_table",
    ),
    Breakage(
        "rinklog/physics/column/balance.py",
        "top.emissivity * (force.longwave_wm2 -",
        "(force.longwave_wm2 -",
        "tests/pure/test_column_conserves.py::test_every_step_closes_over_any_weather",
    ),
    Breakage(
        "rinklog/physics/column/wetting.py",
        "np.maximum(over, 0.0)",
        "np.maximum(over, 0.0) / 2",
        "tests/pure/test_column_limits.py::test_slush_under_overload_is_as_deep_as_archimedes_wants",
    ),
    Breakage(
        "rinklog/physics/column/wetting.py",
        "cells[HEAT, rows, last + 1] -= lifted",
        "pass",
        "tests/pure/test_column_conserves.py::test_every_step_closes_over_any_weather",
    ),
    Breakage(
        "rinklog/physics/column/averaging.py",
        "QUARTER = 0.25",
        "QUARTER = 0.0",
        "tests/pure/test_column_limits.py::test_another_wind_every_hour_grows_the_ice_of_a_fine_grid",
    ),
    Breakage(
        "rinklog/physics/column/wetting.py",
        "(floor_ice <= 1e-9) & ",
        "",
        "tests/pure/test_column_limits.py::"
        "test_ice_with_water_in_it_that_is_frozen_to_the_floor_does_not_flood_by_weight",
    ),
    Breakage(
        "rinklog/physics/column/actions.py",
        "settings.c_water_jkgk * max(",
        "0.5 * settings.c_water_jkgk * max(",
        "tests/pure/test_column_limits.py::test_hot_water_melts_what_its_heat_pays_for",
    ),
    Breakage(
        "rinklog/physics/windows.py",
        "np.sqrt(1 - kept[at] ** 2) * noise[at]",
        "noise[at]",
        "tests/pure/test_windows.py::test_members_spread_as_the_stated_error_says_and_repeat_with_the_seed",
    ),
    Breakage(
        "rinklog/simulate/weather_file.py",
        "BRIDGE_S = 3 * 3600.0",
        "BRIDGE_S = 2 * 3600.0",
        "tests/pure/test_simulate.py::test_a_gap_of_three_hours_is_told_and_bridged",
    ),
]
