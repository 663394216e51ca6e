"""The forms of work: each kind from the form to its page, quick picks without script, amendments, conflicts."""

import re
from uuid import UUID, uuid4

import pytest
from django.test import Client

from rinklog.crew.models import SafetyRead
from rinklog.work.models import Entry, Hazard
from tests.support.cast import Cast
from tests.support.hazards import put_up


@pytest.fixture
def cleo(cast: Cast, client: Client) -> Client:
    client.force_login(cast.cleo)
    return client


def posted(cast: Cast, **changes: object) -> dict[str, object]:
    """What every form sends."""
    return {
        "id": str(uuid4()),
        "zones": [cast.zones[8].id],
        "started": "2026-01-15T21:00",
        f"minutes-{cast.cleo.id}": "25",
    } | changes


FLOOD = {"by": "amount", "amount": "400", "water": "cold", "tool": "hose"}
KINDS: dict[str, tuple[dict[str, object], dict[str, object]]] = {
    "flood": (FLOOD, {"by": "amount", "water": "cold", "tool": "hose"}),
    "snow-removal": (
        {"snow_depth_m": "40 mm", "snow": "wet", "tools": ["scraper", "shovel"]},
        {"snow_depth_m": 0.04, "snow": "wet", "tools": ["scraper", "shovel"]},
    ),
    "patch": ({"method": "bucket-pour", "amount": "12 l"}, {"method": "bucket-pour"}),
    "torch-repair": (
        {"flame_minutes": "9", "fuel": "propane", "fuel_kg": "0.4", "second": "Dag", "safety_read": "on"},
        {"flame_minutes": 9.0, "fuel": "propane", "fuel_kg": 0.4, "second_person": "Dag"},
    ),
    "tarp-melt": ({"cover": "dark-tarp"}, {"cover": "dark-tarp"}),
    "inspection": ({"condition": "rough"}, {}),
    "drill-hole": (
        {"clear_ice_m": "110", "white_ice_m": "0", "water_below_m": ""},
        {"clear_ice_m": 0.11, "white_ice_m": 0.0},
    ),
}


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_goes_from_its_form_to_its_page_and_a_replay_adds_nothing(
    cast: Cast, cleo: Client, kind: str
) -> None:
    fields, details = KINDS[kind]
    address = f"/r/{cast.rink.slug}/log/{kind}/"
    assert cleo.get(address).status_code == 200
    post = posted(cast, **fields)
    for _again in range(2):
        assert cleo.post(address, post).status_code == 302
    entry = Entry.objects.get()
    assert entry.details == pytest.approx(details)
    page = cleo.get(f"/r/{cast.rink.slug}/entry/{entry.id}/").content.decode()
    assert "25 min" in page
    assert "One tap undoes it" in page


@pytest.mark.parametrize(
    ("kind", "wrong", "sentence"),
    [
        ("flood", {"amount": "much"}, "Water is “much”; allowed is"),
        (
            "flood",
            {"by": "meter", "meter_before_m3": "9", "meter_after_m3": "5"},
            "If it rolled over or was replaced",
        ),
        ("flood", {"by": "minutes", "hose_minutes": "10", "hose_flow_ls": ""}, "Hose flow is empty"),
        ("torch-repair", {"second": "", "second_name": ""}, "never used by one person alone"),
        ("torch-repair", {"second": "", "second_name": "cleo"}, "You are the first person"),
        ("torch-repair", {"safety_read": ""}, "The safety points are not ticked"),
        ("drill-hole", {"clear_ice_m": "thick"}, "Clear ice is “thick”"),
        ("inspection", {"condition": ""}, "The condition is empty"),
    ],
)
def test_a_refusal_is_a_sentence_at_the_form_and_nothing_typed_is_lost(
    cast: Cast, cleo: Client, kind: str, wrong: dict[str, object], sentence: str
) -> None:
    post = posted(cast, **KINDS[kind][0]) | {"note": "keep these words"} | wrong
    answer = cleo.post(f"/r/{cast.rink.slug}/log/{kind}/", post)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert sentence in page
    assert "keep these words" in page
    assert not Entry.objects.exists()


def test_the_safety_points_are_ticked_once_a_season(cast: Cast, cleo: Client) -> None:
    address = f"/r/{cast.rink.slug}/log/torch-repair/"
    assert 'name="safety_read"' in cleo.get(address).content.decode()
    cleo.post(address, posted(cast, **KINDS["torch-repair"][0]))
    assert SafetyRead.objects.get().topic == "torch"
    page = cleo.get(address).content.decode()
    assert 'name="safety_read"' not in page
    assert "fire extinguisher" in page


def test_a_quick_pick_without_script_keeps_what_was_typed_and_complains_of_nothing(
    cast: Cast, cleo: Client
) -> None:
    post = posted(cast, **FLOOD) | {"amount": "much", "note": "half a sen", "pick": "whole"}
    answer = cleo.post(f"/r/{cast.rink.slug}/log/flood/", post)
    page = answer.content.decode()
    assert answer.status_code == 200
    assert 'class="error' not in page
    assert "half a sen" in page
    assert 'value="much"' in page
    assert page.count('name="zones"') == len(cast.zones)
    assert len(re.findall(r'name="zones" value="\d+" checked', page)) == len(cast.zones)
    assert not Entry.objects.exists()


