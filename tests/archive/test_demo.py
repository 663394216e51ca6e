"""The demo: invented, under way, complete, and made only once."""

import datetime as dt
from collections.abc import Iterator

import pytest
from django.db import transaction
from django.db.models import F
from django.test import override_settings
from pytest_django import DjangoDbBlocker

from rinklog.advice.queries import record
from rinklog.archive.demo.fill import Filled, fill_demo
from rinklog.archive.demo.people import PASSWORD
from rinklog.crew.models import Membership, Person
from rinklog.photos.models import Photo
from rinklog.records.models import AccidentReport, Check, Headcount, Opening
from rinklog.site.models import SiteTask, StoredItem
from rinklog.site.queries import fences
from rinklog.weather.models import ProviderState
from rinklog.weather.queries import known_hours
from rinklog.work.models import Entry, EntryPerson, Hazard, HazardEvent, Kind, Repair
from rinklog.work.spell_queries import spells
from tests.archive.conftest import NOW


@pytest.fixture(scope="module")
def filled(
    django_db_setup: None, django_db_blocker: DjangoDbBlocker, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Filled]:
    """The demo on an evening in January 2026, filled once for all tests of this file."""
    media = tmp_path_factory.getbasetemp() / "media"  # where conftest lets every test look
    with django_db_blocker.unblock(), transaction.atomic():
        with override_settings(MEDIA_ROOT=media):
            made = fill_demo(now=NOW)
        yield made
        transaction.set_rollback(True)


@pytest.fixture(autouse=True)
def _undone(filled: Filled, db: None) -> None:
    """What a test changes is rolled back to the filled demo."""


def counts() -> dict[str, int]:
    """Rows of every table that the demo may fill."""
    from django.apps import apps

    return {model._meta.label: model._default_manager.count() for model in apps.get_models()}


def test_a_second_filling_adds_nothing_even_days_later(filled: Filled) -> None:
    before = counts()
    again = fill_demo(now=NOW + dt.timedelta(days=3))
    assert not again.made
    assert counts() == before


def test_the_season_is_under_way(filled: Filled) -> None:
    season = filled.rink.seasons.latest("starts_on")
    assert season.ends_on is None
    assert season.starts_on < NOW.date()
    latest = Entry.objects.order_by("-started_at").first()
    assert latest is not None
    assert NOW - latest.started_at < dt.timedelta(days=2)


def test_nothing_lies_ahead(filled: Filled) -> None:
    assert not Entry.objects.filter(recorded_at__gt=NOW).exists()
    assert not Entry.objects.filter(ended_at__gt=NOW).exists()


def test_there_are_an_amended_and_a_withdrawn_entry(filled: Filled) -> None:
    states = set(Entry.objects.values_list("state", flat=True))
    assert {"standing", "replaced", "withdrawn"} <= states


def test_every_kind_of_work_was_done(filled: Filled) -> None:
    assert set(Entry.objects.values_list("kind", flat=True)) == set(Kind.values)


def test_hazards_are_in_every_state_a_crew_meets(filled: Filled) -> None:
    states = set(Hazard.objects.values_list("state", flat=True))
    assert {"found", "marked", "under-repair", "holding", "back-again", "closed"} <= states


def test_a_cover_still_lies_on_the_ice_and_another_was_lifted(filled: Filled) -> None:
    covers = Entry.objects.filter(kind=Kind.TARP_MELT)
    assert {cover.is_open for cover in covers} == {True, False}


def test_repairs_are_tied_to_their_hazards(filled: Filled) -> None:
    assert Repair.objects.count() >= 10
    assert HazardEvent.objects.filter(state="back-again").exists()


def test_the_city_finds_its_record(filled: Filled) -> None:
    lists = set(Check.objects.values_list("list", flat=True))
    assert {"walk", "site", "boards"} <= lists
    assert AccidentReport.objects.get().near_miss
    assert Headcount.objects.count() > 50
    assert Opening.objects.count() > 5


def test_the_pictures_are_ready_and_were_drawn_here(filled: Filled) -> None:
    photos = Photo.objects.all()
    assert {photo.state for photo in photos} == {"ready"}
    assert {photo.moment for photo in photos} == {"", "before", "after"}
    assert len(photos) == 12


def test_nine_people_sign_in_with_the_printed_password(filled: Filled) -> None:
    people = Person.objects.filter(memberships__rink=filled.rink)
    assert people.count() == 9
    assert all(person.check_password(PASSWORD) for person in people)
    assert set(Membership.objects.values_list("role", flat=True)) == set(Membership.Role.values)


