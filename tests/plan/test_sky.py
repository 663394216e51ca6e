"""Whoever is on duty is told of wind, snow and leaks: once each, in their own units, and only while somebody watches."""

import datetime as dt
from uuid import uuid4

import pytest

from rinklog.advice.fill.reading import fill_facts
from rinklog.crew.models import Person
from rinklog.plan.services.places import take
from rinklog.plan.services.sky import watch_sky
from rinklog.rink.seasons import enter_phase
from rinklog.rink.services import choose_rule
from rinklog.telling.models import Message
from rinklog.work.entry_events import add_event
from tests.support.cast import NOW, Cast, make_cast
from tests.support.filling import building, filled, forecast, hole
from tests.support.shifts import a_shift

pytestmark = pytest.mark.django_db
HOUR, DAY = dt.timedelta(hours=1), dt.timedelta(days=1)


@pytest.fixture
def cast(db: None) -> Cast:
    return make_cast()


def told(kind: str = "storm-watch") -> dict[str, str]:
    """What each person was told, by login."""
    return {one.person.login: one.text for one in Message.objects.filter(kind=kind).order_by("made_at")}


def test_nobody_is_told_while_people_skate_on_closed_ice(cast: Cast) -> None:
    forecast(cast, NOW, gust_ms=20.0)
    assert watch_sky(rink=cast.rink, now=NOW) == 0
    assert told() == {}


def test_wind_over_a_rink_that_is_built_is_told_to_those_on_duty_in_their_units(cast: Cast) -> None:
    building(cast, NOW)
    forecast(cast, NOW, gust_ms=14.0)
    Person.objects.filter(login="cleo").update(speed_unit="mph")
    shift = a_shift(cast, starts_at=NOW + 3 * HOUR, minutes=120, made_at=NOW)
    take(id=uuid4(), shift=shift, person=cast.cleo, by=cast.cleo, now=NOW)
    watch_sky(rink=cast.rink, now=NOW)
    said = told()
    # Ada keeps, Bo coordinates, Cleo is on the shift; Dag is not, Eli is a guest, Rut keeps another rink.
    assert set(said) == {"ada", "bo", "cleo"}
    assert "gusts up to 50 km/h" in said["ada"]  # 14 m/s = 50.4 km/h
    assert "gusts up to 31 mph" in said["cleo"]  # 14 m/s = 31.3 mph
    assert "Fasten the liner" in said["cleo"]


def test_the_same_turning_is_told_once_and_a_worse_one_again(cast: Cast) -> None:
    building(cast, NOW)
    forecast(cast, NOW, gust_ms=12.0)
    for _ in range(3):
        watch_sky(rink=cast.rink, now=NOW)
    assert Message.objects.filter(kind="storm-watch", person=cast.ada).count() == 1
    forecast(cast, NOW + HOUR, gust_ms=12.5)
    watch_sky(rink=cast.rink, now=NOW + HOUR)
    assert Message.objects.filter(kind="storm-watch", person=cast.ada).count() == 1
    forecast(cast, NOW + 2 * HOUR, gust_ms=16.0)
    watch_sky(rink=cast.rink, now=NOW + 2 * HOUR)
    assert Message.objects.filter(kind="storm-watch", person=cast.ada).count() == 2


def test_snow_on_an_open_fill_is_told_though_people_skate_elsewhere_until_it_is_frozen(cast: Cast) -> None:
    fill = filled(cast, NOW)
    forecast(cast, NOW, precip_mm=0.5)
    watch_sky(rink=cast.rink, now=NOW)
    assert "up to 6.0 mm as water in 12 hours" in told()["bo"]
    Message.objects.all().delete()
    add_event(id=uuid4(), entry=fill, what="frozen", by=cast.cleo, now=NOW + HOUR)
    assert watch_sky(rink=cast.rink, now=NOW + 2 * HOUR) == 0
    assert told() == {}


def test_the_keeper_can_have_it_watched_always(cast: Cast) -> None:
    choose_rule(rink=cast.rink, key="storm_watch", value=1, by=cast.ada, now=NOW)
    forecast(cast, NOW, gust_ms=14.0)
    assert watch_sky(rink=cast.rink, now=NOW) == 1


def test_a_leak_is_told_once_a_look_with_both_amounts(cast: Cast) -> None:
    building(cast, NOW)
    filled(cast, NOW)
    hole(cast, NOW + HOUR, clear_m=0.02, under_m=0.048)
    for hours in (2, 3):
        watch_sky(rink=cast.rink, now=NOW + hours * HOUR)
    assert Message.objects.filter(kind="leak", person=cast.ada).count() == 1
    # 78.6 m³ went in; 0.02·0.917 + 0.048 = 0.06634 m on 786.27 m² are 52.2 m³.
    assert "78.6 m³ went in" in told("leak")["ada"]
    assert "52.2 m³ is there" in told("leak")["ada"]


def test_without_a_forecast_or_a_season_nothing_breaks(cast: Cast) -> None:
    building(cast, NOW)
    assert watch_sky(rink=cast.rink, now=NOW) == 0
    assert watch_sky(rink=cast.other_rink, now=NOW) == 0


def test_a_fill_that_nobody_called_frozen_is_closed_once_people_skate_and_after_three_weeks(
    cast: Cast,
) -> None:
    filled(cast, NOW - 10 * DAY)
    assert watched(cast)
    enter_phase(
        id=uuid4(), season=cast.season, phase="skating", on=NOW.date(), today=NOW.date(), by=cast.ada, now=NOW
    )
    assert not watched(cast)
    filled(cast, NOW - 22 * DAY)
    assert not watched(cast)


def test_water_scraped_and_skated_away_in_a_season_is_no_leak(cast: Cast) -> None:
    filled(cast, NOW - 22 * DAY)
    hole(cast, NOW, clear_m=0.05, under_m=0.0)
    choose_rule(rink=cast.rink, key="storm_watch", value=1, by=cast.ada, now=NOW)
    assert watch_sky(rink=cast.rink, now=NOW) == 0
    assert told("leak") == {}


def watched(cast: Cast) -> bool:
    """Whether somebody watches the sky over the first rink."""
    facts = fill_facts(cast.rink, NOW)
    return facts is not None and facts.watched
