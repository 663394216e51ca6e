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
        "rinklog/upkeep/folder_queue.py",
        "        draft.rename(place)\n",
        "        place.write_text(draft.read_text()[:3])\n",
        "tests/upkeep/test_folder_queue.py::test_messages_come_out_in_order_and_go_when_they_are_done",
    ),
    Breakage(
        "rinklog/upkeep/folder_queue.py",
        'message.rename(folder / "tasks" / message.name)',
        "message.unlink()",
        "tests/upkeep/test_folder_queue.py::test_a_worker_that_died_leaves_its_message_to_the_next",
    ),
    Breakage(
        "rinklog/upkeep/queue.py",
        "transaction.on_commit(partial(_queue, task, [str(one) for one in ids]))",
        "_queue(task, [str(one) for one in ids])",
        "tests/upkeep/test_queue.py::test_a_task_is_queued_after_the_commit_and_a_row_taken_back_queues_nothing",
    ),
    Breakage(
        "rinklog/upkeep/queue.py",
        "_Pause.ends = time.monotonic() + PAUSE_S",
        "pass",
        "tests/upkeep/test_queue.py::test_after_a_broker_made_one_post_wait_the_next_ones_do_not",
    ),
    Breakage(
        "rinklog/celery.py",
        '        "max_retries": 1,\n        "interval_start": 0,\n',
        "",
        "tests/upkeep/test_queue.py::test_a_dead_broker_costs_a_post_no_time_and_no_error",
    ),
    Breakage(
        "rinklog/photos/tasks.py",
        "soon(prepare_photo, photo_id)",
        "prepare_photo.delay(str(photo_id))",
        "tests/house/test_rules.py::test_one_place_puts_tasks_on_the_queue",
    ),
    Breakage(
        "rinklog/site_key.py",
        "        if production:\n",
        "        if not production:\n",
        "tests/console/test_secret_key.py::test_production_never_invents_one",
    ),
    Breakage(
        "rinklog/console/certificate.py",
        " and named >= {*names, *addresses}",
        "",
        "tests/console/test_certificate.py::test_a_new_address_makes_it_anew_and_a_lost_one_does_not",
    ),
    Breakage(
        "rinklog/console/supervisor.py",
        "child.pause_s = min(child.pause_s * 2, LONGEST_PAUSE_S)",
        "pass",
        "tests/console/test_supervisor.py::test_a_child_that_keeps_failing_is_started_again_with_growing_pauses",
    ),
    Breakage(
        "rinklog/bootstrap.py",
        "if sys.version_info < OLDEST:",
        "if sys.version_info < (3, 0):",
        "tests/console/test_bootstrap.py::test_an_old_python_is_one_sentence",
    ),
    Breakage(
        "rinklog/crew/queries.py",
        "if role != Membership.Role.GUEST",
        "",
        "tests/crew/test_who_can_be_named.py::test_guests_and_people_who_left_cannot_be_named_on_work",
    ),
    Breakage(
        "rinklog/units.py",
        "GALLON_US_M3 = 231 * INCH_M**3",
        "GALLON_US_M3 = 277 * INCH_M**3",
        "tests/pure/test_units.py::test_one_of_a_unit_has_its_published_factor",
    ),
    Breakage(
        "rinklog/units.py",
        "Fraction(5, 9), ",
        "Fraction(9, 5), ",
        "tests/pure/test_units.py::test_fahrenheit_meets_celsius_where_they_are_defined_to_meet",
    ),
    Breakage(
        "rinklog/clock.py",
        "NIGHT_TURNS = time(12)",
        "NIGHT_TURNS = time(0)",
        "tests/pure/test_clock.py::test_three_in_the_morning_belongs_to_the_evening_before",
    ),
    Breakage(
        "rinklog/geometry/grid.py",
        "(4 - math.pi) * self.corner_m**2",
        "(4 - math.pi) * self.corner_m",
        "tests/pure/test_grid.py::test_the_zones_add_up_to_the_rink",
    ),
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
        "rinklog/survival/kaplan_meier.py",
        "survival *= 1 - failed / at_risk",
        "survival *= 1 - failed / len(ordered)",
        "tests/pure/test_survival.py::test_the_textbook_table_of_6_mp",
    ),
    Breakage(
        "rinklog/work/services.py",
        "if there != (draft.rink.id, draft.by.id, amends_id, draft.reason, fingerprint):",
        "if False:",
        "tests/web/test_flood.py::test_the_same_id_with_other_content_is_a_conflict_that_loses_neither_text",
    ),
    Breakage(
        "rinklog/web/access.py",
        "if member is None or not may(member.role, right):",
        "if member is None:",
        "tests/web/test_who_may.py",
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
        "rinklog/clock.py",
        "if wall.time() >= NIGHT_TURNS else wall.date() - timedelta(days=1)",
        "",
        "tests/pure/test_clock.py::test_three_in_the_morning_belongs_to_the_evening_before",
    ),
    Breakage(
        "rinklog/work/hazard_events.py",
        "    elif state in (State.CLOSED, State.WITHDRAWN):\n        cone_out = False\n",
        "",
        "tests/work/test_hazards.py::test_its_whole_life_stays_readable",
    ),
    Breakage(
        "rinklog/photos/pictures.py",
        "    picture.info = {}\n",
        "",
        "tests/photos/test_pictures.py::test_nothing_but_pixels_is_left",
    ),
    Breakage(
        "rinklog/photos/pictures.py",
        "6: Image.Transpose.ROTATE_270",
        "6: Image.Transpose.ROTATE_90",
        "tests/photos/test_pictures.py::test_all_eight_turns_stand_upright",
    ),
    Breakage(
        "rinklog/geometry/place.py",
        "turned = ring if _signed_area(ring) > 0 else ring[::-1]",
        "turned = ring",
        "tests/pure/test_place.py::test_rings_are_closed_and_counter_clockwise_and_keep_the_area",
    ),
    Breakage(
        "rinklog/crew/doors.py",
        "tries.count() > door.tries",
        "tries.count() > 99 * door.tries",
        "tests/web/test_people.py::test_codes_are_slowed_down",
    ),
    Breakage(
        "rinklog/crew/ways_in.py",
        'F("uses_left") - 1',
        'F("uses_left")',
        "tests/crew/test_ways_in.py::test_an_invitation_lets_in_as_many_as_it_says_and_no_more",
    ),
    Breakage(
        "rinklog/crew/queries.py",
        "bool(theirs) and theirs",
        "bool(theirs) or theirs",
        "tests/crew/test_ways_in.py::test_a_reset_works_once_and_not_across_rinks_nor_after_its_maker_stepped_down",
    ),
    Breakage(
        "rinklog/crew/services.py",
        "    if queries.is_last_keeper(member):",
        "    if not member:",
        "tests/crew/test_ways_in.py::test_the_last_keeper_stays_until_somebody_else_keeps",
    ),
    Breakage(
        "rinklog/crew/models.py",
        "{self.session_round}",
        "",
        "tests/web/test_people.py::test_signing_out_everywhere_ends_every_session",
    ),
    Breakage(
        "rinklog/crew/ways_in.py",
        "queries.anybody_keeps() or not",
        "not",
        "tests/crew/test_ways_in.py::test_a_claim_left_over_opens_nothing_once_a_rink_is_kept",
    ),
    Breakage(
        "rinklog/rink/seasons.py",
        "measure_and_divide(rink=rink, into=into, now=now) if into else latest.grid",
        "latest.grid",
        "tests/web/test_setup.py::test_a_later_season_on_a_new_grid_leaves_old_entries_on_theirs",
    ),
    Breakage(
        "rinklog/rink/queries.py",
        "for change in changes) - 1)",
        "for change in changes))",
        "tests/web/test_setup.py::test_building_again_counts_as_a_restart_and_a_phase_can_be_taken_back",
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
    Breakage(
        "rinklog/work/spell_queries.py",
        "        elif one.state in ENDS_UNFAILED:\n",
        "        elif one.state == State.CLOSED:\n",
        "tests/work/test_spells.py::test_a_second_repair_ends_the_first_without_failure",
    ),
    Breakage(
        "rinklog/work/spell_queries.py",
        "        if one.state in (State.HOLDING, State.CLOSED):\n            good = one.at\n",
        "",
        "tests/work/test_spells.py::test_a_repair_fails_between_the_last_time_it_was_good_and_the_time_it_was_back",
    ),
]
