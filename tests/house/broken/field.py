"""In the field: signs and their codes, cones, the paper log, looks."""

from tests.house.broken import Breakage

ROWS = [
    Breakage(
        "rinklog/reports/printed/codes.py",
        'error="h"',
        'error="l"',
        "tests/web/test_signs.py::test_another_library_reads_the_address_and_the_error_correction",
    ),
    Breakage(
        "rinklog/rink/sign_places.py",
        "if (sign.rows, sign.columns) != (grid.rows, grid.columns):",
        "if False:",
        "tests/web/test_signs.py::test_a_sign_of_another_division_of_the_rink_is_not_taken_for_a_place_of_this_one",
    ),
    Breakage(
        "rinklog/work/cones.py",
        'ConeStand.objects.filter(hazard=hazard).order_by("-at", "-recorded_at").first()\n'
        "    if latest is None or hazard_of_cone(hazard.rink, latest.number) != hazard:",
        'ConeStand.objects.filter(hazard=hazard).order_by("-at", "-recorded_at").first()\n'
        "    if latest is None:",
        "tests/web/test_signs.py::test_a_cone_that_moved_on_is_found_where_it_stands_now",
    ),
    Breakage(
        "rinklog/work/sheets.py",
        "    with transaction.atomic():\n",
        "    if lines:\n",
        "tests/web/test_paper_log.py::test_a_bad_last_row_leaves_none_of_the_rows_before_it",
    ),
    Breakage(
        "rinklog/work/sheets.py",
        "    if line.cone_number is not None:\n",
        "    if False:\n",
        "tests/web/test_paper_log.py::test_hazards_and_holes_of_the_paper_are_typed_in_beside_the_work",
    ),
    Breakage(
        "rinklog/web/logbook/paper_form.py",
        "            if row.line != table:\n",
        "            if not table:\n",
        "tests/web/test_paper_log.py::test_hazards_and_holes_of_the_paper_are_typed_in_beside_the_work",
    ),
]
