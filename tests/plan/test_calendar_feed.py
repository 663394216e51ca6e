"""The calendar of shifts, read by icalendar and by recurring-ical-events as a calendar program would."""

import datetime as dt
from uuid import uuid4
from zoneinfo import ZoneInfo

import icalendar
import pytest
import recurring_ical_events
from django.test import Client
from django.urls import reverse

from rinklog.crew.models import Membership, Person
from rinklog.crew.services import end_membership
from rinklog.crew.tokens import token_of
from rinklog.plan.calendar import calendar_text
from rinklog.plan.models import Shift
from rinklog.plan.queries.calendar import shifts_shown
from rinklog.plan.services.places import give_back, take
from rinklog.plan.services.shifts import call_off, move
from rinklog.telling.services import make_calendar_link, revoke_calendar_link
from tests.support.cast import Cast, make_person
from tests.support.counting import CountQueries
from tests.support.shifts import SOON, a_place, a_shift

HOUR, DAY = dt.timedelta(hours=1), dt.timedelta(days=1)
ORIGIN = "https://rink.rimvinkel.example"
TORONTO, OSLO = ZoneInfo("America/Toronto"), ZoneInfo("Europe/Oslo")


def text_of(cast: Cast, person: Person | None = None, now: dt.datetime = SOON) -> bytes:
    """The feed as it is sent."""
    shifts = shifts_shown(cast.rink, person, now)
    return calendar_text(rink=cast.rink, shifts=shifts, person=person, origin=ORIGIN, now=now)


def events(cast: Cast, person: Person | None = None) -> list[icalendar.Event]:
    """The events of the feed."""
    return list(icalendar.Calendar.from_ical(text_of(cast, person)).walk("VEVENT"))


def only_event(cast: Cast, person: Person | None = None) -> icalendar.Event:
    """The one event of the feed."""
    (event,) = events(cast, person)
    return event


def test_a_shift_is_an_event_at_its_time_with_its_people_and_where_it_leads(cast: Cast) -> None:
    shift = a_shift(cast, note="Slow hose.")
    a_place(cast, cast.cleo, shift)
    event = only_event(cast)
    assert event["UID"] == f"shift-{shift.id}@rinklog"
    assert (event.start, event.end) == (SOON, SOON + 2 * HOUR)
    assert event["DTSTART"].params["TZID"] == "Europe/Oslo"
    assert event["SUMMARY"] == "Flood, Millpond Rink (1 of 2)"
    assert event["DESCRIPTION"].startswith("Cleo\nSlow hose.")
    assert event["URL"] == f"{ORIGIN}/r/{cast.rink.slug}/shifts/{shift.id}/"
    assert event["STATUS"] == "CONFIRMED"
    assert {"DTSTAMP", "CREATED", "LAST-MODIFIED", "SEQUENCE"} <= set(event)


def test_the_text_keeps_to_the_standard(cast: Cast) -> None:
    a_shift(cast, note="Ærlig talt; bring tea, cups – and\nthe long ladder. " + "x" * 100)
    text = text_of(cast)
    assert text.startswith(b"BEGIN:VCALENDAR\r\n")
    assert text.count(b"\n") == text.count(b"\r\n")  # RFC 5545, 3.1: CRLF, at most 75 octets a line
    assert max(len(line) for line in text.split(b"\r\n")) <= 75
    calendar = icalendar.Calendar.from_ical(text)
    assert (calendar["VERSION"], calendar["METHOD"]) == ("2.0", "PUBLISH")
    assert "tea, cups – and\nthe long ladder." in only_event(cast)["DESCRIPTION"]


