"""Formulas and rules broken on purpose: for each, the test that must notice.

Add a row when you add a rule, here or in a file of tests/house/broken: the file, a snippet that stands in it exactly
once, what breaks it, and the test that must fail. Choose a quick test. `test_breakage.py` tries every row.
"""

from tests.house.broken import Breakage, gathered

__all__ = ["BREAKAGES", "Breakage"]

BREAKAGES = [
    *gathered(),
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
        "rinklog/work/spell_queries.py",
        "        if one.state in (State.HOLDING, State.CLOSED):\n            good = one.at\n",
        "",
        "tests/work/test_spells.py::test_a_repair_fails_between_the_last_time_it_was_good_and_the_time_it_was_back",
    ),
    Breakage(
        "rinklog/plan/rules/may_take.py",
        "    if still and left == 1:",
        "    if still and left == 0:",
        "tests/plan/test_places.py::test_the_last_place_is_kept_for_a_skill_that_is_missing",
    ),
    Breakage(
        "rinklog/plan/services/places.py",
        "    if other := shifts.clash(person.id, shift):",
        "    if (other := None) is not None:",
        "tests/plan/test_places.py::test_nobody_is_on_two_shifts_at_once",
    ),
    Breakage(
        "rinklog/plan/rules/recurrence.py",
        'clock.from_local(wall, recurrence.zone, "first")',
        'clock.from_local(wall, recurrence.zone, "second")',
        "tests/plan/test_recurrence.py::test_a_time_that_spring_skips_is_read_with_the_offset_before",
    ),
    Breakage(
        "rinklog/plan/queries/due.py",
        "if date.due_at <= one.at < date.until",
        "if one.at < date.until",
        "tests/plan/test_due_dates.py::test_other_work_and_a_flood_outside_the_span_do_not_count",
    ),
    Breakage(
        "rinklog/plan/rules/conditions.py",
        "measured < (SNOW_FALLS_MM",
        "measured <= (SNOW_FALLS_MM",
        "tests/plan/test_conditions.py::test_the_limit_itself_is_not_colder",
    ),
    Breakage(
        "rinklog/plan/rules/turning.py",
        "FELL_BY = 0.2",
        "FELL_BY = 0.9",
        "tests/web/test_shifts.py::test_a_window_that_fades_questions_its_shift_and_a_far_one_says_nothing",
    ),
    Breakage(
        "rinklog/plan/roster/model.py",
        "2 * before + (2 * step - 1) * unit",
        "2 * before + unit",
        "tests/plan/test_roster.py::test_no_other_roster_is_better",
    ),
    Breakage(
        "rinklog/plan/roster/model.py",
        "other.starts_at <= night.starts_at < other.ends_at + rest",
        "other.starts_at <= night.starts_at < other.ends_at",
        "tests/plan/test_roster.py::test_no_other_roster_is_better",
    ),
    Breakage(
        "rinklog/plan/services/on_ice.py",
        "    if queries.on_ice_now(rink).exclude(person=person).exists():",
        "    if person:",
        "tests/plan/test_sweep.py::test_nobody_goes_on_the_ice_alone_after_dark",
    ),
    Breakage(
        "rinklog/plan/services/on_ice.py",
        ".filter(id=id, off_at=None, alarmed_at=None)",
        ".filter(id=id, off_at=None)",
        "tests/plan/test_sweep.py::test_who_is_not_off_in_time_raises_one_alarm_after_the_time_of_grace",
    ),
    Breakage(
        "rinklog/plan/rules/availability.py",
        "    last = day if ends > begins else day + DAY",
        "    last = day",
        "tests/plan/test_availability.py::test_a_weekly_line_follows_its_own_clock",
    ),
]
