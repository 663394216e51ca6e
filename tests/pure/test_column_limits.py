"""The column engine against closed forms and an independent solver, where the answer is known."""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from scipy.special import erf

from rinklog.physics.column import Action, Column, Settings, Weather, march

K, RHO, LATENT, C_ICE = 2.22, 917.0, 333_400.0, 2090.0


def marched(hours, air_c, exchange, step_s=900.0, rows=1, actions=(), settings=None, **start):
    settings = settings or Settings(surface="air", exchange_wm2k=exchange)
    weather = Weather(hold_s=np.full(rows, hours * 3600 / rows), air_c=np.full(rows, air_c))
    return march(Column.start(settings, **start), weather, settings, actions=actions, step_s=step_s)


def hours_until_frozen(record, hours):
    water = record["water_m"][:, 0]
    first = int(np.argmax(water < 1e-9))
    return (first + 1) * hours / len(water)


@pytest.mark.parametrize(
    ("drop_k", "hours", "known_mm"), [(10, 24, 110.87), (5, 6, 39.399), (20, 72, 268.91)]
)
def test_standing_water_freezes_as_neumann_found(drop_k, hours, known_mm):
    # Carslaw & Jaeger 1959 ch. XI, values of reference-values.md sec. 1 [C]
    _, record = marched(hours, -drop_k, 1e6, water_m=1.0)
    assert record["ice_m"][-1, 0] * 1000 == pytest.approx(known_mm, rel=0.01)


@pytest.mark.parametrize("drop_k", [2.0, 13.0, 25.0])
def test_neumann_holds_at_drops_of_no_table(drop_k):
    ste = C_ICE * drop_k / LATENT
    root = brentq(lambda x: math.sqrt(math.pi) * x * math.exp(x * x) * erf(x) - ste, 1e-6, 2)
    known = 2 * root * math.sqrt(K / (RHO * C_ICE) * 86400 * 2)
    _, record = marched(48, -drop_k, 1e6, water_m=1.0)
    assert record["ice_m"][-1, 0] == pytest.approx(known, rel=0.01)


@pytest.mark.parametrize(
    ("drop_k", "exchange", "hours", "known_mm"),
    [(10, 20, 6, 13.33), (10, 20, 24, 46.698), (5, 10, 24, 13.707)],
)
def test_air_that_governs_freezes_as_ashton_says(drop_k, exchange, hours, known_mm):
    # Ashton 1989, values of reference-values.md sec. 1 [C]
    _, record = marched(hours, -drop_k, exchange, water_m=0.5)
    assert record["ice_m"][-1, 0] * 1000 == pytest.approx(known_mm, rel=0.01)


def test_measured_snow_is_a_resistance_as_ashton_says():
    # 50 mm of ice under 50 mm of snow of 0.15 W/m/K, 12 K, H 15, 2 d: 65.917 mm (reference-values.md sec. 1)
    settings = Settings(surface="air", exchange_wm2k=15.0, snow_k_wmk=0.15)
    weather = Weather(hold_s=np.full(48, 3600.0), air_c=np.full(48, -12.0), snow_m=np.full(48, 0.05))
    _, record = march(Column.start(settings, ice_m=0.05, water_m=0.3), weather, settings)
    assert record["ice_m"][-1, 0] * 1000 == pytest.approx(65.917, rel=0.01)


def test_a_coat_on_cold_ice_freezes_from_both_sides():
    # 10 mm of ice on thick ice of -5 °C, 10 K, H 20: 2.7461 h (reference-values.md sec. 1)
    _, record = marched(4, -10, 20, rows=240, ice_m=1.0, ice_c=-5, coat_m=0.00917)
    assert hours_until_frozen(record, 4) == pytest.approx(2.7461, rel=0.03)


def test_a_coat_on_ice_at_freezing_waits_for_the_air():
    # 4.58 mm of water, 10 K, H 20: 2.1685 h (reference-values.md sec. 1); the minute is the resolution
    _, record = marched(4, -10, 20, rows=240, coat_m=0.00458)
    assert hours_until_frozen(record, 4) == pytest.approx(2.1685, rel=0.01)


def test_a_cold_slab_freezes_no_more_than_its_cold_allows():
    # 100 mm at -5 °C: at most 3.1344 mm of ice (reference-values.md sec. 1); no exchange with the air
    _, record = marched(48, 0, 1e-9, ice_m=0.1, ice_c=-5, coat_m=0.02)
    grown = record["ice_m"][-1, 0] - 0.1
    assert grown * 1000 == pytest.approx(3.1344, rel=0.002)


@pytest.mark.parametrize(("air_c", "water_m", "coat_m"), [(-7.0, 0.4, 0.0), (-18.0, 0.05, 0.006)])
def test_half_the_step_changes_the_ice_by_less_than_half_a_percent(air_c, water_m, coat_m):
    settings = Settings()
    hours = np.arange(72)
    air = air_c + 4 * np.sin(hours * 2 * np.pi / 24)
    weather = Weather(hold_s=np.full(72, 3600.0), air_c=air, wind_ms=3.0 + np.sin(hours))
    ice = []
    for step_s in (900.0, 450.0):
        column = Column.start(settings, ice_m=0.03, water_m=water_m, coat_m=coat_m, ice_c=-4.0)
        ice.append(march(column, weather, settings, step_s=step_s)[1]["ice_m"][-1, 0])
    assert ice[0] == pytest.approx(ice[1], rel=0.005)


