"""Languages: who reads which, and numbers that two peoples read differently."""

from tests.house.broken import Breakage

ROWS = [
    Breakage(
        "rinklog/web/languages.py",
        'READ_ALIKE.get(wish.partition("-")[0], wish)',
        "wish",
        "tests/web/test_languages.py::test_a_stranger_reads_in_the_first_language_of_the_browser_that_is_spoken_here",
    ),
    Breakage(
        "rinklog/web/measures.py",
        "if si.two_ways(tidy):",
        "if False:",
        "tests/web/test_languages.py::test_a_number_that_two_peoples_read_differently_is_refused",
    ),
    Breakage(
        "rinklog/reports/review/told.py",
        "with override(code):",
        "with override(BUILT_IN):",
        "tests/reports/test_told.py::test_a_stored_sentence_is_read_in_the_readers_language",
    ),
]
