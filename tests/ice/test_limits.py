"""Where the ensemble must agree with something else: the plain march, its own totals, and what everybody knows of ice."""

import dataclasses

import numpy as np
import pytest

from rinklog.ice.forcing import prepare
from rinklog.ice.marching import STEP_S, Journey, errors_of, marched
from rinklog.ice.spread import Spread
from rinklog.ice.state import first_state
from rinklog.physics.column import Action, Column, Settings, Weather, march
from rinklog.physics.column.marching import CLOSURE, depths
from tests.ice.inventing import (
    HOUR,
    PLACE,
    START,
    after,
    clearing,
    flood,
    grounds,
    hole,
    inputs,
    known,
    middle_mm,
)  # fmt: skip

DAYS = 2 * 24


def test_without_errors_every_member_is_the_plain_march_of_the_column() -> None:
    hours = known(DAYS, precip_mm=0.1)
    deeds = (clearing(20.25, (0, 1)), flood(30.4, 3.0, (0, 1)))
    shaded = (*grounds(0.08), *grounds(0.11, shade_frac=0.45))
    made = inputs(hours, shaded, deeds=deeds, spread=Spread.none(8))
    state = after(made)

    weather = Weather(
        hold_s=np.full(DAYS, 3600.0),
        air_c=np.array([one.hour.air_c for one in hours]),
        humidity_frac=0.8,
        wind_ms=2.5,
        cloud_frac=0.4,
        sun_wm2=prepare(hours, PLACE).values["sun_wm2"],
        precip_kgm2=np.full(DAYS, 0.1),
    )
    settings = Settings()
    plain, _ = march(
        Column.start(settings, 2, water_m=np.array([0.08, 0.11])),
        weather,
        settings,
        actions=[Action(20.25 * 3600, "clear-snow"), Action(30.4 * 3600, "flood", 3.0, 5.0)],
        step_s=STEP_S,
        shade_frac=np.array([0.0, 0.45]),
    )
    for name, found in depths(state.column, settings).items():
        wanted = np.repeat(depths(plain, settings)[name], 8)
        np.testing.assert_allclose(found, wanted, rtol=0, atol=1e-9, err_msg=name)


def test_with_errors_the_members_differ_and_the_first_is_the_plain_march() -> None:
    hours = known(DAYS)
    sure, unsure = (
        depths(after(inputs(hours, grounds(0.1), spread=spread)).column, Settings())["ice_m"]
        for spread in (Spread.none(20), Spread(20))
    )
    assert np.ptp(sure) == 0
    assert unsure[0] == sure[0]
    assert np.ptp(unsure) > 0.003


@pytest.mark.parametrize("stop", [0.5, 7, 13.25, 24])
def test_where_a_march_is_cut_at_a_full_hour_changes_nothing(stop: float) -> None:
    made = inputs(
        known(30), grounds(0.1), deeds=(flood(9.3, 3.0),), holes=(hole(13.25, 0.03),), spread=Spread(6)
    )
    whole = after(made)
    first = after(made, np.floor(stop))
    parts = marched(first, made, made.weather.end, errors_of(made))
    for field in dataclasses.fields(whole.column):
        np.testing.assert_array_equal(getattr(parts.column, field.name), getattr(whole.column, field.name))
    np.testing.assert_array_equal(parts.log_weights, whole.log_weights)
    assert parts.frost_cd == whole.frost_cd


def test_mass_and_heat_are_kept_in_every_hour_and_every_member() -> None:
    deeds = (clearing(20.25), flood(30.4, 3.0))
    made = inputs(known(DAYS, precip_mm=0.3), grounds(0.1), deeds=deeds)
    journey = Journey(keep=(*CLOSURE, "ice_m", "wet_m"), wanted=True)
    marched(first_state(made), made, made.weather.end, errors_of(made), journey)
    ((_, record),) = journey.records
    assert np.abs(record["mass_residual_kgm2"]).max() < 1e-9
    assert np.abs(record["energy_residual_wm2"]).max() < 1e-3


CHANGES = {
    "colder air makes it thicker": (dict(air_c=-8.0), dict(air_c=-12.0)),
    "more wind makes it thicker": (dict(wind_ms=1.0), dict(wind_ms=5.0)),
    "cloud makes it thinner": (dict(cloud_frac=0.9), dict(cloud_frac=0.1)),
    "snow that lies makes it thinner": (dict(precip_mm=0.5), dict(precip_mm=0.0)),
}


@pytest.mark.parametrize("name", CHANGES)
def test_changed_weather_moves_the_ice_the_way_everybody_knows(name: str) -> None:
    thinner, thicker = (middle_mm(after(inputs(known(DAYS, **told), grounds(0.2)))) for told in CHANGES[name])
    assert thinner + 1 < thicker


def test_a_flood_adds_ice_once_it_has_frozen_as_much_as_its_water() -> None:
    none, flooded = (
        middle_mm(
            after(inputs(known(6 * 24, air_c=-12.0), grounds(0.05), deeds=deeds, spread=Spread.none(2)))
        )
        for deeds in ((), (flood(96, 5.0),))
    )
    # 5 mm of water are 5 x 1000/917 = 5.45 mm of ice; a little more or less evaporates from the wet coat.
    assert flooded - none == pytest.approx(5 * 1000 / 917, abs=0.3)


def test_clearing_snow_makes_it_thicker_and_shade_does_too_in_the_sun() -> None:
    snowy = known(DAYS, precip_mm=0.5)
    left, cleared = (
        middle_mm(after(inputs(snowy, grounds(0.2), deeds=d))) for d in ((), (clearing(12), clearing(24)))
    )
    assert left + 1 < cleared
    bright = known(DAYS, air_c=-4.0, cloud_frac=0.0)
    sunny, shaded = (middle_mm(after(inputs(bright, grounds(0.2, shade_frac=s)))) for s in (0.0, 0.85))
    assert sunny + 0.5 < shaded


def test_deeper_water_takes_longer_to_freeze_through() -> None:
    made = inputs(known(4 * 24, air_c=-10.0), grounds(0.03, 0.20), spread=Spread.none(2))
    found = depths(after(made).column, Settings())
    assert found["water_m"][0] == 0
    assert found["water_m"][2] > 0.05


def test_an_hour_of_the_march_is_an_hour_of_the_weather() -> None:
    made = inputs(known(10), grounds(0.1))
    assert after(made).at == START + 10 * HOUR