def test_a_slab_that_cools_agrees_with_an_ordinary_solver():
    # Oracle: scipy solve_ivp (BDF) on the same slab, 200 cells, sun and long wave and wind, no phase change
    settings = Settings(ground_c=-2.0, albedo=0.4)
    air, sun, sky, wind, pressure = -12.0, 120.0, 200.0, 4.0, 101_325.0
    weather = Weather(
        hold_s=np.full(24, 3600.0), air_c=np.full(24, air), humidity_frac=0.7, wind_ms=wind, sun_wm2=sun,
        longwave_wm2=np.full(24, sky),
    )  # fmt: skip
    column, record = march(Column.start(settings, ice_m=0.3, ice_c=-2.0), weather, settings, step_s=300.0)
    cells, size = 200, 0.3 / 200
    air_density = pressure / (287.05 * (air + 273.15))
    vapour = 0.7 * 611.2 * math.exp(17.62 * air / (243.12 + air))

    def surface(t):
        ice_pa = 611.2 * math.exp(22.46 * t / (272.62 + t))
        turbulent = air_density * 1.5e-3 * wind
        return (
            0.6 * sun
            + 0.97 * (sky - 5.670374e-8 * (t + 273.15) ** 4)
            + turbulent * 1005 * (air - t)
            + turbulent * 2.835e6 * 0.622 / pressure * (vapour - ice_pa)
        )

    def slope(_, t):
        top = brentq(lambda s: surface(s) - K / (size / 2) * (s - t[0]), -80, 20)
        flux = np.concatenate([[surface(top)], K / size * (t[:-1] - t[1:]), [K / (size / 2) * (t[-1] + 2.0)]])
        return (flux[:-1] - flux[1:]) / (RHO * C_ICE * size)

    solved = solve_ivp(slope, (0, 86400), np.full(cells, -2.0), method="LSODA", rtol=1e-6, lband=1, uband=1)
    top = brentq(lambda s: surface(s) - K / (size / 2) * (s - solved.y[0, -1]), -80, 20)
    assert record["surface_c"][-1, 0] == pytest.approx(top, abs=0.05)
    steady = K * (-2.0 - record["surface_c"][-1, 0]) / 0.3
    assert record["ground_wm2"][-1, 0] == pytest.approx(steady, rel=0.15)
    assert column.mass_kgm2[0] == pytest.approx(0.3 * RHO, rel=0.01)


def test_no_wind_no_sun_no_snow_leaves_long_wave_alone():
    settings = Settings()
    weather = Weather(hold_s=np.full(6, 3600.0), air_c=np.full(6, -5.0), wind_ms=0.0, cloud_frac=0.0)
    _, record = march(Column.start(settings, ice_m=0.2, ice_c=-5.0), weather, settings)
    for name in ("sun_wm2", "sensible_wm2", "latent_wm2", "snow_m", "ground_wm2"):
        assert not record[name].any()
    assert (record["longwave_wm2"] < 0).all()


def test_frozen_to_the_liner_no_snow_can_make_slush():
    settings = Settings(surface="air", exchange_wm2k=20.0)
    weather = Weather(hold_s=np.full(24, 3600.0), air_c=np.full(24, -6.0))
    start = {"ice_m": 0.1, "snow_m": 0.4, "snow_kgm3": 200.0}
    _, frozen = march(Column.start(settings, **start), weather, settings)
    _, floating = march(Column.start(settings, water_m=0.3, **start), weather, settings)
    assert not frozen["slush_m"].any()
    assert floating["slush_m"][0, 0] > 0.02
    assert floating["white_ice_m"][-1, 0] > floating["white_ice_m"][0, 0]


def test_ice_with_water_in_it_that_is_frozen_to_the_floor_does_not_flood_by_weight():
    # only floating ice obeys Archimedes: the same water, ice and snow, once with ice on the floor
    settings = Settings(surface="air", exchange_wm2k=1e-9, ground_c=-2.0)
    weather = Weather(hold_s=np.array([120.0]), air_c=np.array([0.0]))
    column, _ = march(Column.start(settings, water_m=0.3), weather, settings)
    solid, _, liquid, _ = column.phases(settings)
    assert liquid.sum() > 50
    assert 0.5 < solid.sum() < 2  # still within the parcel of the water
    cells = column.cells.copy()
    cells[0, :, 0] = 150.0
    snowy = replace(column, cells=cells, snow_kgm3=np.array([200.0]))
    moment = Weather(hold_s=np.array([60.0]), air_c=np.array([0.0]))
    _, record = march(snowy, moment, settings)
    assert record["slush_m"][0, 0] == 0