def test_an_inspection_marks_zones_in_steps(cast: Cast, cleo: Client) -> None:
    address = f"/r/{cast.rink.slug}/log/inspection/"
    first, second = cast.zones[0], cast.zones[5]
    step = cleo.post(address, posted(cast, zones=[first.id], condition="thin", mark="1"))
    assert f"{first.id}:thin" in step.content.decode()
    cleo.post(address, posted(cast, zones=[second.id], condition="good", marked=f"{first.id}:thin"))
    rows = {row.zone_id: row.condition for row in Entry.objects.get().zones.all()}
    assert rows == {first.id: "thin", second.id: "good"}


def test_a_repair_and_the_inspection_after_it_move_the_hazard(cast: Cast, cleo: Client) -> None:
    hazard = put_up(cast)
    cleo.post(
        f"/r/{cast.rink.slug}/log/patch/",
        posted(cast, method="slush-pack", hazards=[str(hazard.id)], started="2026-01-16T21:00"),
    )
    assert Hazard.objects.get().state == "under-repair"
    cleo.post(
        f"/r/{cast.rink.slug}/log/inspection/",
        posted(cast, zones=[], started="2026-01-17T21:00", **{f"judged-{hazard.id}": "back-again"}),
    )
    assert Hazard.objects.get().state == "back-again"


def test_minutes_left_empty_are_the_time_from_start_to_end(cast: Cast, cleo: Client) -> None:
    # 29 March 2026, Oslo: 01:30 to 03:30 on the clock is one hour (IANA tzdata).
    times = {"started": "2026-03-29T01:30", "ended": "2026-03-29T03:30", f"minutes-{cast.cleo.id}": ""}
    cleo.post(f"/r/{cast.rink.slug}/log/flood/", posted(cast, **FLOOD) | times)
    assert Entry.objects.get().people.get().minutes == 60


def test_a_meter_counts_in_the_unit_on_its_dial(cast: Cast, cleo: Client) -> None:
    meter = {"by": "meter", "meter_unit": "gal", "meter_before_m3": "100", "meter_after_m3": "200"}
    cleo.post(f"/r/{cast.rink.slug}/log/flood/", posted(cast, **(FLOOD | meter)))
    # NIST SP 811, appendix B: 1 US gallon = 3.785 412 E-03 m³.
    assert Entry.objects.get().water_m3 == pytest.approx(0.3785412, rel=1e-5)


def amendment(cast: Cast, cleo: Client, entry: Entry, **changes: object) -> object:
    post = posted(cast, **FLOOD) | {"amount": "300", "reason": "read wrong"} | changes
    return cleo.post(f"/r/{cast.rink.slug}/entry/{entry.id}/amend/", post)


def test_an_amendment_shows_what_changed_and_why(cast: Cast, cleo: Client) -> None:
    flood = cast.flood()
    form = cleo.get(f"/r/{cast.rink.slug}/entry/{flood.id}/amend/").content.decode()
    assert 'value="400' in form
    amendment(cast, cleo, flood)
    page = cleo.get(f"/r/{cast.rink.slug}/entry/{flood.id}/").content.decode()
    assert "<del>400 l</del> → <ins>300 l</ins>" in page
    assert "read wrong" in page


def test_two_amend_at_once_and_neither_text_is_lost(cast: Cast, cleo: Client) -> None:
    flood = cast.flood()
    amendment(cast, cleo, flood, note="words of the first")
    answer = amendment(cast, cleo, flood, note="words of the second", amount="350")
    page = answer.content.decode()  # type: ignore[attr-defined]
    assert answer.status_code == 409  # type: ignore[attr-defined]
    assert "words of the first" in page
    assert "words of the second" in page
    current = Entry.objects.get(state="standing")
    assert f"/entry/{current.id}/amend/" in page
    assert Entry.objects.count() == 2


def test_an_amendment_without_a_reason_is_refused(cast: Cast, cleo: Client) -> None:
    answer = amendment(cast, cleo, cast.flood(), reason=" ")
    assert answer.status_code == 422  # type: ignore[attr-defined]
    assert "reason is empty" in answer.content.decode()  # type: ignore[attr-defined]


def test_a_volunteer_amends_only_what_is_their_own(cast: Cast, client: Client) -> None:
    theirs = cast.flood(by=cast.cleo)
    for login, status in ((cast.dag, 404), (cast.bo, 200)):
        client.force_login(login)
        for deed in ("amend", "withdraw"):
            assert client.get(f"/r/{cast.rink.slug}/entry/{theirs.id}/{deed}/").status_code == status


def test_one_tap_undoes_what_was_just_saved(cast: Cast, cleo: Client) -> None:
    address = f"/r/{cast.rink.slug}"
    post = posted(cast, **FLOOD)
    cleo.post(f"{address}/log/flood/", post)
    cleo.post(f"{address}/entry/{post['id']}/undo/")
    assert Entry.objects.get(id=UUID(str(post["id"]))).state == "undone"
    assert "400 l" not in cleo.get(f"{address}/log/").content.decode()
    assert cleo.post(f"{address}/log/flood/", post).status_code == 302  # replayed by a late phone
    assert Entry.objects.count() == 1


def test_a_withdrawn_entry_leaves_the_log_unless_it_is_asked_for(cast: Cast, cleo: Client) -> None:
    flood = cast.flood()
    address = f"/r/{cast.rink.slug}"
    cleo.post(f"{address}/entry/{flood.id}/withdraw/", {"id": str(uuid4()), "reason": "written twice"})
    assert "400 l" not in cleo.get(f"{address}/log/").content.decode()
    assert "400 l" in cleo.get(f"{address}/log/?withdrawn=on").content.decode()
    assert "written twice" in cleo.get(f"{address}/entry/{flood.id}/").content.decode()
