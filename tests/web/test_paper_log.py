"""The paper log: one page to print, and the form it is typed into afterwards."""

import html
import io
from uuid import uuid4

import pypdf
import pytest
from django.test import Client

from rinklog.geometry.grid import Grid
from rinklog.reports.printed.paper_log import Sheet, paper_log
from rinklog.work.cones import cone_of
from rinklog.work.models import Entry, Hazard
from tests.support.cast import Cast

HEAD = {"id": str(uuid4()), "rows": "6", "day": "2026-01-14"}


@pytest.fixture
def cleo(cast: Cast) -> Client:
    """A volunteer."""
    client = Client()
    client.force_login(cast.cleo)
    return client


def row(cast: Cast, number: int, *cells: str) -> dict[str, str]:
    """A row as typed: time, zones, way, water, minutes; Dag did it."""
    names = ("time", "zones", "way", "water", "minutes")
    typed = {f"r{number}-{name}": cell for name, cell in zip(names, cells, strict=True)}
    return typed | {f"r{number}-who": str(cast.dag.id)}


def test_the_paper_is_one_page_for_any_grid_with_every_zone_on_it() -> None:
    for plan in (Grid(40, 20, 4, 8, 4), Grid(61, 26, 8, 40, 40), Grid(10, 30, 0, 1, 6)):
        sheet = Sheet("Millpond Rink", "2025–26", plan, ("Flood, hose",) * 14, "l", "cm", "Take care.")
        pages = pypdf.PdfReader(io.BytesIO(paper_log(sheet))).pages
        text = pages[0].extract_text()
        assert len(pages) == 1
        assert all(zone.name in text for zone in plan.zones)


def test_rows_become_entries_at_their_own_times_by_whoever_did_them(cast: Cast, cleo: Client) -> None:
    sent = HEAD | row(cast, 0, "19:30", "A1-B2 d4", "flood:hose", "400", "45")
    sent |= row(cast, 2, "2315", "all", "snow-removal:shovel", "", "60")
    sent |= row(cast, 3, "0.20", "c3", "patch:bucket-pour", "10", "15")  # after midnight
    answer = cleo.post(f"/r/{cast.rink.slug}/log/paper/", sent)
    assert answer["Location"] == f"/r/{cast.rink.slug}/log/?since=2026-01-14"
    rows = list(Entry.objects.order_by("started_at"))
    # Oslo is one hour ahead of UTC in January (tz database).
    assert [entry.started_at.isoformat() for entry in rows] == [
        "2026-01-14T18:30:00+00:00",
        "2026-01-14T22:15:00+00:00",
        "2026-01-14T23:20:00+00:00",
    ]
    assert [entry.kind for entry in rows] == ["flood", "snow-removal", "patch"]
    assert [entry.water_m3 for entry in rows] == [0.4, None, 0.01]
    labels = [{there.zone.label for there in entry.zones.all()} for entry in rows]
    assert labels[0] == {"A1", "A2", "B1", "B2", "D4"}
    assert [len(there) for there in labels] == [5, 32, 1]
    assert [(one.person.login, one.minutes) for one in rows[0].people.all()] == [("dag", 45.0)]
    assert {entry.by.login for entry in rows} == {"cleo"}


def test_the_same_sheet_sent_twice_is_recorded_once(cast: Cast, cleo: Client) -> None:
    sent = HEAD | row(cast, 0, "19:30", "A1", "flood:hose", "400", "45")
    for _again in range(2):
        assert cleo.post(f"/r/{cast.rink.slug}/log/paper/", sent).status_code == 302
    assert Entry.objects.count() == 1


def test_a_saved_row_typed_anew_is_refused_and_the_first_stays(cast: Cast, cleo: Client) -> None:
    sent = HEAD | row(cast, 0, "19:30", "A1", "flood:hose", "400", "45")
    cleo.post(f"/r/{cast.rink.slug}/log/paper/", sent)
    answer = cleo.post(f"/r/{cast.rink.slug}/log/paper/", sent | {"r0-water": "500"})
    assert answer.status_code == 422
    assert "already: amend it there" in answer.content.decode()
    assert Entry.objects.get().water_m3 == 0.4


