"""Setting the rink up: grid, survey, seasons and phases, rules of practice, hoses."""

import datetime as dt
import re
from uuid import uuid4
from zoneinfo import ZoneInfo

import pytest
from django.test import Client
from django.urls import reverse

from rinklog.rink.models import BucketTest, ChosenRule, Grid, PhaseChange, Season
from rinklog.rink.queries import rule_value, zones
from tests.support.cast import Cast


@pytest.fixture
def ada(cast: Cast, client: Client) -> Client:
    client.force_login(cast.ada)
    return client


def at(cast: Cast, path: str) -> str:
    return f"/r/{cast.rink.slug}/setup/{path}"


SIZE = {"length": "30", "width": "15", "corner": "3", "rows": "6", "columns": "3"}


def test_a_grid_changes_until_something_is_recorded_on_it(ada: Client, cast: Cast) -> None:
    assert ada.post(at(cast, "grid/"), SIZE).status_code == 302
    assert Grid.objects.filter(rink=cast.rink).count() == 1
    sheet = zones(cast.season.grid)
    assert len(sheet) == 18
    # Rounded rectangle: 30·15 − (4 − π)·3² = 442.274 334 m²; the corner zone loses (1 − π/4)·3² = 1.931 416 m².
    assert sum(zone.area_m2 for zone in sheet) == pytest.approx(442.274334)
    assert sheet[0].area_m2 == pytest.approx(25 - 1.931416)
    cast.flood()
    answer = ada.post(at(cast, "grid/"), SIZE | {"rows": "5"})
    assert answer.status_code == 422
    assert "Work is recorded on this grid" in answer.content.decode()
    cast.rink.refresh_from_db()
    assert (cast.season.grid.rows, cast.rink.length_m) == (6, 30)


def test_a_later_season_on_a_new_grid_leaves_old_entries_on_theirs(ada: Client, cast: Cast) -> None:
    old, entry = cast.season, cast.flood()
    post = SIZE | {"grid": "new", "starts_on": "2026-11-01", "name": ""}
    assert ada.post(at(cast, "next-season/"), post).status_code == 302
    assert ada.post(at(cast, "next-season/"), post).status_code == 302  # the same again is the same season
    entry.refresh_from_db()
    old.refresh_from_db()
    assert (entry.grid.rows, entry.season) == (8, old)
    assert (entry.grid.length_m, len(entry.zones.all())) == (40, 2)
    assert old.ends_on == dt.date(2026, 10, 31)
    assert Season.objects.get(rink=cast.rink, name="2026–27").grid.rows == 6
    assert cast.other_rink.seasons.count() == 1


def test_a_next_season_before_the_present_one_is_refused(ada: Client, cast: Cast) -> None:
    answer = ada.post(
        at(cast, "next-season/"), SIZE | {"grid": "same", "starts_on": "2025-10-01", "name": "x"}
    )
    assert answer.status_code == 422
    assert "must start after" in answer.content.decode()
    assert cast.rink.seasons.count() == 1


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"length": "2"}, "Length is “2”; allowed is 3.00 m to 200.00 m."),
        ({"width": "wide"}, "Width is “wide”"),
        ({"corner": "8"}, "Corner radius is “8”; allowed is at most half of the shorter side."),
        ({"rows": "41"}, "allowed is a whole number from 1 to 40."),
    ],
)
def test_a_size_that_cannot_be_gets_a_sentence(ada: Client, cast: Cast, change: dict, sentence: str) -> None:
    answer = ada.post(at(cast, "grid/"), SIZE | change)
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert cast.season.grid.rows == 8


def test_looking_at_a_grid_saves_nothing(ada: Client, cast: Cast) -> None:
    answer = ada.post(at(cast, "grid/"), SIZE | {"look": "1"})
    assert answer.status_code == 200
    assert answer.content.decode().count('class="map-zone') == 18
    assert cast.season.grid.rows == 8


def test_picked_zones_get_what_was_said_and_keep_the_rest(ada: Client, cast: Cast) -> None:
    first, second, third = cast.zones[:3]
    post = {"zones": [first.id, second.id], "depth": "1/2 in", "low_spot": "yes"}
    assert ada.post(at(cast, "survey/"), post).status_code == 302
    assert ada.post(at(cast, "survey/"), {"zones": [first.id], "sun": "shade"}).status_code == 302
    for zone in (first, second, third):
        zone.refresh_from_db()
    assert first.depth_m == pytest.approx(0.0127)  # NIST SP 811: 1 in = 25.4 mm
    assert (first.sun, first.low_spot, first.wears) == ("shade", True, False)
    assert (second.sun, second.low_spot, third.depth_m) == ("open", True, None)
    theirs = zones(cast.other_rink.seasons.get().grid)[0]
    assert ada.post(at(cast, "survey/"), {"zones": [theirs.id], "depth": "9"}).status_code == 422
    assert ada.post(at(cast, "survey/"), {"depth": "9"}).status_code == 422


def test_a_quick_pick_without_javascript_picks_and_saves_nothing(ada: Client, cast: Cast) -> None:
    answer = ada.post(at(cast, "survey/"), {"pick": "whole", "depth": "30"})
    assert answer.status_code == 200
    assert len(re.findall(r'name="zones"[^>]* checked', answer.content.decode())) == 32
    assert all(zone.depth_m is None for zone in zones(cast.season.grid))