@pytest.mark.parametrize(
    ("zone", "wall"),
    [
        # The evenings before and after the clock changes of 2027 and 2026 in both zones, by the tz database.
        (TORONTO, "2027-03-13T19:00"),
        (TORONTO, "2027-03-14T19:00"),
        (TORONTO, "2027-11-06T23:30"),
        (TORONTO, "2027-11-07T19:00"),
        (OSLO, "2027-03-27T23:00"),
        (OSLO, "2027-03-28T19:00"),
        (OSLO, "2027-10-30T23:00"),
        (OSLO, "2027-10-31T19:00"),
    ],
)
def test_the_calendars_own_time_zone_gives_the_true_instant(cast: Cast, zone: ZoneInfo, wall: str) -> None:
    cast.rink.time_zone = zone.key
    cast.rink.save()
    starts_at = dt.datetime.fromisoformat(wall).replace(tzinfo=zone).astimezone(dt.UTC)
    a_shift(cast, starts_at=starts_at, made_at=starts_at - 2 * DAY)
    calendar = icalendar.Calendar.from_ical(text_of(cast))
    (block,) = calendar.walk("VTIMEZONE")
    (event,) = calendar.walk("VEVENT")
    assert event["DTSTART"].params["TZID"] == block["TZID"] == zone.key
    # Read by the rules that stand in the file, not by the zones of this machine.
    naive = event["DTSTART"].dt.replace(tzinfo=None)
    assert naive == dt.datetime.fromisoformat(wall)
    assert naive.replace(tzinfo=block.to_tz(lookup_tzid=False)).astimezone(dt.UTC) == starts_at


def test_a_calendar_program_finds_the_shift_on_its_day_and_on_no_other(cast: Cast) -> None:
    a_shift(cast)
    a_shift(cast, starts_at=SOON + 3 * DAY)
    query = recurring_ical_events.of(icalendar.Calendar.from_ical(text_of(cast)))
    day = SOON.astimezone(OSLO).date()
    assert [len(query.at(day + n * DAY)) for n in range(4)] == [1, 0, 0, 1]


def test_uid_stays_and_sequence_grows_with_all_that_happens(cast: Cast) -> None:
    shift = a_shift(cast)
    seen = [only_event(cast)]
    place = a_place(cast, cast.cleo, shift)
    seen.append(only_event(cast))
    move(shift=shift, starts_at=SOON + HOUR, minutes=90, by=cast.bo, now=SOON - DAY)
    seen.append(only_event(cast))
    give_back(place=place, by=cast.cleo, now=SOON - HOUR)
    seen.append(only_event(cast))
    take(id=uuid4(), shift=shift, person=cast.cleo, by=cast.cleo, now=SOON - HOUR / 2)
    seen.append(only_event(cast))
    call_off(shift=shift, reason="rain", by=cast.bo, now=SOON - HOUR / 4)
    seen.append(only_event(cast))
    assert {event["UID"] for event in seen} == {f"shift-{shift.id}@rinklog"}
    numbers = [event["SEQUENCE"] for event in seen]
    assert all(one < after for one, after in zip(numbers, numbers[1:], strict=False)), numbers
    stamps = [event["DTSTAMP"].dt for event in seen]
    assert stamps == sorted(stamps)
    assert (seen[2].start, seen[2].end) == (SOON + HOUR, SOON + 2.5 * HOUR)
    assert [event["STATUS"] for event in seen] == ["CONFIRMED"] * 5 + ["CANCELLED"]
    assert seen[-1]["SUMMARY"] == "Called off: Flood, Millpond Rink"


def test_ones_own_calendar_has_ones_own_shifts_and_cancels_what_was_given_back(cast: Cast) -> None:
    mine, another = a_shift(cast), a_shift(cast, starts_at=SOON + DAY)
    place = a_place(cast, cast.cleo, mine)
    a_place(cast, cast.dag, another)
    assert only_event(cast, cast.cleo)["STATUS"] == "CONFIRMED"
    before = only_event(cast, cast.cleo)["SEQUENCE"]
    give_back(place=place, by=cast.cleo, now=SOON - DAY)
    left = only_event(cast, cast.cleo)
    assert (left["STATUS"], left["UID"]) == ("CANCELLED", f"shift-{mine.id}@rinklog")
    assert left["SEQUENCE"] > before
    assert len(events(cast)) == 2