@pytest.mark.parametrize(
    ("cells", "sentence"),
    [
        (
            ("25:00", "A1", "flood:hose", "400", "45"),
            "Time is “25:00”; allowed is a time of day such as 19:30.",
        ),
        (("", "A1", "flood:hose", "400", "45"), "Time is “”; allowed is a time of day such as 19:30."),
        (("19:30", "Z9", "flood:hose", "400", "45"), "Zones is “Z9”; allowed are A1 to H4, blocks such as"),
        (("19:30", "", "flood:hose", "400", "45"), "Pick at least one zone: none is picked."),
        (("19:30", "A1", "", "400", "45"), "Work is empty; it is needed."),
        (("19:30", "A1", "flood:hose", "much", "45"), "Water is “much”; allowed is"),
        (("19:30", "A1", "flood:hose", "400", ""), "Minutes is empty; it is needed."),
        (("19:30", "A1", "snow-removal:shovel", "9", "5"), "This kind of work takes no water amount."),
        (("19:30", "A1", "patch:scrape", "9", "5"), "A scrape takes no water"),
    ],
)
def test_one_bad_row_saves_nothing_and_loses_nothing(
    cells: tuple[str, ...], sentence: str, cast: Cast, cleo: Client
) -> None:
    good = row(cast, 0, "19:30", "A1 A2", "flood:hose", "417", "46")
    answer = cleo.post(f"/r/{cast.rink.slug}/log/paper/", HEAD | good | row(cast, 1, *cells))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert sentence in page
    assert Entry.objects.count() == 0
    for cell in ("19:30", "A1 A2", "417", "46", *(cell for cell in cells if cell and ":" not in cell)):
        assert f'value="{cell}"' in page, cell


def test_more_rows_keep_what_was_typed_and_judge_nothing(cast: Cast, cleo: Client) -> None:
    sent = HEAD | row(cast, 1, "25:00", "Z9", "", "", "") | {"more": "1"}
    page = cleo.post(f"/r/{cast.rink.slug}/log/paper/", sent).content.decode()
    assert 'value="25:00"' in page
    assert 'name="rows" value="12"' in page
    assert 'class="error"' not in page


def test_an_empty_sheet_and_one_without_a_date_say_what_is_missing(cast: Cast, cleo: Client) -> None:
    answer = cleo.post(f"/r/{cast.rink.slug}/log/paper/", HEAD)
    assert answer.status_code == 422
    assert "Every row is empty: type at least one." in answer.content.decode()
    sent = HEAD | row(cast, 0, "19:30", "A1", "flood:hose", "400", "45") | {"day": "soon"}
    answer = cleo.post(f"/r/{cast.rink.slug}/log/paper/", sent)
    assert (answer.status_code, Entry.objects.count()) == (422, 0)


def test_a_time_that_the_clock_change_skips_is_refused(cast: Cast, cleo: Client) -> None:
    # Oslo goes from 02:00 to 03:00 on 29 March 2026 (tz database).
    sent = HEAD | {"day": "2026-03-29"} | row(cast, 0, "02:30", "A1", "flood:hose", "400", "45")
    answer = cleo.post(f"/r/{cast.rink.slug}/log/paper/", sent)
    assert "the clock change skips that time" in answer.content.decode()


def test_a_bad_last_row_leaves_none_of_the_rows_before_it(cast: Cast, cleo: Client) -> None:
    # What only the recording refuses: the rows before it were written in the same transaction.
    sent = HEAD | row(cast, 0, "19:30", "A1", "flood:hose", "400", "45")
    sent |= row(cast, 1, "20:30", "A1", "patch:scrape", "9", "5")
    assert cleo.post(f"/r/{cast.rink.slug}/log/paper/", sent).status_code == 422
    assert Entry.objects.count() == 0


def found(number: int, *cells: str) -> dict[str, str]:
    """A hazard's row as typed: time, zones, what, how bad, the cone's number, a note."""
    names = ("time", "zones", "kind", "severity", "cone_number", "note")
    return {f"h{number}-{name}": cell for name, cell in zip(names, cells, strict=True)}


def drilled(cast: Cast, number: int, *cells: str) -> dict[str, str]:
    """A hole's row as typed: time, zone, clear ice, white ice; Dag drilled it."""
    names = ("time", "zones", "clear_ice", "white_ice")
    typed = {f"d{number}-{name}": cell for name, cell in zip(names, cells, strict=True)}
    return typed | {f"d{number}-who": str(cast.dag.id)}


