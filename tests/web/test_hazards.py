"""The hazards room: the marker, the list, the page, what is said later."""

from uuid import uuid4

import pytest
from django.test import Client

from rinklog.work.models import Hazard, HazardEvent
from tests.support.cast import NOW, Cast
from tests.support.hazards import put_up


@pytest.fixture
def cleo(cast: Cast, client: Client) -> Client:
    client.force_login(cast.cleo)
    return client


def post(cast: Cast, **changes: object) -> dict[str, object]:
    """What a phone posts after a tap on the map."""
    values: dict[str, object] = {
        "id": str(uuid4()),
        "x_m": "12.00",
        "y_m": "7.00",
        "zones": [cast.zones[9].id],
        "kind": "bump",
        "severity": "trip",
        "cone_out": "on",
        "found": "2026-01-15T21:00",
    }
    return values | changes


def new(cast: Cast) -> str:
    return f"/r/{cast.rink.slug}/hazards/new/"


def page_of(hazard: Hazard) -> str:
    return f"/r/{hazard.rink.slug}/hazard/{hazard.id}/"


def test_a_marker_is_on_the_map_in_the_list_and_has_a_page(cleo: Client, cast: Cast) -> None:
    assert cleo.get(new(cast)).status_code == 200
    answer = cleo.post(new(cast), post(cast, note="by the goal"))
    hazard = Hazard.objects.get()
    assert answer.status_code == 302
    assert answer["Location"] == page_of(hazard)
    assert hazard.found_at.isoformat() == "2026-01-15T20:00:00+00:00"  # Oslo is UTC+1 in January
    assert (hazard.state, hazard.cone_out, hazard.x_m, hazard.y_m) == ("marked", True, 12.0, 7.0)
    home = cleo.get(f"/r/{cast.rink.slug}/").content.decode()
    # 40 m x 20 m at 10 units a metre, the length up the page: 7 m across is 70, 12 m along is 400 - 120 = 280.
    assert "translate(70.0 280.0)" in home
    assert ">B</text>" in home
    assert "1 Bump" in cleo.get(f"/r/{cast.rink.slug}/hazards/").content.decode()
    page = cleo.get(page_of(hazard)).content.decode()
    assert "by the goal" in page
    assert "12.00 m from the near end, 7.00 m from the left boards" in page


def test_without_javascript_zones_are_enough(cleo: Client, cast: Cast) -> None:
    zones = [zone.id for zone in cast.zones[:2]]
    assert cleo.post(new(cast), post(cast, x_m="", y_m="", zones=zones)).status_code == 302
    assert [zone.label for zone in Hazard.objects.get().zones.all()] == ["A1", "A2"]


def test_a_replayed_post_adds_nothing_and_another_text_is_shown_beside_the_first(
    cleo: Client, cast: Cast
) -> None:
    values = post(cast, note="first words")
    for _again in range(3):
        assert cleo.post(new(cast), values).status_code == 302
    answer = cleo.post(new(cast), values | {"note": "second words"})
    assert answer.status_code == 409
    assert "first words" in answer.content.decode()
    assert "second words" in answer.content.decode()
    assert Hazard.objects.count() == 1


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"x_m": "", "y_m": "", "zones": []}, "no place is given"),
        ({"x_m": "99"}, "off the rink"),
        ({"kind": "goblin"}, "goblin"),
        ({"found": "soon"}, "Found is “soon”"),
        ({"kind": "drift", "drift_depth": "much"}, "Depth of the drift is “much”"),
        ({"found": "2020-01-15T21:00"}, "No season had begun"),
    ],
)
def test_what_cannot_be_gets_a_sentence_and_nothing_is_lost(
    cleo: Client, cast: Cast, changes: dict, sentence: str
) -> None:
    answer = cleo.post(new(cast), post(cast, note="keep me", **changes))
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert "keep me" in answer.content.decode()
    assert not Hazard.objects.exists()


def test_a_drift_has_depth_and_wind_and_a_bump_forgets_them(cleo: Client, cast: Cast) -> None:
    cleo.post(new(cast), post(cast, kind="drift", drift_depth="2 ft", wind_from="315"))
    drift = Hazard.objects.get()
    assert drift.drift_depth_m == pytest.approx(0.6096)  # NIST SP 811: 1 ft = 3.048 E-01 m
    assert drift.wind_from_deg == 315
    assert "north-west" in cleo.get(page_of(drift)).content.decode()
    cleo.post(new(cast), post(cast, drift_depth="60", wind_from="90"))
    assert Hazard.objects.get(kind="bump").drift_depth_m is None


