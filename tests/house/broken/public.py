"""The public page and who is named on it."""

from tests.house.broken import Breakage

ROWS = [
    Breakage(
        "rinklog/records/queries.py",
        "PublicPage.objects.exclude(shown=PublicPage.Shown.OFF)",
        "PublicPage.objects.all()",
        "tests/web/test_public.py::test_there_is_no_page_until_the_keeper_shows_it_and_none_after_it_is_taken_away",
    ),
    Breakage(
        "rinklog/web/middleware.py",
        "return request.path_info.startswith(PUBLIC)",
        "return False",
        "tests/web/test_public.py::test_a_cache_may_keep_it_whoever_reads",
    ),
    Breakage(
        "rinklog/web/public/reading.py",
        'return "us" if region in US_REGIONS else "metric"',
        'return "us"',
        "tests/web/test_public.py::test_a_stranger_reads_their_own_units",
    ),
    Breakage(
        "rinklog/web/public/kept.py",
        "now - page.made_s >= KEEP_S",
        "False",
        "tests/web/test_public.py::test_an_unchanged_page_is_not_sent_again_and_a_changed_one_is",
    ),
]
