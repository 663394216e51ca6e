"""What a first visit carries, and what travels together from a phone."""

from tests.house.broken import Breakage

ROWS = [
    Breakage(
        "rinklog/web/sheets.py",
        "request.COOKIES.get(COOKIE) == precache.version()",
        "COOKIE in request.COOKIES",
        "tests/web/test_sheets.py::test_a_phone_that_keeps_those_of_an_older_version_does_not",
    ),
    Breakage(
        "rinklog/web/public/views.py",
        "    sheets.carried(request, SHEETS)",
        "",
        "tests/web/test_headers.py::test_no_page_has_inline_script_or_style_and_each_has_its_headers[public]",
    ),
    Breakage(
        "rinklog/web/offline/together.py",
        "if not address.startswith(BELOW):",
        "if not address:",
        "tests/web/test_together.py::test_only_forms_of_a_rink_are_passed_on",
    ),
    Breakage(
        "rinklog/advice/services.py",
        "    found = floods if root is None else floods.filter(root=root)",
        "    found = floods",
        "tests/advice/test_predictions.py"
        "::test_a_flood_just_recorded_costs_the_same_however_many_stand_without_a_prediction",
    ),
]