def test_buttons_tell_what_happened_and_undo_takes_the_last_back(cleo: Client, cast: Cast) -> None:
    cleo.post(new(cast), post(cast))
    hazard = Hazard.objects.get()
    said = {"id": str(uuid4()), "state": "closed", "note": "scraped off"}
    assert cleo.post(page_of(hazard) + "say/", said).status_code == 302
    hazard.refresh_from_db()
    assert (hazard.state, hazard.cone_out) == ("closed", False)
    assert "scraped off" in cleo.get(page_of(hazard)).content.decode()
    assert cleo.post(page_of(hazard) + "say/", said).status_code == 302
    assert HazardEvent.objects.count() == 3
    answer = cleo.post(page_of(hazard) + "say/", said | {"state": "holding"})
    assert answer.status_code == 409
    assert f'value="{said["id"]}"' not in answer.content.decode()
    event = HazardEvent.objects.get(state="closed")
    assert cleo.post(f"/r/{cast.rink.slug}/hazard-event/{event.id}/undo/").status_code == 302
    hazard.refresh_from_db()
    assert hazard.state == "marked"


def test_a_time_before_the_find_is_refused_by_its_field(cleo: Client, cast: Cast) -> None:
    cleo.post(new(cast), post(cast))
    hazard = Hazard.objects.get()
    said = {"id": str(uuid4()), "state": "closed", "said_at": "2026-01-15T20:59"}
    answer = cleo.post(page_of(hazard) + "say/", said)
    assert answer.status_code == 422
    assert "before the hazard was found" in answer.content.decode()


def test_a_mistake_is_withdrawn_by_who_made_it_or_by_the_coordinator(cast: Cast, client: Client) -> None:
    hazard = put_up(cast, by=cast.cleo)
    client.force_login(cast.dag)
    assert client.post(page_of(hazard) + "withdraw/", {"reason": "no"}).status_code == 404
    client.force_login(cast.bo)
    assert client.post(page_of(hazard) + "withdraw/", {"reason": " "}).status_code == 422
    assert client.post(page_of(hazard) + "withdraw/", {"reason": "a shadow"}).status_code == 302
    hazard.refresh_from_db()
    assert hazard.state == "withdrawn"
    assert "a shadow" in client.get(page_of(hazard)).content.decode()
    assert "1 Bump" not in client.get(f"/r/{cast.rink.slug}/hazards/?state=all").content.decode()


def test_the_list_is_sifted_by_state_and_kind(cleo: Client, cast: Cast) -> None:
    put_up(cast, kind="crack")
    hazard = put_up(cast, kind="net")
    cleo.post(page_of(hazard) + "say/", {"id": str(uuid4()), "state": "closed"})

    def listed(sifting: str) -> list[str]:
        page = cleo.get(f"/r/{cast.rink.slug}/hazards/{sifting}").content.decode()
        return [words for words in ("1 Crack", "2 Net") if words in page]

    assert listed("") == ["1 Crack"]
    assert listed("?state=closed") == ["2 Net"]
    assert listed("?state=all") == ["1 Crack", "2 Net"]
    assert listed("?state=all&kind=net") == ["2 Net"]
    assert cleo.get(f"/r/{cast.rink.slug}/hazards/?state=haunted").status_code == 404
    assert cleo.get(f"/r/{cast.rink.slug}/hazards/?kind=goblin").status_code == 404


def test_the_list_costs_the_same_number_of_queries_whatever_its_length(
    cleo: Client, cast: Cast, django_assert_num_queries
) -> None:
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    def cost() -> int:
        with CaptureQueriesContext(connection) as queries:
            cleo.get(f"/r/{cast.rink.slug}/hazards/")
        return len(queries)

    for _n in range(5):
        put_up(cast)
    cost()  # the first visit also renews the session
    few = cost()
    for _n in range(20):
        put_up(cast)
    assert cost() == few


def test_guests_read_and_do_not_write(cast: Cast, client: Client) -> None:
    hazard = put_up(cast)
    client.force_login(cast.eli)
    assert client.get(page_of(hazard)).status_code == 200
    assert client.get(new(cast)).status_code == 404
    assert client.post(new(cast), post(cast)).status_code == 404
    assert client.post(page_of(hazard) + "say/", {"id": str(uuid4()), "state": "closed"}).status_code == 404
    assert "What happened to it?" not in client.get(page_of(hazard)).content.decode()


def test_another_rinks_hazard_is_not_there(cast: Cast, client: Client) -> None:
    hazard = put_up(cast)
    client.force_login(cast.rut)
    other = f"/r/{cast.other_rink.slug}/hazard/{hazard.id}/"
    assert client.get(other).status_code == 404
    assert client.post(other + "say/", {"id": str(uuid4()), "state": "closed"}).status_code == 404
    assert client.post(other + "withdraw/", {"reason": "x"}).status_code == 404
    event = hazard.events.get()
    assert client.post(f"/r/{cast.other_rink.slug}/hazard-event/{event.id}/undo/").status_code == 404


def test_what_changes_things_refuses_get(cleo: Client, cast: Cast) -> None:
    hazard = put_up(cast, now=NOW)
    for address in (
        page_of(hazard) + "say/",
        page_of(hazard) + "withdraw/",
        f"/r/{cast.rink.slug}/hazard-event/{hazard.events.get().id}/undo/",
    ):
        assert cleo.get(address).status_code == 405
