"""Export, import into an empty site, export again: the same bytes, whatever people wrote."""

import datetime as dt
from uuid import uuid4

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rinklog.archive.csv_check import check
from rinklog.archive.csv_in import write
from rinklog.archive.csv_out import log_csv
from rinklog.archive.csv_read import read_table
from rinklog.archive.demo.fill import Filled
from rinklog.crew.models import Person
from rinklog.rink.models import Rink
from rinklog.work.cones import cone_id, put_cone
from rinklog.work.hazards import add_event
from rinklog.work.models import ConeStand, Entry, EntryPerson, EntryZone, Hazard, Repair
from rinklog.work.queries import season_sums
from rinklog.work.services import record_entry
from tests.archive.conftest import NOW
from tests.support.cast import Cast
from tests.support.emptying import begin_again
from tests.support.hazards import put_up

# What breaks careless CSV: separators, quotes, line ends, formulas, blanks, other scripts.
NASTY = st.lists(
    st.one_of(
        st.sampled_from(
            ['"', "'", ",", ";", "\t", "\r", "\n", "\r\n", "=cmd|' /C calc'!A0", "+1", "-", "@x", " "]
        ),
        st.sampled_from(["❄️ 雪", "ß", "Ø", "'=", '"=', "‮", "\u2028", "＝1", "0x", "NA", "null", "#REF!"]),
        st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\0"), max_size=6),
    ),
    max_size=8,
).map("".join)


def exported(rink: Rink) -> bytes:
    return b"".join(log_csv(rink))


def import_all(raw: bytes, rink: Rink, keeper: Person) -> None:
    plan = check(read_table(raw), rink, now=NOW)
    assert plan.problems == []
    write(plan, rink=rink, by=keeper, now=NOW)


def test_the_demo_comes_back_as_the_same_bytes(filled: Filled) -> None:
    first = exported(filled.rink)
    counts = [model.objects.count() for model in (Entry, EntryZone, EntryPerson, Hazard, Repair)]
    sums = season_sums(filled.rink.seasons.latest("starts_on"))
    rink, keeper = begin_again(NOW)
    import_all(first, rink, keeper)
    assert exported(rink) == first
    assert [model.objects.count() for model in (Entry, EntryZone, EntryPerson, Hazard, Repair)] == counts
    again = season_sums(rink.seasons.latest("starts_on"))
    assert (again.entries, again.minutes) == (sums.entries, sums.minutes)
    assert abs(again.water_m3 - sums.water_m3) < 1e-9


def test_numbered_cones_come_back_and_a_number_that_no_cone_has_is_told(cast: Cast) -> None:
    hazard, later = put_up(cast, now=NOW, cone_out=True), NOW + dt.timedelta(hours=1)
    put_cone(id=cone_id(hazard.id), hazard=hazard, number=3, at=NOW, by=cast.cleo, now=NOW)
    event = add_event(id=uuid4(), hazard=hazard, state="marked", at=NOW, by=cast.cleo, now=later)
    put_cone(id=cone_id(event.id), hazard=hazard, number=12, at=NOW, by=cast.cleo, now=later)
    raw = exported(cast.rink)
    was = set(ConeStand.objects.values_list("id", "hazard_id", "number", "at", "by__login", "recorded_at"))
    rink, keeper = begin_again(NOW)
    import_all(raw, rink, keeper)
    assert exported(rink) == raw
    assert was == set(
        ConeStand.objects.values_list("id", "hazard_id", "number", "at", "by__login", "recorded_at")
    )
    wrong = raw.replace(b",12,", b",100,")  # no other cell is a bare 12
    assert wrong.count(b",100,") == 1
    rink, keeper = begin_again(NOW)
    [problem] = check(read_table(wrong), rink, now=NOW).problems
    assert (problem.column, problem.value) == ("cone_number", "100")
    assert "allowed is 1 to 99" in problem.reason


def test_importing_again_adds_nothing(filled: Filled) -> None:
    first = exported(filled.rink)
    plan = check(read_table(first), filled.rink, now=NOW)
    assert plan.problems == []
    assert plan.new == {}
    assert plan.here["entry"] == Entry.objects.count()
    assert plan.here["hazard"] == Hazard.objects.count()


def test_a_phone_that_sends_an_imported_entry_again_adds_nothing(cast: Cast) -> None:
    from rinklog.work.content import EntryContent

    entry = cast.flood(note="first")
    raw = exported(cast.rink)
    rink, keeper = begin_again(NOW)
    import_all(raw, rink, keeper)
    zones = list(entry.zones.none().model.objects.filter(entry_id=entry.id).values_list("zone_id", flat=True))
    person = Person.objects.get(login="cleo")
    content = EntryContent(
        started_at=entry.started_at,
        zone_ids=tuple(sorted(zones)),
        minutes={person.id: 30.0},
        water_m3=0.4,
        details={"by": "amount", "water": "cold", "tool": "hose"},
        note="first",
    )
    again = record_entry(
        id=entry.id,
        rink=rink,
        kind="flood",
        content=content,
        by=person,
        now=NOW + dt.timedelta(hours=1),
        local_day=entry.started_at.date(),
    )
    assert not again.made


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(note=NASTY, other=NASTY)
def test_nasty_notes_come_back_exactly(cast: Cast, note: str, other: str) -> None:
    from django.db import transaction

    class Enough(Exception):
        pass

    try:
        with transaction.atomic():
            id = cast.flood(note=note).id
            cast.work(
                "torch-repair", note=other, details=TORCH | {"second_person": other.strip()[:120] or "Bo"}
            )
            raw = exported(cast.rink)
            rink, keeper = begin_again(NOW)
            import_all(raw, rink, keeper)
            assert exported(rink) == raw
            assert Entry.objects.get(id=id).note == note
            raise Enough
    except Enough:
        pass


TORCH = {"flame_minutes": 5.0, "fuel": "propane", "second_person": "Bo"}
