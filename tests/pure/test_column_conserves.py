"""Whatever the weather and the crew do, heat and mass close, and more cold never means less ice."""

import json

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rinklog.physics.column import Action, Column, Settings, Weather, march
from rinklog.physics.column.actions import KINDS

AMOUNTS = {"torch": 2e5, "clear-snow": 0.05}
QUIET = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def wild(seed, columns=12):
    draw = np.random.default_rng(seed)
    rows = int(draw.integers(4, 30))
    shape = (rows, columns)
    swing = float(draw.choice([3, 10, 30]))
    weather = Weather(
        hold_s=np.full(rows, float(draw.choice([900, 3600]))),
        air_c=np.clip(draw.normal(-2, swing, shape), -60, 50),
        humidity_frac=draw.uniform(0, 1, shape),
        wind_ms=draw.uniform(0, draw.choice([4, 40]), shape),
        cloud_frac=draw.uniform(0, 1, shape),
        sun_wm2=np.clip(draw.normal(100, 400, shape), 0, 1300),
        precip_kgm2=np.clip(draw.normal(-2, 4, shape), 0, 40),
    )
    choices = Settings(
        ground_c=None if draw.random() < 0.5 else float(draw.uniform(-10, 8)),
        freezing_c=float(draw.choice([0.0, -1.8])),
        surface=str(draw.choice(["energy", "energy", "air"])),
        exchange_wm2k=None if draw.random() < 0.6 else float(draw.uniform(1, 200)),
    )

    def depth(most):
        return draw.uniform(0, most, columns) * (draw.random(columns) < 0.6)

    column = Column.start(
        choices, columns, ice_m=depth(0.5), water_m=depth(0.6), coat_m=depth(0.03), snow_m=depth(0.5),
        ice_c=-draw.uniform(2, 20, columns), snow_kgm3=draw.uniform(50, 500, columns),
    )  # fmt: skip
    actions = []
    for kind in draw.choice(KINDS, int(draw.integers(0, 6))).tolist():
        at_s = float(draw.uniform(0, weather.hold_s.sum()))
        amount = AMOUNTS.get(kind, float(draw.uniform(0, 20)))
        actions.append(Action(at_s, kind, amount, float(draw.uniform(0, 70)), draw.random(columns) < 0.5))
    return column, weather, choices, actions, float(draw.choice([300, 900, 3600]))


@QUIET
@given(st.integers(0, 2**32))
def test_every_step_closes_over_any_weather(seed):
    column, weather, choices, actions, step_s = wild(seed)
    _, record = march(column, weather, choices, actions=actions, step_s=step_s)
    assert np.abs(record["energy_residual_wm2"]).max() <= 0.5
    assert np.abs(record["mass_residual_kgm2"]).max() <= 0.01
    for name in ("ice_m", "white_ice_m", "water_m", "snow_m", "slush_m"):
        assert record[name].min() >= -1e-9
    assert (record["white_ice_m"] <= record["ice_m"] + 1e-9).all()


@QUIET
@given(st.integers(0, 2**32))
def test_a_march_taken_up_again_from_saved_text_gives_the_same_bits(seed):
    column, weather, choices, _, step_s = wild(seed, columns=3)
    whole, _ = march(column, weather, choices, step_s=step_s)
    half = len(weather.hold_s) // 2
    parts = [
        Weather(**{n: v[cut] if isinstance(v, np.ndarray) else v for n, v in vars(weather).items()})
        for cut in (slice(half), slice(half, None))
    ]
    saved = march(column, parts[0], choices, step_s=step_s)[0].to_dict()
    again, _ = march(Column.from_dict(json.loads(json.dumps(saved))), parts[1], choices, step_s=step_s)
    assert again.to_dict() == whole.to_dict()


def test_columns_do_not_feel_their_neighbours():
    column, weather, choices, _, step_s = wild(5)
    together, _ = march(column, weather, choices, step_s=step_s)
    one = Column(**{n: v[:, 2:3] if n == "cells" else v[2:3] for n, v in vars(column).items()})
    alone_weather = Weather(
        **{n: v[:, 2:3] if getattr(v, "ndim", 0) == 2 else v for n, v in vars(weather).items()}
    )
    alone, _ = march(one, alone_weather, choices, step_s=step_s)
    # array loops round differently by place in memory, so not bit for bit
    np.testing.assert_allclose(alone.cells[:2, 0], together.cells[:2, 2], rtol=1e-5, atol=1e-3)


def frozen(**changes):
    """Ice after two days on 300 mm of water. Returns: [m]."""
    hours = np.arange(48)
    usual = {
        "air_c": -8 + 3 * np.sin(hours / 4), "humidity_frac": 0.7, "wind_ms": 3.0, "cloud_frac": 0.4,
        "sun_wm2": np.clip(200 * np.sin((hours - 8) / 24 * 2 * np.pi), 0, None),
    }  # fmt: skip
    start = {"ice_m": 0.02, "water_m": 0.3} | {k: changes.pop(k) for k in ("snow_m",) if k in changes}
    weather = Weather(hold_s=np.full(48, 3600.0), **(usual | changes))
    choices = Settings(albedo=0.4)
    return march(Column.start(choices, **start), weather, choices)[1]["ice_m"][-1, 0]


@QUIET
@given(st.floats(-25, -3), st.floats(0.5, 5))
def test_colder_air_makes_more_ice(air_c, drop_k):
    warm, cold = (frozen(air_c=np.full(48, t)) for t in (air_c, air_c - drop_k))
    assert cold >= warm


@pytest.mark.parametrize(
    ("less", "more"),
    [
        ({"humidity_frac": 0.9}, {"humidity_frac": 0.3}),
        ({"cloud_frac": 1.0}, {"cloud_frac": 0.0}),
        ({"sun_wm2": 300.0}, {"sun_wm2": 0.0}),
        ({"snow_m": 0.015}, {"snow_m": 0.0}),
        (
            {"wind_ms": 1.0, "cloud_frac": 1.0, "sun_wm2": 0.0},
            {"wind_ms": 6.0, "cloud_frac": 1.0, "sun_wm2": 0.0},
        ),
    ],
)
def test_what_cools_the_surface_makes_more_ice(less, more):
    assert frozen(**more) > frozen(**less)
