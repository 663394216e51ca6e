"""Append-only: whatever is amended, withdrawn and undone in whatever order, a plain model agrees with the database."""

import datetime as dt
from dataclasses import dataclass, field
from uuid import UUID, uuid4

import pytest
from django.db import IntegrityError, transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rinklog.work.content import EntryContent
from rinklog.work.entry_events import add_event, undo_event
from rinklog.work.errors import Conflict, Refused
from rinklog.work.models import Entry, EntryEvent
from rinklog.work.queries import season_sums
from rinklog.work.services import amend_entry, undo_entry, withdraw_entry
from tests.support.cast import NOW, Cast

HOUR = dt.timedelta(hours=1)


def amended(cast: Cast, entry: Entry, litres: int, *, id: UUID | None = None, by: object = None) -> Entry:
    """Amend the water of a flood."""
    content = EntryContent(
        started_at=entry.started_at,
        zone_ids=tuple(zone.id for zone in cast.zones[:2]),
        minutes={cast.cleo.id: 30.0},
        water_m3=litres / 1000,
        details={"by": "amount", "water": "cold", "tool": "hose"},
    )
    who = by or cast.cleo
    return amend_entry(
        id=id or uuid4(),
        entry=entry,
        content=content,
        reason="read wrong",
        by=who,
        now=NOW,
        local_day=NOW.date(),
    ).entry


def undone(entry: Entry, by: object) -> bool:
    return undo_entry(id=uuid4(), entry=entry, by=by, now=NOW, within=HOUR)  # type: ignore[arg-type]


@dataclass
class Plain:
    """One lineage as a stack of litres; withdrawn on top or not. Written without looking at the services."""

    stack: list[tuple[UUID, int]] = field(default_factory=list)
    withdrawn: UUID | None = None

    @property
    def litres(self) -> int:
        return 0 if self.withdrawn or not self.stack else self.stack[-1][1]


DEEDS = st.lists(
    st.tuples(
        st.sampled_from(["amend", "withdraw", "undo", "undo-withdrawal", "undo-first", "new"]),
        st.integers(0, 3),
        st.integers(1, 900),
    ),
    max_size=14,
)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(deeds=DEEDS)
def test_any_order_of_amending_withdrawing_and_undoing_keeps_the_seasons_water(
    cast: Cast, deeds: list
) -> None:
    EntryEvent.objects.all().delete()
    Entry.objects.update(state="undone")
    lines: list[Plain] = []
    for deed, which, litres in deeds:
        if deed == "new" or not lines:
            entry = cast.flood(water_m3=litres / 1000)
            lines.append(Plain([(entry.id, litres)]))
            continue
        perform(cast, lines[which % len(lines)], deed, litres)
        check(cast, lines)
    check(cast, lines)


def perform(cast: Cast, line: Plain, deed: str, litres: int) -> None:
    """Do one deed both ways."""
    if not line.stack:
        return
    top = Entry.objects.get(id=line.stack[-1][0])
    if deed == "amend":
        if line.withdrawn:
            with pytest.raises(Conflict):
                amended(cast, top, litres)
        else:
            line.stack.append((amended(cast, top, litres).id, litres))
    elif deed == "withdraw":
        event = withdraw_entry(id=uuid4(), entry=top, reason="twice", by=cast.cleo, now=NOW)
        line.withdrawn = line.withdrawn or event.id
    elif deed == "undo":
        assert undone(top, cast.cleo) == (line.withdrawn is None)
        if not line.withdrawn:
            line.stack.pop()
    elif deed == "undo-first" and len(line.stack) > 1:
        assert not undone(Entry.objects.get(id=line.stack[0][0]), cast.cleo)
    elif deed == "undo-withdrawal" and line.withdrawn:
        event = EntryEvent.objects.get(id=line.withdrawn)
        assert undo_event(event=event, by=cast.cleo, now=NOW, within=HOUR)
        line.withdrawn = None