def test_a_questioned_shift_is_tentative(cast: Cast) -> None:
    shift = a_shift(cast)
    Shift.objects.filter(id=shift.id).update(questioned_at=SOON - DAY)
    event = only_event(cast)
    assert event["STATUS"] == "TENTATIVE"
    assert "a coordinator decides" in event["DESCRIPTION"]


def test_many_shifts_cost_no_more_queries_than_one(cast: Cast) -> None:
    counts = []
    for rows in (1, 20):
        for n in range(rows):
            a_place(cast, cast.cleo, a_shift(cast, starts_at=SOON + (rows + n) * DAY))
        with CountQueries() as counted:
            text_of(cast, cast.cleo)
        counts.append(counted.count)
    assert counts[0] == counts[1] <= 4


def feed(token: str, **headers: str) -> tuple[int, bytes, str]:
    """What somebody with nothing but the link gets: status, text and ETag."""
    answer = Client(headers=headers).get(reverse("calendar-feed", args=[token]))
    return answer.status_code, answer.content, answer.headers.get("ETag", "")


def link(cast: Cast, person: Person, what: str = "mine") -> str:
    """A link's token."""
    return token_of(make_calendar_link(person=person, rink=cast.rink, what=what, now=SOON - DAY).id)


def test_the_link_opens_without_signing_in_until_it_is_closed(cast: Cast) -> None:
    a_place(cast, cast.cleo)
    token = link(cast, cast.cleo)
    assert link(cast, cast.cleo) == token  # asked for again, it is the same one
    status, text, etag = feed(token)
    assert (status, text[:15]) == (200, b"BEGIN:VCALENDAR")
    assert feed(token, **{"if-none-match": etag})[0] == 304
    revoke_calendar_link(person=cast.cleo, rink=cast.rink, what="mine", now=SOON)
    assert feed(token)[0] == 404
    assert feed(link(cast, cast.cleo))[0] == 200
    assert feed(token)[0] == 404
    assert feed("guessed")[0] == 404


def test_the_link_of_somebody_who_left_the_crew_opens_nothing(cast: Cast) -> None:
    token = link(cast, cast.dag, "rink")
    assert feed(token)[0] == 200
    member = Membership.objects.get(person=cast.dag, rink=cast.rink)
    end_membership(member=member, by=cast.dag, now=SOON)
    assert feed(token)[0] == 404


def test_the_page_makes_shows_and_closes_links(cast: Cast, client: Client) -> None:
    client.force_login(cast.cleo)
    page = reverse("calendars", args=[cast.rink.slug])
    assert ".ics" not in client.get(page).content.decode()
    assert client.post(reverse("calendar-make", args=[cast.rink.slug]), {"what": "rink"}).status_code == 302
    shown = client.get(page).content.decode()
    first = token_of(make_calendar_link(person=cast.cleo, rink=cast.rink, what="rink", now=SOON).id)
    assert f"http://testserver/calendar/{first}.ics" in shown
    again = {"what": "rink", "again": "1"}
    client.post(reverse("calendar-make", args=[cast.rink.slug]), again)
    assert feed(first)[0] == 404
    client.post(reverse("calendar-revoke", args=[cast.rink.slug]), {"what": "rink"})
    assert ".ics" not in client.get(page).content.decode()
    refused = client.post(reverse("calendar-make", args=[cast.rink.slug]), {"what": "all"})
    assert refused.status_code == 422
    assert "“all” is no calendar; allowed are mine, rink." in refused.content.decode()


def test_another_persons_link_is_another_link(cast: Cast) -> None:
    gil = make_person("gil", cast.rink, Membership.Role.VOLUNTEER)
    assert len({link(cast, cast.cleo), link(cast, gil), link(cast, cast.cleo, "rink")}) == 3
