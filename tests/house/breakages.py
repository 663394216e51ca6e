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
]
