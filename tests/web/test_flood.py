"""The thinnest slice: a flood from the form to the map, the log and the season."""

from uuid import uuid4

import pytest
from django.test import Client

from rinklog.work.models import Entry
from tests.support.cast import Cast


@pytest.fixture
def cleo(cast: Cast, client: Client) -> Client:
    client.force_login(cast.cleo)
    return client


def flood_post(cast: Cast, **changes: object) -> dict[str, object]:
    """What a phone posts for a flood of 400 litres on two zones."""
    zones = cast.zones[8:10]
    post: dict[str, object] = {
        "id": str(uuid4()),
        "zones": [zone.id for zone in zones],
        "by": "amount",
        "amount": "400",
        "water": "cold",
        "tool": "hose",
        "started": "2026-01-15T21:00",
        f"minutes-{cast.cleo.id}": "45",
    }
    return post | changes


def test_a_flood_is_in_the_log_and_in_the_season_with_its_water_and_hours(cleo: Client, cast: Cast) -> None:
    address = f"/r/{cast.rink.slug}/log/flood/"
    assert cleo.get(address).status_code == 200
    assert cleo.post(address, flood_post(cast)).status_code == 302
    entry = Entry.objects.get()
    # 40 m × 20 m in 8 × 4 zones: inner zones are 5 m × 5 m.
    assert entry.area_m2 == pytest.approx(50)
    assert entry.water_m3 == pytest.approx(0.4)
    assert entry.started_at.isoformat() == "2026-01-15T20:00:00+00:00"  # Oslo is UTC+1 in January
    assert "400 l" in cleo.get(f"/r/{cast.rink.slug}/log/").content.decode()
    season = cleo.get(f"/r/{cast.rink.slug}/season/").content.decode()
    assert "400 l" in season
    assert "0.8 h" in season  # 45 minutes
    assert "map-zone map-lit" in cleo.get(f"/r/{cast.rink.slug}/").content.decode()


def test_a_replayed_post_adds_nothing(cleo: Client, cast: Cast) -> None:
    post = flood_post(cast)
    for _again in range(3):
        assert cleo.post(f"/r/{cast.rink.slug}/log/flood/", post).status_code == 302
    assert Entry.objects.count() == 1


def test_the_same_id_with_other_content_is_a_conflict_that_loses_neither_text(
    cleo: Client, cast: Cast
) -> None:
    post = flood_post(cast, note="first words")
    cleo.post(f"/r/{cast.rink.slug}/log/flood/", post)
    answer = cleo.post(f"/r/{cast.rink.slug}/log/flood/", post | {"note": "second words"})
    assert answer.status_code == 409
    assert "first words" in answer.content.decode()
    assert "second words" in answer.content.decode()
    assert Entry.objects.count() == 1


def test_units_typed_in_the_field_are_understood(cleo: Client, cast: Cast) -> None:
    cleo.post(f"/r/{cast.rink.slug}/log/flood/", flood_post(cast, amount="12 gal"))
    # NIST SP 811, appendix B: 1 US gallon = 3.785 412 E-03 m³.
    assert Entry.objects.get().water_m3 == pytest.approx(12 * 3.785412e-3, rel=1e-6)


def test_nonsense_gets_the_fields_own_sentence_and_nothing_is_lost(cleo: Client, cast: Cast) -> None:
    answer = cleo.post(f"/r/{cast.rink.slug}/log/flood/", flood_post(cast, amount="much", note="keep me"))
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "Water is “much”" in page
    assert "keep me" in page
    assert Entry.objects.count() == 0


def test_the_form_shows_the_coat_and_warns_when_the_crew_calls_it_too_thick(cleo: Client, cast: Cast) -> None:
    address = f"/r/{cast.rink.slug}/log/flood/coat/"
    # 400 l over 50 m² are 8 mm; 600 l are 12 mm, over the default of 10 mm.
    thin = cleo.post(address, flood_post(cast)).content.decode()
    thick = cleo.post(address, flood_post(cast, amount="600")).content.decode()
    assert "8.0 mm" in thin
    assert "Thicker" not in thin
    assert "12.0 mm" in thick
    assert "Thicker" in thick
