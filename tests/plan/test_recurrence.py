"""Rules against the examples of RFC 5545, section 3.8.5.3, against dateutil itself, and over clock changes."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest
from dateutil.rrule import rrulestr
from hypothesis import given
from hypothesis import strategies as st

from rinklog.plan.rules.recurrence import BadRule, Recurrence, check, dates, walls

NEW_YORK, OSLO = ZoneInfo("America/New_York"), ZoneInfo("Europe/Oslo")
NINE = dt.time(9)


def days(*months: str) -> list[dt.date]:
    """ "1997-09 2 4" → those days of September 1997."""
    found = []
    for text in months:
        month, *numbers = text.split()
        found += [dt.date.fromisoformat(f"{month}-{int(number):02d}") for number in numbers]
    return found


# Rule, DTSTART, exceptions, and the dates as the RFC lists them (the first ones where it says "...").
RFC: list[tuple[str, str, list[dt.date]]] = [
    ("FREQ=DAILY;COUNT=10", "1997-09-02", days("1997-09 2 3 4 5 6 7 8 9 10 11")),
    ("FREQ=DAILY;INTERVAL=10;COUNT=5", "1997-09-02", days("1997-09 2 12 22", "1997-10 2 12")),
    ("FREQ=DAILY;INTERVAL=2", "1997-09-02", days("1997-09 2 4 6 8 10 12 14 16 18 20 22 24 26 28 30")),
    ("FREQ=WEEKLY;COUNT=10", "1997-09-02", days("1997-09 2 9 16 23 30", "1997-10 7 14 21 28", "1997-11 4")),
    (
        "FREQ=WEEKLY;UNTIL=19971224T000000Z",
        "1997-09-02",
        days("1997-09 2 9 16 23 30", "1997-10 7 14 21 28", "1997-11 4 11 18 25", "1997-12 2 9 16 23"),
    ),
    (
        "FREQ=YEARLY;UNTIL=20000131T140000Z;BYMONTH=1;BYDAY=SU,MO,TU,WE,TH,FR,SA",
        "1998-01-01",
        [dt.date(year, 1, day) for year in (1998, 1999, 2000) for day in range(1, 32)],
    ),
    (
        "FREQ=DAILY;UNTIL=20000131T140000Z;BYMONTH=1",
        "1998-01-01",
        [dt.date(year, 1, day) for year in (1998, 1999, 2000) for day in range(1, 32)],
    ),
    (
        "FREQ=WEEKLY;COUNT=10;WKST=SU;BYDAY=TU,TH",
        "1997-09-02",
        days("1997-09 2 4 9 11 16 18 23 25 30", "1997-10 2"),
    ),
    (
        "FREQ=YEARLY;BYDAY=TH;BYMONTH=6,7,8",
        "1997-06-05",
        days(
            "1997-06 5 12 19 26", "1997-07 3 10 17 24 31", "1997-08 7 14 21 28", "1998-06 4 11 18 25",
            "1998-07 2 9 16 23 30", "1998-08 6 13 20 27", "1999-06 3 10 17 24", "1999-07 1 8 15 22 29",
            "1999-08 5 12 19 26",
        ),
    ),
    ("FREQ=WEEKLY;INTERVAL=2;WKST=SU", "1997-09-02", days("1997-09 2 16 30", "1997-10 14 28", "1997-11 11 25")),
    (
        "FREQ=WEEKLY;UNTIL=19971007T000000Z;WKST=SU;BYDAY=TU,TH",
        "1997-09-02",
        days("1997-09 2 4 9 11 16 18 23 25 30", "1997-10 2"),
    ),
    (
        "FREQ=WEEKLY;INTERVAL=2;UNTIL=19971224T000000Z;WKST=SU;BYDAY=MO,WE,FR",
        "1997-09-01",
        days(
            "1997-09 1 3 5 15 17 19 29", "1997-10 1 3 13 15 17 27 29 31", "1997-11 10 12 14 24 26 28",
            "1997-12 8 10 12 22",
        ),
    ),
    (
        "FREQ=WEEKLY;INTERVAL=2;COUNT=8;WKST=SU;BYDAY=TU,TH",
        "1997-09-02",
        days("1997-09 2 4 16 18 30", "1997-10 2 14 16"),
    ),
    (
        "FREQ=MONTHLY;COUNT=10;BYDAY=1FR",
        "1997-09-05",
        days("1997-09 5", "1997-10 3", "1997-11 7", "1997-12 5", "1998-01 2", "1998-02 6", "1998-03 6", "1998-04 3",
             "1998-05 1", "1998-06 5"),
    ),
    (
        "FREQ=MONTHLY;UNTIL=19971224T000000Z;BYDAY=1FR",
        "1997-09-05",
        days("1997-09 5", "1997-10 3", "1997-11 7", "1997-12 5"),
    ),
    (
        "FREQ=MONTHLY;INTERVAL=2;COUNT=10;BYDAY=1SU,-1SU",
        "1997-09-07",
        days("1997-09 7 28", "1997-11 2 30", "1998-01 4 25", "1998-03 1 29", "1998-05 3 31"),
    ),
    (
        "FREQ=MONTHLY;COUNT=6;BYDAY=-2MO",
        "1997-09-22",
        days("1997-09 22", "1997-10 20", "1997-11 17", "1997-12 22", "1998-01 19", "1998-02 16"),
    ),
    (
        "FREQ=MONTHLY;BYMONTHDAY=-3",
        "1997-09-28",
        days("1997-09 28", "1997-10 29", "1997-11 28", "1997-12 29", "1998-01 29", "1998-02 26"),
    ),
    (
        "FREQ=MONTHLY;COUNT=10;BYMONTHDAY=2,15",
        "1997-09-02",
        days("1997-09 2 15", "1997-10 2 15", "1997-11 2 15", "1997-12 2 15", "1998-01 2 15"),
    ),
    (
        "FREQ=MONTHLY;COUNT=10;BYMONTHDAY=1,-1",
        "1997-09-30",
        days("1997-09 30", "1997-10 1 31", "1997-11 1 30", "1997-12 1 31", "1998-01 1 31", "1998-02 1"),
    ),
    (
        "FREQ=MONTHLY;INTERVAL=18;COUNT=10;BYMONTHDAY=10,11,12,13,14,15",
        "1997-09-10",
        days("1997-09 10 11 12 13 14 15", "1999-03 10 11 12 13"),
    ),
    (
        "FREQ=MONTHLY;INTERVAL=2;BYDAY=TU",
        "1997-09-02",
        days("1997-09 2 9 16 23 30", "1997-11 4 11 18 25", "1998-01 6 13 20 27", "1998-03 3 10 17 24 31"),
    ),
    (
        "FREQ=YEARLY;COUNT=10;BYMONTH=6,7",
        "1997-06-10",
        days(*(f"{year}-{month:02d} 10" for year in range(1997, 2002) for month in (6, 7))),
    ),
    (
        "FREQ=YEARLY;INTERVAL=2;COUNT=10;BYMONTH=1,2,3",
        "1997-03-10",
        days("1997-03 10", *(f"{year}-{month:02d} 10" for year in (1999, 2001, 2003) for month in (1, 2, 3))),
    ),
    (
        "FREQ=YEARLY;INTERVAL=3;COUNT=10;BYYEARDAY=1,100,200",
        "1997-01-01",
        days("1997-01 1", "1997-04 10", "1997-07 19", "2000-01 1", "2000-04 9", "2000-07 18", "2003-01 1", "2003-04 10",
             "2003-07 19", "2006-01 1"),
    ),
    ("FREQ=YEARLY;BYDAY=20MO", "1997-05-19", days("1997-05 19", "1998-05 18", "1999-05 17")),
    ("FREQ=YEARLY;BYWEEKNO=20;BYDAY=MO", "1997-05-12", days("1997-05 12", "1998-05 11", "1999-05 17")),
    (
        "FREQ=YEARLY;BYMONTH=3;BYDAY=TH",
        "1997-03-13",
        days("1997-03 13 20 27", "1998-03 5 12 19 26", "1999-03 4 11 18 25"),
    ),
    (
        "FREQ=MONTHLY;BYDAY=SA;BYMONTHDAY=7,8,9,10,11,12,13",
        "1997-09-13",
        days("1997-09 13", "1997-10 11", "1997-11 8", "1997-12 13", "1998-01 10", "1998-02 7", "1998-03 7", "1998-04 11",
             "1998-05 9", "1998-06 13"),
    ),
    (
        "FREQ=YEARLY;INTERVAL=4;BYMONTH=11;BYDAY=TU;BYMONTHDAY=2,3,4,5,6,7,8",
        "1996-11-05",
        days("1996-11 5", "2000-11 7", "2004-11 2"),
    ),
    ("FREQ=MONTHLY;COUNT=3;BYDAY=TU,WE,TH;BYSETPOS=3", "1997-09-04", days("1997-09 4", "1997-10 7", "1997-11 6")),
    (
        "FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-2",
        "1997-09-29",
        days("1997-09 29", "1997-10 30", "1997-11 27", "1997-12 30", "1998-01 29", "1998-02 26", "1998-03 30"),
    ),
    ("FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=MO", "1997-08-05", days("1997-08 5 10 19 24")),
    ("FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=SU", "1997-08-05", days("1997-08 5 17 19 31")),
    (
        "FREQ=MONTHLY;BYMONTHDAY=15,30;COUNT=5",
        "2007-01-15",
        days("2007-01 15 30", "2007-02 15", "2007-03 15 30"),
    ),
]  # fmt: skip


def nine_in_new_york(rule: str, begins: str, *left_out: dt.date) -> Recurrence:
    return Recurrence(rule, dt.date.fromisoformat(begins), NINE, NEW_YORK, frozenset(left_out))


@pytest.mark.parametrize(("rule", "begins", "listed"), RFC, ids=[rule for rule, _begins, _listed in RFC])
def test_the_examples_of_rfc_5545(rule: str, begins: str, listed: list[dt.date]) -> None:
    recurrence = nine_in_new_york(rule, begins)
    found = dates(recurrence, dt.datetime(1990, 1, 1, tzinfo=dt.UTC), dt.datetime(2008, 1, 1, tzinfo=dt.UTC))
    local = [moment.astimezone(NEW_YORK) for moment in found]
    assert {moment.time() for moment in local} == {NINE}
    endless = "COUNT" not in rule and "UNTIL" not in rule
    assert [moment.date() for moment in local[: len(listed)] if endless] == (listed if endless else [])
    assert endless or [moment.date() for moment in local] == listed


def test_every_friday_the_thirteenth_without_the_day_it_began() -> None:
    # RFC 5545, 3.8.5.3, with its EXDATE.
    rule = nine_in_new_york("FREQ=MONTHLY;BYDAY=FR;BYMONTHDAY=13", "1997-09-02", dt.date(1997, 9, 2))
    found = dates(rule, dt.datetime(1997, 1, 1, tzinfo=dt.UTC), dt.datetime(2000, 12, 1, tzinfo=dt.UTC))
    wanted = days("1998-02 13", "1998-03 13", "1998-11 13", "1999-08 13", "2000-10 13")
    assert [moment.astimezone(NEW_YORK).date() for moment in found] == wanted


def test_daily_until_christmas_keeps_nine_o_clock_when_the_clocks_go_back() -> None:
    # RFC 5545: "1997 9:00 AM EDT September 2-30; October 1-25; 9:00 AM EST October 26-31; November; December 1-23".
    rule = nine_in_new_york("FREQ=DAILY;UNTIL=19971224T000000Z", "1997-09-02")
    found = dates(rule, dt.datetime(1997, 1, 1, tzinfo=dt.UTC), dt.datetime(1998, 1, 1, tzinfo=dt.UTC))
    assert len(found) == 29 + 31 + 30 + 23
    assert sum(moment.hour == 13 for moment in found) == 29 + 25  # EDT is UTC-4
    assert sum(moment.hour == 14 for moment in found) == 6 + 30 + 23  # EST is UTC-5


@pytest.mark.parametrize(
    ("zone", "day", "skipped"),
    [
        (
            OSLO,
            dt.date(2026, 3, 29),
            dt.datetime(2026, 3, 29, 1, 30, tzinfo=dt.UTC),
        ),  # 02:30 read as CET, 03:30 CEST
        (
            NEW_YORK,
            dt.date(2026, 3, 8),
            dt.datetime(2026, 3, 8, 7, 30, tzinfo=dt.UTC),
        ),  # 02:30 EST, 03:30 EDT
    ],
)
def test_a_time_that_spring_skips_is_read_with_the_offset_before(
    zone: ZoneInfo, day: dt.date, skipped: dt.datetime
) -> None:
    rule = Recurrence("FREQ=DAILY;COUNT=3", day - dt.timedelta(days=1), dt.time(2, 30), zone)
    assert dates(rule, skipped - dt.timedelta(days=9), skipped + dt.timedelta(days=9))[1] == skipped


@pytest.mark.parametrize(
    ("zone", "day", "first"),
    [
        (
            OSLO,
            dt.date(2026, 10, 25),
            dt.datetime(2026, 10, 25, 0, 30, tzinfo=dt.UTC),
        ),  # 02:30 CEST comes first
        (
            NEW_YORK,
            dt.date(2026, 11, 1),
            dt.datetime(2026, 11, 1, 5, 30, tzinfo=dt.UTC),
        ),  # 01:30 EDT comes first
    ],
)
def test_of_a_time_that_autumn_has_twice_the_first_counts(
    zone: ZoneInfo, day: dt.date, first: dt.datetime
) -> None:
    wall = first.astimezone(zone).time()
    rule = Recurrence("FREQ=DAILY;COUNT=3", day - dt.timedelta(days=1), wall, zone)
    found = dates(rule, first - dt.timedelta(days=9), first + dt.timedelta(days=9))
    assert (len(found), found[1]) == (3, first)


def test_new_year_inside_a_season_breaks_no_rhythm() -> None:
    rule = Recurrence("FREQ=DAILY;INTERVAL=3;UNTIL=20270110", dt.date(2026, 12, 28), dt.time(20), OSLO)
    local = [wall.date() for wall in walls(rule)]
    assert local == days("2026-12 28 31", "2027-01 3 6 9")


@given(
    freq=st.sampled_from(["DAILY", "WEEKLY", "MONTHLY"]),
    interval=st.integers(1, 6),
    count=st.integers(1, 60),
    byday=st.lists(st.sampled_from(["MO", "TU", "WE", "TH", "FR", "SA", "SU"]), unique=True, max_size=4),
    begins=st.dates(dt.date(2020, 1, 1), dt.date(2030, 1, 1)),
    hour=st.integers(0, 23),
)
def test_any_rule_has_the_dates_that_dateutil_gives_it(
    freq: str, interval: int, count: int, byday: list[str], begins: dt.date, hour: int
) -> None:
    rule = f"FREQ={freq};INTERVAL={interval};COUNT={count}" + (f";BYDAY={','.join(byday)}" if byday else "")
    ours = Recurrence(rule, begins, dt.time(hour), OSLO)
    theirs = rrulestr(rule, dtstart=ours.begins)
    furthest = ours.begins + dt.timedelta(days=366 * 12)
    assert list(walls(ours)) == [wall for wall in theirs if wall <= furthest]


@pytest.mark.parametrize(
    ("rule", "key"),
    [
        ("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30;COUNT=3", "never"),
        ("FREQ=MONTHLY;BYMONTHDAY=31;BYMONTH=4,6;UNTIL=20280101", "never"),
        ("FREQ=DAILY", "for-ever"),
        ("FREQ=DAILY;UNTIL=20260101", "ends-first"),
        ("FREQ=DAILY;COUNT=3;UNTIL=20270101", "both-ends"),
        ("FREQ=HOURLY;COUNT=3", "frequency"),
        ("FREQ=DAILY;COUNT=1000000", "many"),
        ("FREQ=DAILY;COUNT=0", "unreadable"),
        ("FREQ=DAILY;UNTIL=20261301", "unreadable"),
        ("FREQ=WEEKLY;BYDAY=XX;COUNT=2", "unreadable"),
        ("every day", "unreadable"),
        ("", "unreadable"),
        ("FREQ=DAILY;COUNT=2;NONSENSE=1", "unreadable"),
    ],
)
def test_a_rule_that_cannot_stand_says_why(rule: str, key: str) -> None:
    with pytest.raises(BadRule) as bad:
        check(Recurrence(rule, dt.date(2026, 11, 25), dt.time(20), OSLO))
    assert bad.value.key == key


def test_a_rule_whose_only_date_is_left_out_never_occurs() -> None:
    begins = dt.date(2026, 11, 25)
    with pytest.raises(BadRule) as bad:
        check(Recurrence("FREQ=DAILY;COUNT=1", begins, dt.time(20), OSLO, frozenset({begins})))
    assert bad.value.key == "never"