def test_the_table_sets_every_zone_and_one_bad_line_saves_none(ada: Client, cast: Cast) -> None:
    lines: dict[str, str] = {}
    for zone in cast.zones:
        lines |= {f"zone-{zone.id}-depth": "150", f"zone-{zone.id}-sun": "part"}
    first = cast.zones[0]
    bad = ada.post(at(cast, "survey/table/0/"), lines | {f"zone-{first.id}-depth": "deep"})
    assert bad.status_code == 422
    assert "Depth in A1 is “deep”" in bad.content.decode()
    assert zones(cast.season.grid)[5].depth_m is None
    assert ada.post(at(cast, "survey/table/0/"), lines).status_code == 302
    assert [zone.depth_m for zone in zones(cast.season.grid)] == pytest.approx([0.15] * 32)


def test_low_spots_stand_on_the_home_map_only_while_the_ice_is_built(ada: Client, cast: Cast) -> None:
    home = f"/r/{cast.rink.slug}/"
    assert ada.post(at(cast, "low-spots/"), {"zones": [cast.zones[0].id]}).status_code == 302
    assert 'class="map-low"' not in ada.get(home).content.decode()
    today = dt.date(2026, 1, 10)
    PhaseChange.objects.create(
        season=cast.season, phase="building", on=today, by=cast.ada, recorded_at=dt.datetime.now(dt.UTC)
    )
    assert 'class="map-low"' in ada.get(home).content.decode()
    assert ada.post(at(cast, "low-spots/"), {}).status_code == 302
    assert 'class="map-low"' not in ada.get(home).content.decode()


def test_building_again_counts_as_a_restart_and_a_phase_can_be_taken_back(ada: Client, cast: Cast) -> None:
    for phase, day in (("building", "05"), ("skating", "08"), ("building", "10"), ("building", "12")):
        post = {"id": str(uuid4()), "phase": phase, "on": f"2026-01-{day}"}
        for _again in range(2):
            assert ada.post(at(cast, "phases/"), post).status_code == 302
    assert "<dd>2</dd>" in ada.get(at(cast, "phases/")).content.decode()
    last = PhaseChange.objects.get(on="2026-01-12")
    ada.post(at(cast, f"phases/{last.id}/back/"))
    assert "<dd>1</dd>" in ada.get(at(cast, "phases/")).content.decode()
    before = {"id": str(uuid4()), "phase": "shut", "on": "2025-10-01"}
    assert ada.post(at(cast, "phases/"), before).status_code == 422
    to_come = {"id": str(uuid4()), "phase": "shut", "on": "2999-01-01"}
    assert ada.post(at(cast, "phases/"), to_come).status_code == 422


def test_the_keeper_chooses_a_rule_and_goes_back_to_the_published_default(ada: Client, cast: Cast) -> None:
    page = ada.get(at(cast, "rules/")).content.decode()
    # shared practice: Toronto 2024 and London ON publish 6, County of Grande Prairie 4.
    assert "Toronto" in page
    assert "County of Grande Prairie" in page
    bad = ada.post(at(cast, "rules/flood_warmest_c/"), {"value": "5"})
    assert bad.status_code == 422
    assert "Too warm to flood above is “5”" in bad.content.decode()
    assert ada.post(at(cast, "rules/flood_warmest_c/"), {"value": "23 F"}).status_code == 302
    assert rule_value(cast.rink, "flood_warmest_c") == pytest.approx(-5)  # 23 °F is −5 °C exactly
    assert rule_value(cast.other_rink, "flood_warmest_c") == -7  # Quebec towns
    assert ada.post(at(cast, "rules/flood_warmest_c/default/")).status_code == 302
    assert not ChosenRule.objects.exists()
    assert ada.get(at(cast, "rules/unheard-of/")).status_code == 404


def test_a_bucket_test_gives_the_flow(ada: Client, cast: Cast) -> None:
    post = {"id": str(uuid4()), "hose": "barn", "water": "20 l", "seconds": "40"}
    for _again in range(2):
        assert ada.post(at(cast, "hoses/"), post).status_code == 302
    assert BucketTest.objects.get().flow_ls == pytest.approx(0.5)
    assert "30.0 l/min" in ada.get(at(cast, "hoses/")).content.decode()


def test_the_place_needs_both_coordinates_and_a_known_time_zone(ada: Client, cast: Cast) -> None:
    post = {"name": "Mill", "place": "Rimvinkel", "time_zone": "Europe/Oslo", "latitude": "61.5"}
    assert "give both or neither" in ada.post(at(cast, "place/"), post).content.decode()
    post |= {"longitude": "11.5", "bearing": "20"}
    bad = ada.post(at(cast, "place/"), post | {"time_zone": "Moon"})
    assert "Time zone is “Moon”" in bad.content.decode()
    assert ada.post(at(cast, "place/"), post).status_code == 302
    cast.rink.refresh_from_db()
    assert (cast.rink.name, cast.rink.latitude, cast.rink.bearing_deg) == ("Mill", 61.5, 20)


@pytest.mark.parametrize(
    "zone", ["Pacific/Kiritimati", "Etc/GMT+12"]
)  # 26 hours apart: never both on UTC's day
def test_a_season_proposed_for_today_starts_today_where_the_rink_lies(ada: Client, zone: str) -> None:
    page = reverse("new-rink")
    proposed = re.search(r'name="starts_on" value="([\d-]+)"', ada.get(page).content.decode())
    assert proposed
    told = {"id": str(uuid4()), "name": "Zone Pond", "time_zone": zone, "length": "20", "width": "10"}
    ada.post(page, told | {"starts_on": proposed[1]})
    today = dt.datetime.now(ZoneInfo(zone)).date()
    assert Season.objects.get(rink__name="Zone Pond").starts_on == today