def check(cast: Cast, lines: list[Plain]) -> None:
    """The season's water is the model's; each lineage has one standing revision or none."""
    expected = sum(line.litres for line in lines) / 1000
    assert season_sums(cast.season).water_m3 == pytest.approx(expected)
    for line in lines:
        root = Entry.objects.get(id=line.stack[0][0]).root_id if line.stack else None
        standing = Entry.objects.filter(root_id=root, state="standing").count() if root else 0
        assert standing == (1 if line.stack and not line.withdrawn else 0)


def test_two_people_amend_at_once_and_the_second_is_told_of_the_first(cast: Cast) -> None:
    flood = cast.flood()
    first = amended(cast, flood, 300)
    with pytest.raises(Conflict) as conflict:
        amended(cast, flood, 350, by=cast.ada)
    assert conflict.value.existing == first
    assert season_sums(cast.season).water_m3 == pytest.approx(0.3)


def test_an_amendment_posted_twice_is_one(cast: Cast) -> None:
    flood, id = cast.flood(), uuid4()
    assert amended(cast, flood, 300, id=id) == amended(cast, flood, 300, id=id)
    assert Entry.objects.count() == 2


def test_only_its_writer_undoes_an_entry_and_only_for_a_while(cast: Cast) -> None:
    flood = cast.flood()
    with pytest.raises(Refused, match="Only the person"):
        undone(flood, cast.dag)
    with pytest.raises(Refused, match="too late"):
        undo_entry(id=uuid4(), entry=flood, by=cast.cleo, now=NOW + 2 * HOUR, within=HOUR)


def test_a_reason_is_needed(cast: Cast) -> None:
    flood = cast.flood()
    with pytest.raises(Refused, match="reason is empty"):
        withdraw_entry(id=uuid4(), entry=flood, reason="  ", by=cast.cleo, now=NOW)


def test_the_database_itself_refuses_two_revisions_that_count(cast: Cast) -> None:
    flood = cast.flood()
    second = amended(cast, flood, 300)
    with pytest.raises(IntegrityError), transaction.atomic():
        Entry.objects.filter(id=flood.id).update(state="standing")
    with pytest.raises(IntegrityError), transaction.atomic():
        Entry.objects.filter(id=second.id).update(water_m3=-1)
    with pytest.raises(IntegrityError), transaction.atomic():
        Entry.objects.filter(id=flood.id).update(ended_at=flood.started_at - HOUR)


def test_said_twice_is_said_once_whoever_says_it(cast: Cast) -> None:
    flood = cast.flood()
    first = add_event(id=uuid4(), entry=flood, what="set", by=cast.cleo, now=NOW)
    again = add_event(id=uuid4(), entry=flood, what="set", by=cast.dag, now=NOW + HOUR)
    assert (first.made, again.made) == (True, False)
    assert again.event == first.event


@pytest.mark.parametrize(
    ("kind", "what"), [("flood", "lifted"), ("tarp-melt", "set"), ("drill-hole", "frozen")]
)
def test_what_cannot_happen_to_a_kind_is_refused(cast: Cast, kind: str, what: str) -> None:
    with pytest.raises(Refused, match="does not happen"):
        add_event(id=uuid4(), entry=cast.work(kind), what=what, by=cast.cleo, now=NOW)


def test_an_event_is_not_before_the_work_nor_in_the_future(cast: Cast) -> None:
    flood = cast.flood()
    for at, words in ((NOW - HOUR, "before the work"), (NOW + HOUR, "in the future")):
        with pytest.raises(Refused, match=words):
            add_event(id=uuid4(), entry=flood, what="set", by=cast.cleo, now=NOW, at=at)


def test_a_lifted_cover_lies_again_when_that_is_taken_back(cast: Cast) -> None:
    cover = cast.work("tarp-melt")
    lifted = add_event(
        id=uuid4(), entry=cover, what="lifted", by=cast.cleo, now=NOW, details={"result": "level"}
    ).event
    assert not Entry.objects.get().is_open
    assert undo_event(event=lifted, by=cast.cleo, now=NOW, within=HOUR)
    assert Entry.objects.get().is_open
    with pytest.raises(Refused, match="The result is empty"):
        add_event(id=uuid4(), entry=cover, what="lifted", by=cast.cleo, now=NOW)
