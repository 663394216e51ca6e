"""The stored estimate from end to end: what is there, what is missing, and that the same gives the same."""

import datetime as dt

from rinklog.ice.models import Checkpoint, Outlook
from rinklog.ice.queries import latest_estimate, outlook_hours, stale, stored
from rinklog.ice.services import project
from tests.support.cast import Cast
from tests.support.winter import at, observed

NOW = at(12, 20, 40)


def test_a_cold_week_gives_every_zone_ice_with_a_spread(cold: Cast) -> None:
    estimate = project(rink=cold.rink, now=NOW)
    assert estimate is not None
    assert estimate.at == NOW
    assert set(estimate.zones) == {zone.id for zone in cold.zones}
    for zone in estimate.zones.values():
        # 12 cm of water frozen through are 12 x 1000/917 = 13.1 cm of ice; the survey's error is wider than a millimetre.
        assert 0.08 < zone.thickness_m.low < zone.thickness_m.middle < zone.thickness_m.high < 0.18
    assert estimate.weather_source == "station TEST"
    assert estimate.gaps == []


def test_pages_read_exactly_what_was_stored_in_one_question(cold: Cast, django_assert_num_queries) -> None:
    made = project(rink=cold.rink, now=NOW)
    with django_assert_num_queries(1):
        assert latest_estimate(cold.rink) == made
    with django_assert_num_queries(1):
        hours = outlook_hours(cold.rink)
    assert hours[0].at == at(12, 21)
    assert len(hours) == 71  # the forecast of three days began at 20:00; its last hour begins at 19:00
    assert all(one.thinnest_m.low <= one.thinnest_m.middle <= one.thinnest_m.high for one in hours)


def test_the_same_inputs_give_the_same_rows_bit_for_bit(cold: Cast) -> None:
    project(rink=cold.rink, now=NOW)
    first = Outlook.objects.values("estimate", "hours", "members", "mark").get(rink=cold.rink)
    project(rink=cold.rink, now=NOW)
    again = Outlook.objects.values("estimate", "hours", "members", "mark").get(rink=cold.rink)
    Checkpoint.objects.all().delete()
    project(rink=cold.rink, now=NOW)
    afresh = Outlook.objects.values("estimate", "hours", "members", "mark").get(rink=cold.rink)
    assert first == again == afresh


def test_a_replay_that_is_cut_off_goes_on_where_it_stopped(cold: Cast) -> None:
    whole = project(rink=cold.rink, now=NOW)
    Checkpoint.objects.all().delete()
    assert project(rink=cold.rink, now=NOW, patient=lambda: False) is None
    row = stored(cold.rink)
    assert row is not None
    assert row.reached_at == at(
        5, 12
    )  # the fixed hour of the first day: the march began at noon in Oslo, 11:00 UTC
    assert cold.rink in stale(NOW)
    while (made := project(rink=cold.rink, now=NOW, patient=lambda: False)) is None:
        pass
    assert made == whole
    assert cold.rink not in stale(NOW)


def test_without_a_position_there_is_no_estimate_and_it_says_so(cold: Cast) -> None:
    cold.rink.latitude = cold.rink.longitude = None
    cold.rink.save()
    assert project(rink=cold.rink, now=NOW) is None
    row = stored(cold.rink)
    assert row is not None
    assert row.missing == "position"
    assert latest_estimate(cold.rink) is None
    assert outlook_hours(cold.rink) == []


def test_without_any_weather_there_is_no_estimate_and_it_says_so(cast: Cast) -> None:
    assert project(rink=cast.rink, now=NOW) is None
    row = stored(cast.rink)
    assert row is not None
    assert row.missing == "weather"


def test_before_the_first_water_there_is_no_estimate_and_it_says_so(cold: Cast) -> None:
    assert project(rink=cold.rink, now=at(4, 12)) is None
    row = stored(cold.rink)
    assert row is not None
    assert row.missing == "water"


def test_hours_without_weather_are_reported_and_widen_the_spread(cast: Cast) -> None:
    observed(cast, at(5, 0), at(9, 0))
    observed(cast, at(9, 10), at(9, 21))
    short = project(rink=cast.rink, now=at(9, 20))
    assert short is not None
    assert short.gaps == [(at(9, 0), at(9, 10))]
    observed(cast, at(9, 0), at(9, 10))
    known = project(rink=cast.rink, now=at(9, 20))
    assert known is not None
    assert known.gaps == []


def test_an_estimate_stops_where_the_weather_ends_and_says_since_when(cast: Cast) -> None:
    observed(cast, at(5, 0), at(9, 0))
    estimate = project(rink=cast.rink, now=at(10, 20))
    assert estimate is not None
    assert estimate.at == at(9, 0)
    assert estimate.gaps == [(at(9, 0), at(10, 20))]
    assert outlook_hours(cast.rink) == []


def test_at_89_degrees_north_the_winter_has_no_sun_and_the_estimate_is_made_all_the_same(cold: Cast) -> None:
    cold.rink.latitude = 89.0
    cold.rink.save()
    estimate = project(rink=cold.rink, now=NOW)
    assert estimate is not None
    assert all(0.05 < zone.thickness_m.middle < 0.2 for zone in estimate.zones.values())
    assert len(outlook_hours(cold.rink)) == 71


def test_a_long_replay_says_on_the_way_how_far_it_has_come_and_a_short_one_does_not(cold: Cast) -> None:
    told: list[dt.datetime | None] = []

    def patient() -> bool:
        row = stored(cold.rink)
        told.append(row.reached_at if row else None)
        return True

    project(rink=cold.rink, now=NOW, patient=patient)
    assert told[1:4] == [at(5, 12), at(6, 12), at(7, 12)]  # each look comes before the next is told
    assert stored(cold.rink).reached_at is None  # type: ignore[union-attr]
    told.clear()
    project(rink=cold.rink, now=NOW + dt.timedelta(hours=14), patient=patient)
    assert set(told) <= {None}


def test_a_sweep_finds_a_rink_once_its_inputs_differ(cold: Cast) -> None:
    project(rink=cold.rink, now=NOW)
    assert cold.rink not in stale(NOW + dt.timedelta(minutes=5))
    cold.flood(now=at(12, 19))
    assert cold.rink in stale(NOW + dt.timedelta(minutes=5))
