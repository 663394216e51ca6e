"""Flood-night arithmetic against closed forms and limits."""

import numpy as np
import pytest

from rinklog.physics.column import Column, Settings, Weather
from rinklog.physics.windows import (
    ForecastError,
    chance_frozen,
    cover_melt,
    ensemble,
    first_fill,
    hours_to_freeze,
    thickest_coat_mm,
)

AIR = Settings(surface="air", exchange_wm2k=20.0)
K, RHO, LATENT = 2.22, 917.0, 333_400.0


def steady(air_c, hours=24, **more):
    return Weather(hold_s=np.full(hours, 3600.0), air_c=np.full(hours, float(air_c)), **more)


def slab(settings=AIR, **start):
    return Column.start(settings, **({"ice_m": 0.1} | start))


def test_a_coat_takes_the_hours_of_the_closed_form():
    # 4.58 mm, 10 K, H 20: 2.1685 h; 3 mm, 5 K, H 15: 3.7454 h (reference-values.md sec. 1), water at freezing
    assert hours_to_freeze(slab(), steady(-10), AIR, 4.58, water_c=0)[0] == pytest.approx(2.1685, rel=0.02)
    slow = Settings(surface="air", exchange_wm2k=15.0)
    assert hours_to_freeze(slab(), steady(-5), slow, 3 * 0.917, water_c=0)[0] == pytest.approx(
        3.432, rel=0.03
    )


def test_a_coat_over_floating_ice_is_told_from_the_water_beneath():
    floating = slab(water_m=0.3)
    dry = hours_to_freeze(slab(), steady(-10), AIR, 3.0)[0]
    assert hours_to_freeze(floating, steady(-10), AIR, 3.0)[0] == pytest.approx(dry, rel=0.1)


def test_set_enough_comes_before_frozen_through():
    set_h = hours_to_freeze(slab(), steady(-8), AIR, 5.0, share=0.6)[0]
    assert set_h < hours_to_freeze(slab(), steady(-8), AIR, 5.0)[0]


def test_nothing_freezes_in_mild_air():
    assert np.isinf(hours_to_freeze(slab(), steady(1), AIR, 1.0)[0])
    assert thickest_coat_mm(slab(), steady(1), AIR, 8.0) == 0.0


def test_the_thickest_coat_is_frozen_just_in_time():
    thick = thickest_coat_mm(slab(), steady(-10), AIR, 6.0, water_c=0)
    # closed form: t = rho L / dT (d²/2k + d/H) solved for d, in ice; times 0.917 is water
    a, b, c = 1 / (2 * K), 1 / 20, -6 * 3600 * 10 / (RHO * LATENT)
    known = (-b + np.sqrt(b * b - 4 * a * c)) / (2 * a) * 917
    assert thick == pytest.approx(known, rel=0.03)


@pytest.mark.parametrize("colder", [-9.0, -14.0])
def test_colder_nights_freeze_thicker_coats(colder):
    assert thickest_coat_mm(slab(), steady(colder), AIR, 8) > thickest_coat_mm(slab(), steady(-6), AIR, 8)


def test_members_spread_as_the_stated_error_says_and_repeat_with_the_seed():
    weather = steady(-6, hours=97)
    error = ForecastError(air_k=1.0, air_k_per_day=0.5)
    members = ensemble(weather, 4000, seed=3, error=error)
    air = np.asarray(members.air_c)
    assert air[0, 1:].std() == pytest.approx(1.0, rel=0.06)
    assert air[96, 1:].std() == pytest.approx(3.0, rel=0.06)
    assert (air[:, 0] == -6).all()
    assert np.array_equal(air, ensemble(weather, 4000, seed=3, error=error).air_c)
    assert not np.array_equal(air, ensemble(weather, 4000, seed=4, error=error).air_c)


def test_the_chance_falls_with_thickness_from_sure_to_none():
    settings = Settings()
    weather = steady(-6, hours=12, wind_ms=3.0, cloud_frac=0.5)
    members = ensemble(weather, 60, seed=1)
    chances = [chance_frozen(slab(settings), members, settings, mm, 10) for mm in (1.0, 4.0, 8.0, 30.0)]
    assert chances[0] == 1.0
    assert chances[-1] == 0.0
    assert chances == sorted(chances, reverse=True)


def test_the_deepest_zone_of_a_fill_is_through_last():
    weather = steady(-12, hours=24 * 14)
    fill = first_fill([0.05, 0.10, 0.20], weather, AIR, wanted_ice_m=0.08)
    # closed form with surface coefficient, water at freezing, no heat below (reference-values.md sec. 1)
    ice = np.array([0.05, 0.10, 0.20]) * 1000 / 917
    known = RHO * LATENT / 12 * (ice**2 / (2 * K) + ice / 20) / 3600
    # the closed form leaves out that the ice itself must cool: c times its mean cold over L, up to 3 %
    np.testing.assert_allclose(fill.through_h, known, rtol=0.03)
    assert fill.all_through_h == fill.through_h[2]
    assert fill.carries_h[0] == pytest.approx(fill.through_h[0], rel=0.01)
    assert fill.carries_h[2] == pytest.approx(
        RHO * LATENT / 12 * (0.08**2 / (2 * K) + 0.004) / 3600, rel=0.02
    )


def test_a_cover_melts_in_the_sun_and_is_lifted_before_dusk():
    hours = np.arange(12)
    sun = np.clip(500 * np.sin((hours + 0.5) / 6 * np.pi), 0, None)
    weather = steady(-3, hours=12, sun_wm2=sun, wind_ms=1.0, cloud_frac=0.0)
    settings = Settings()
    melt = cover_melt(slab(settings), weather, settings)
    assert melt.lift_h is not None
    assert 4 <= melt.lift_h <= 7
    assert melt.total_mm > 1
    some = cover_melt(slab(settings), weather, settings, wanted_mm=1.0)
    assert some.lift_h is not None
    assert some.lift_h < melt.lift_h


def test_a_cover_is_no_use_under_weak_sun_in_hard_cold():
    # G 250, a .05, L 200, H 20, Ta -12: no melt (reference-values.md sec. 11)
    settings = Settings(exchange_wm2k=20.0)
    weather = steady(-12, hours=4, sun_wm2=250.0, longwave_wm2=np.full(4, 200.0))
    assert cover_melt(slab(settings), weather, settings).lift_h is None