def test_hazards_and_holes_of_the_paper_are_typed_in_beside_the_work(cast: Cast, cleo: Client) -> None:
    sent = HEAD | row(cast, 0, "23:50", "A1", "flood:hose", "400", "45")
    sent |= found(0, "19:30", "C2", "crack", "danger", "7", "ends at the board")
    sent |= found(3, "00:10", "", "light", "trip", "", "")  # after midnight; what is broken needs no zone
    sent |= drilled(cast, 1, "08:05", "h4", "115", "20")
    for _again in range(2):
        answer = cleo.post(f"/r/{cast.rink.slug}/log/paper/", sent)
        assert answer["Location"] == f"/r/{cast.rink.slug}/log/?since=2026-01-14"
    crack, light = Hazard.objects.order_by("found_at")
    # Oslo is one hour ahead of UTC in January (tz database).
    assert crack.found_at.isoformat() == "2026-01-14T18:30:00+00:00"
    assert (crack.kind, crack.severity, crack.cone_out, crack.note) == (
        "crack",
        "danger",
        True,
        "ends at the board",
    )
    assert [zone.label for zone in crack.zones.all()] == ["C2"]
    assert cone_of(crack) == 7
    assert light.found_at.isoformat() == "2026-01-14T23:10:00+00:00"
    assert (light.kind, light.cone_out, cone_of(light)) == ("light", False, None)
    hole = Entry.objects.get(kind="drill-hole")
    # Each table begins with the day on the paper, however late the one before it ended.
    assert hole.started_at.isoformat() == "2026-01-14T07:05:00+00:00"
    assert hole.details == {"clear_ice_m": pytest.approx(0.115), "white_ice_m": pytest.approx(0.02)}
    assert [there.zone.label for there in hole.zones.all()] == ["H4"]
    assert [one.person.login for one in hole.people.all()] == ["dag"]
    assert Entry.objects.count() == 2


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"h0-zones": ""}, "pick a zone: no place is given."),
        ({"h0-kind": ""}, "What is it? is empty; it is needed."),
        ({"h0-cone_number": "140"}, "Number on the cone: allowed is a whole number from 1 to 99."),
        ({"d0-zones": "A1 A2"}, "2 zones are picked; a hole is in exactly one."),
        ({"d0-clear_ice": ""}, "Clear ice is empty; it is needed."),
        ({"d0-clear_ice": "thick"}, "Clear ice is “thick”; allowed is"),
        ({"d0-time": "8 pm"}, "Time is “8 pm”; allowed is a time of day such as 19:30."),
    ],
)
def test_a_bad_hazard_or_hole_saves_nothing_and_loses_nothing(
    typed: dict[str, str], sentence: str, cast: Cast, cleo: Client
) -> None:
    sent = HEAD | row(cast, 0, "19:30", "A1", "flood:hose", "417", "46")
    sent |= found(0, "19:40", "B2", "bump", "trip", "3", "by the gate")
    sent |= drilled(cast, 0, "19:50", "A1", "115", "") | typed
    answer = cleo.post(f"/r/{cast.rink.slug}/log/paper/", sent)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert sentence in html.unescape(page)
    assert (Entry.objects.count(), Hazard.objects.count()) == (0, 0)
    kept = ("417", "by the gate", *(value for value in typed.values() if value))
    assert all(f'value="{value}"' in html.unescape(page) for value in kept)


def test_a_row_in_which_only_a_cone_is_ticked_is_not_dropped_in_silence(cast: Cast, cleo: Client) -> None:
    sent = (
        HEAD | row(cast, 0, "19:30", "A1", "flood:hose", "400", "45") | {"h2-time": "", "h2-cone_out": "on"}
    )
    answer = cleo.post(f"/r/{cast.rink.slug}/log/paper/", sent)
    assert (answer.status_code, Entry.objects.count()) == (422, 0)
    assert "What is it? is empty; it is needed." in answer.content.decode()


def test_the_sentence_about_a_cone_is_in_the_readers_language(cast: Cast, cleo: Client) -> None:
    cast.cleo.language = "nb"
    cast.cleo.save()
    answer = cleo.post(f"/r/{cast.rink.slug}/hazards/new/", {"kind": "bump", "cone_number": "140"})
    assert "tillatt er et helt tall fra 1 til 99" in answer.content.decode().lower()