def test_slush_under_overload_is_as_deep_as_archimedes_wants():
    # 200 mm of ice, 200 mm of snow of 200 kg/m³ floating: 107.29 mm of slush (reference-values.md sec. 5)
    settings = Settings(surface="air", exchange_wm2k=1e-9)
    weather = Weather(hold_s=np.array([60.0]), air_c=np.array([0.0]))
    column = Column.start(settings, ice_m=0.2, water_m=0.5, snow_m=0.2, snow_kgm3=200.0)
    _, record = march(column, weather, settings)
    assert record["slush_m"][-1, 0] * 1000 == pytest.approx(107.29, rel=0.02)


def test_hot_water_melts_what_its_heat_pays_for():
    # 60 °C onto ice at freezing melts 0.75405 kg a kg (reference-values.md sec. 12), before anything freezes
    settings = Settings(surface="air", exchange_wm2k=1e-9)
    weather = Weather(hold_s=np.array([3600.0]), air_c=np.array([0.0]))
    pour = Action(0.0, "pour", 10.0, 60.0)
    _, record = march(Column.start(settings, ice_m=0.1), weather, settings, actions=[pour], step_s=60)
    assert (0.1 - record["ice_m"][-1, 0]) * RHO / 10 == pytest.approx(0.75405, rel=0.02)


def test_a_dark_cover_in_the_sun_melts_as_its_balance_says():
    # G 400, a .05, L 230, H 15, Ta -5, R .02: 1.8952 mm/h (reference-values.md sec. 11)
    settings = Settings(exchange_wm2k=15.0, cover_contact_m2kw=0.02)
    weather = Weather(
        hold_s=np.full(2, 3600.0), air_c=np.full(2, -5.0), sun_wm2=400.0, longwave_wm2=np.full(2, 230.0)
    )
    lay = Action(0.0, "lay-cover")
    _, record = march(Column.start(settings, ice_m=0.1), weather, settings, actions=[lay])
    melted = record["ice_m"][0, 0] - record["ice_m"][1, 0]
    assert melted * 1000 == pytest.approx(1.8952, rel=0.02)


def test_a_cover_melts_about_a_centimetre_on_a_calm_sunny_day_of_four_degrees():
    # common practice, no source: of the order of a centimetre in two to three hours
    settings = Settings()
    weather = Weather(
        hold_s=np.full(3, 3600.0), air_c=np.full(3, 4.0), wind_ms=1.0, sun_wm2=450.0, cloud_frac=0.0
    )
    _, record = march(
        Column.start(settings, ice_m=0.12), weather, settings, actions=[Action(0.0, "lay-cover")]
    )
    assert 0.004 < 0.12 - record["ice_m"][-1, 0] < 0.02


def test_a_slab_freezes_through_in_days_and_slower_when_mild_and_snowed_on():
    # common practice, no source: 15 cm in hard cold 3-5 days; about a week milder with snow for part of it
    settings = Settings(ground_c=0.0)

    def days(air_c, wind_ms, snow_kgm2):
        hours = 24 * 14
        fall = np.zeros(hours)
        fall[48:54] = snow_kgm2 / 6
        weather = Weather(
            hold_s=np.full(hours, 3600.0), air_c=np.full(hours, air_c), humidity_frac=0.6, wind_ms=wind_ms,
            cloud_frac=0.3, precip_kgm2=fall,
        )  # fmt: skip
        clear = Action(4 * 86400.0, "clear-snow")
        _, record = march(Column.start(settings, water_m=0.15), weather, settings, actions=[clear])
        return float(np.argmax(record["water_m"][:, 0] + record["slush_m"][:, 0] < 0.001)) / 24

    assert 2.5 <= days(-12.0, 5.0, 0.0) <= 5.0
    assert 5.0 <= days(-7.0, 3.0, 4.0) <= 10.0


def test_a_thin_evening_coat_is_frozen_by_morning_at_minus_five():
    # common practice, no source
    settings = Settings()
    weather = Weather(hold_s=np.full(11, 3600.0), air_c=np.full(11, -5.0), wind_ms=2.0, cloud_frac=0.3)
    column = Column.start(settings, ice_m=0.12, ice_c=-3.0, coat_m=0.003)
    _, record = march(column, weather, settings)
    assert record["water_m"][-1, 0] == 0


def test_another_wind_every_hour_grows_the_ice_of_a_fine_grid():
    # own brute force: tests/bench/fine_column.py, 60 nodes that follow the front, LSODA to 1e-8; -12 °C, no sun
    settings = Settings(albedo=0.4, vapour_mass=False)
    weather = Weather(
        hold_s=np.full(240, 3600.0), air_c=np.full(240, -12.0), humidity_frac=0.8,
        wind_ms=np.random.default_rng(3).uniform(0.5, 8, 240), longwave_wm2=np.full(240, 200.0),
    )  # fmt: skip
    _, record = march(Column.start(settings, water_m=0.45), weather, settings, keep=("ice_m",))
    grown_mm = record["ice_m"][[23, 95, 143, 239], 0] * 1000
    np.testing.assert_allclose(
        grown_mm,
        [58.262, 174.719, 231.435, 324.798],
        atol=0.03,
    )
