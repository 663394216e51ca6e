"""Telling people, broken on purpose."""

from tests.house.broken import Breakage

ROWS = [
    Breakage(
        "rinklog/telling/services.py",
        "new = [one for one in wanted if one.id in made]",
        "new = wanted",
        "tests/telling/test_tell.py::test_a_person_hears_of_a_key_once_ever_and_everybody_else_still_hears_of_it",
    ),
    Breakage(
        "rinklog/telling/sending.py",
        "            if mine.update(handed_at=now) != len(self.messages):\n                raise ClaimLost\n",
        "            mine.update(handed_at=now)\n",
        "tests/telling/test_mail.py::test_a_slow_worker_whose_claim_lapsed_does_not_send_after_all",
    ),
    Breakage(
        "rinklog/telling/sending.py",
        "lapsed.filter(handed_at=None).update(claim=None, claimed_at=None)",
        "lapsed.update(claim=None, claimed_at=None, handed_at=None)",
        "tests/telling/test_mail.py::"
        "test_a_worker_that_died_before_handing_over_leaves_it_to_the_next_and_one_after_it_does_not",
    ),
    Breakage(
        "rinklog/telling/mail.py",
        "return Outcome(What.UNKNOWN, said(error))",
        "return Outcome(What.LATER, said(error))",
        "tests/telling/test_mail.py::test_silence_after_the_body_is_never_answered_by_a_second_mail",
    ),
    Breakage(
        "rinklog/telling/quiet.py",
        "end = last_showing(",
        "end = first_showing(",
        "tests/telling/test_quiet_hours.py::test_what_comes_in_quiet_hours_goes_when_they_end",
    ),
    Breakage(
        "rinklog/telling/quiet.py",
        "for day in (today - dt.timedelta(days=1), today):",
        "for day in (today,):",
        "tests/telling/test_quiet_hours.py::test_what_comes_in_quiet_hours_goes_when_they_end",
    ),
    Breakage(
        "rinklog/telling/services.py",
        "if wakes or wish.quiet_from is None",
        "if urgent or wish.quiet_from is None",
        "tests/telling/test_quiet_hours.py::test_only_what_wakes_people_passes_quiet_hours",
    ),
    Breakage(
        "rinklog/telling/push.py",
        "host == known or known.startswith",
        "known in host or known.startswith",
        "tests/telling/test_push.py::test_the_site_posts_to_known_push_services_only",
    ),
    Breakage(
        "rinklog/telling/push.py",
        "if status in (404, 410):",
        "if status == 404:",
        "tests/telling/test_push.py::test_a_device_that_is_gone_is_forgotten_with_all_that_waits_for_it",
    ),
    Breakage(
        "rinklog/plan/calendar.py",
        "return shift.changed + len(places) +",
        "return shift.changed +",
        "tests/plan/test_calendar_feed.py::test_uid_stays_and_sequence_grows_with_all_that_happens",
    ),
    Breakage(
        "rinklog/plan/calendar.py",
        "if shift.is_off or has_left:",
        "if shift.is_off:",
        "tests/plan/test_calendar_feed.py::"
        "test_ones_own_calendar_has_ones_own_shifts_and_cancels_what_was_given_back",
    ),
    Breakage(
        "rinklog/telling/queries.py",
        "return link if link and role_on(link.rink, link.person) else None",
        "return link",
        "tests/plan/test_calendar_feed.py::test_the_link_of_somebody_who_left_the_crew_opens_nothing",
    ),
]