def test_a_guest_did_no_work(filled: Filled) -> None:
    guests = EntryPerson.objects.filter(
        person__memberships__role=Membership.Role.GUEST, person__memberships__rink=F("entry__rink")
    )
    assert not guests.exists()


def test_every_hour_of_the_season_has_weather_and_ten_days_are_foretold(filled: Filled) -> None:
    begin = NOW - dt.timedelta(days=62)
    seen = known_hours(filled.rink, begin, NOW - dt.timedelta(hours=1))
    told = known_hours(filled.rink, NOW, NOW + dt.timedelta(days=9))
    assert len(seen) >= 62 * 24 - 1
    assert all(one.observed for one in seen)
    assert len(told) >= 9 * 24
    assert not any(one.observed for one in told)
    assert not ProviderState.objects.filter(is_on=True).exists()  # the demo asks nobody


def test_the_weather_agrees_with_what_the_crew_saw(filled: Filled) -> None:
    """Entries of the demo say the air of their evening; the station is within a few degrees of them."""
    apart = []
    for entry in Entry.objects.exclude(seen_air_c=None):
        (hour,) = known_hours(filled.rink, entry.started_at, entry.started_at + dt.timedelta(seconds=1))
        apart.append(abs(entry.seen_air_c - hour.hour.air_c))  # type: ignore[operator]
    assert len(apart) > 20
    assert sorted(apart)[len(apart) // 2] < 3


def test_the_holes_of_the_demo_are_of_its_own_ice_but_for_one_that_is_to_be_asked_about(
    filled: Filled,
) -> None:
    """Bare ice over still water grows by no more than 3.52 √FDD cm (Stefan); the coats of the floods come on top."""
    season = filled.rink.seasons.get(closed_at=None)
    entries = Entry.objects.filter(season=season, state="standing").order_by("started_at")
    floods = [one for one in entries.filter(kind=Kind.FLOOD) if one.water_m3 and one.area_m2]
    seen = known_hours(filled.rink, floods[0].started_at, NOW)
    last: dict[str, float] = {}
    fell = []
    for hole in entries.filter(kind=Kind.DRILL_HOLE):
        ice_m = hole.details["clear_ice_m"] + hole.details["white_ice_m"]
        before = [one.hour.air_c for one in seen if one.hour.at < hole.started_at]
        frost = sum(max(-(air or 0.0), 0.0) for air in before) / 24
        poured = [one for one in floods if one.started_at < hole.started_at]
        coats = sum((one.water_m3 or 0) / one.area_m2 for one in poured)
        assert 0.02 < ice_m < 0.0352 * frost**0.5 + coats * 1000 / 917
        zone = hole.zones.get().zone.label
        if ice_m < last.get(zone, 0.0) - 0.03:
            fell.append(zone)
        last[zone] = ice_m
    assert fell == ["D3"]  # the one hole that stopped at something hard
    assert min(last.values()) > 0.1016  # what the rink's machines need


def test_the_last_floods_have_predictions_that_can_be_judged(filled: Filled) -> None:
    said, floods = record(filled.rink)
    assert said.floods == len(floods) >= 4
    assert said.timed == said.judged == said.floods
    assert all(one.prediction.made_at < one.prediction.began_at < NOW for one in floods)


def test_the_winter_before_is_closed_and_nothing_of_it_lies_open(filled: Filled) -> None:
    before, present = filled.rink.seasons.order_by("starts_on")
    assert before.closed_at is not None
    assert present.closed_at is None
    assert set(Hazard.objects.filter(season=before).values_list("state", flat=True)) == {"closed"}
    told = {(spell.method, spell.failed) for spell in spells(filled.rink, before, until=NOW)}
    assert told == {
        ("slush-pack", True),
        ("slush-pack", False),
        ("hot-water-pour", True),
        ("hot-water-pour", False),
    }


def test_the_site_is_surveyed_its_lists_half_done_and_its_store_counted(filled: Filled) -> None:
    rink = filled.rink
    assert (rink.surveys.count(), rink.layouts.count(), rink.snow_fences.count()) == (1, 3, 1)
    tasks = SiteTask.objects.filter(season=rink.seasons.latest("starts_on"), list="set-up")
    assert 0 < tasks.filter(done_on=None).count() < tasks.count()
    assert StoredItem.objects.filter(rink=rink, buy__gt=0).exists()
    assert Photo.objects.filter(subject="item", state="ready").count() == 2
    assert fences.record(rink, NOW).worst is not None
