"""The estimate on the map, on its own page, and the page that asks about a drill hole."""

import re

import pytest
from django.test import Client

from rinklog.ice.models import HoleQuestion
from rinklog.ice.services import project
from tests.support.cast import Cast
from tests.support.counting import queries_of
from tests.support.winter import at, foretold, observed, placed

NOW = at(12, 20, 40)


@pytest.fixture
def cold(cast: Cast) -> Cast:
    """A rink of four zones after three cold days."""
    placed(cast)
    observed(cast, at(9, 12), at(12, 21))
    foretold(cast, at(12, 20, 30), 1)
    return cast


@pytest.fixture
def cleo(cast: Cast, client: Client) -> Client:
    client.force_login(cast.cleo)
    return client


def text(client: Client, cast: Cast, path: str) -> str:
    answer = client.get(f"/r/{cast.rink.slug}/{path}")
    assert answer.status_code == 200
    return answer.content.decode()


def numbers(page: str) -> list[str]:
    return re.findall(r'<text class="map-number"[^>]*>([^<]*)</text>', page)


def odd_hole(cast: Cast, ice_m: float = 0.95) -> HoleQuestion:
    """A hole that is asked about."""
    project(rink=cast.rink, now=NOW)
    entry = cast.work("drill-hole", now=NOW, started_at=at(12, 9), details={"clear_ice_m": ice_m})
    project(rink=cast.rink, now=NOW)
    return HoleQuestion.objects.get(entry=entry)


def test_each_ice_layer_has_the_estimates_number_in_every_zone(cleo: Client, cold: Cast) -> None:
    estimate = project(rink=cold.rink, now=NOW)
    assert estimate is not None
    zones = [estimate.zones[zone.id] for zone in cold.zones]
    wanted = {
        "thickness": [f"{one.thickness_m.middle * 1000:.0f}" for one in zones],
        "wet": [f"{one.wet_top_m.middle * 1000:.1f}" for one in zones],
        "lying-snow": [f"{one.snow_m.middle * 1000:.0f}" for one in zones],
        "uncertainty": [f"{(one.thickness_m.high - one.thickness_m.low) * 1000:.0f}" for one in zones],
    }
    for layer, there in wanted.items():
        page = text(cleo, cold, f"map/?layer={layer}")
        assert numbers(page) == there
        assert "never opens the rink" in page


def test_the_numbers_follow_the_persons_units(cleo: Client, cold: Cast) -> None:
    estimate = project(rink=cold.rink, now=NOW)
    assert estimate is not None
    cold.cleo.depth_unit = "in"
    cold.cleo.save()
    inches = [f"{estimate.zones[zone.id].thickness_m.middle / 0.0254:.2f}" for zone in cold.zones]
    page = text(cleo, cold, "map/?layer=thickness")
    assert numbers(page) == inches
    assert "Numbers: estimated ice in in" in page


def test_without_an_estimate_the_map_shows_dashes_and_says_what_is_missing(cleo: Client, cast: Cast) -> None:
    placed(cast)
    cast.rink.latitude = cast.rink.longitude = None
    cast.rink.save()
    project(rink=cast.rink, now=NOW)
    page = text(cleo, cast, "map/?layer=thickness")
    assert numbers(page) == ["–"] * 4
    assert "the rink has no position" in page


def test_the_ice_page_names_the_thinnest_zone_its_source_and_the_caution(cleo: Client, cold: Cast) -> None:
    estimate = project(rink=cold.rink, now=NOW)
    assert estimate is not None
    page = text(cleo, cold, "ice/")
    least = min(estimate.zones.values(), key=lambda one: one.thickness_m.low)
    label = next(zone.label for zone in cold.zones if zone.id == least.zone_id)
    assert f"Thinnest: {label}" in page
    assert "station TEST" in page
    assert "never opens the rink" in page


def test_the_ice_page_asks_few_questions(cleo: Client, cold: Cast) -> None:
    project(rink=cold.rink, now=NOW)
    assert queries_of(cleo, f"/r/{cold.rink.slug}/ice/") <= 12


def test_an_odd_hole_is_shown_on_its_entry_and_on_the_ice_page(cleo: Client, cold: Cast) -> None:
    question = odd_hole(cold)
    link = f"/r/{cold.rink.slug}/ice/holes/{question.entry_id}/"
    assert link in text(cleo, cold, "ice/")
    assert link in text(cleo, cold, f"entry/{question.entry_id}/")
    page = text(cleo, cold, f"ice/holes/{question.entry_id}/")
    assert "950 mm" in page
    assert f"{question.high_m * 1000:.0f} mm" in page


def test_an_answer_is_kept_with_who_gave_it(cleo: Client, cold: Cast) -> None:
    question = odd_hole(cold)
    path = f"/r/{cold.rink.slug}/ice/holes/{question.entry_id}/"
    assert cleo.post(path, {"answer": "right"}).status_code == 302
    question.refresh_from_db()
    assert (question.answer, question.answered_by) == ("right", cold.cleo)
    assert cleo.post(path, {"answer": "mistake"}).status_code == 409
    assert "Answered by Cleo" in text(cleo, cold, f"entry/{question.entry_id}/")


def test_an_empty_answer_comes_back_with_one_sentence(cleo: Client, cold: Cast) -> None:
    question = odd_hole(cold)
    for said, sentence in (({}, "Your answer is empty"), ({"answer": "maybe"}, "Your answer is “maybe”")):
        answer = cleo.post(f"/r/{cold.rink.slug}/ice/holes/{question.entry_id}/", said)
        assert answer.status_code == 422
        assert sentence in answer.content.decode()
