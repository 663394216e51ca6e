"""The ice estimate: weights, quantiles, limits, deeds, fingerprints, gaps."""

from tests.house.broken import Breakage

ROWS = [
    Breakage(
        "rinklog/ice/weighing.py",
        "return -0.5 * (off_m",
        "return -1.0 * (off_m",
        "tests/ice/test_holes.py::test_weights_of_one_hole_are_the_normal_density_of_its_error",
    ),
    Breakage(
        "rinklog/ice/weighing.py",
        "np.searchsorted(np.cumsum(weights), steps)",
        "np.searchsorted(np.cumsum(weights[::-1]), steps)",
        "tests/ice/test_holes.py::test_redrawing_keeps_members_in_proportion",
    ),
    Breakage(
        "rinklog/ice/plausible.py",
        "STEFAN_CM = 3.52",
        "STEFAN_CM = 3.92",
        "tests/ice/test_holes.py::test_the_limit_of_what_frost_can_grow_is_stefans",
    ),
    Breakage(
        "rinklog/ice/bands.py",
        "np.cumsum(mass) - mass / 2) * alike",
        "np.cumsum(mass)) * alike",
        "tests/ice/test_holes.py::test_quantiles_of_equal_weights_are_weibulls",
    ),
    Breakage(
        "rinklog/ice/marching.py",
        "return Action((deed.at - start).total_seconds(),",
        "return Action((deed.at - start).total_seconds() + 3600,",
        "tests/ice/test_limits.py::test_without_errors_every_member_is_the_plain_march_of_the_column",
    ),
    Breakage(
        "rinklog/ice/deeds.py",
        'not in ("id", "answer", "frozen_at")',
        'not in ("answer", "frozen_at")',
        "tests/ice/test_deeds.py::test_the_same_words_under_another_id_are_the_same_deed",
    ),
    Breakage(
        "rinklog/ice/filling.py",
        "return np.maximum(level - surfaces_m, 0.0)",
        "return np.full(len(areas_m2), volume_m3 / areas_m2.sum())",
        "tests/ice/test_deeds.py::test_a_level_is_where_an_equation_solver_finds_it",
    ),
    Breakage(
        "rinklog/ice/fingerprints.py",
        "h.key, h.answer)",
        "h.key)",
        "tests/ice/test_fingerprints.py::test_every_input_until_then_changes_the_fingerprint",
    ),
    Breakage(
        "rinklog/ice/forcing.py",
        "BRIDGE_H = 3\n",
        "BRIDGE_H = 6\n",
        "tests/ice/test_forcing.py::test_three_missing_hours_are_bridged_and_four_are_a_gap",
    ),
]
