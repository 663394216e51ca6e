"""Synthetic rinks whose truth is known: one winter drawn with other luck than any member, seen through noisy holes.

The truth is marched by `physics.column.march` itself, with weather, factors and amounts of water drawn here from
the stated errors with a generator of its own. The estimate is given the weather as a station would report it, the deeds
as written down, and some noisy holes; what the ice truly was at other times is withheld.
"""

from dataclasses import dataclass

import numpy as np

from rinklog.ice.bands import Band, band
from rinklog.ice.inputs import Deed, Inputs
from rinklog.ice.marching import errors_of, marched
from rinklog.ice.spread import OBSERVED, Spread
from rinklog.ice.state import first_state
from rinklog.physics.column import Action, Column, Settings, Weather, march
from rinklog.physics.column.marching import depths
from tests.ice.inventing import HOUR, START, flood, grounds, hole, inputs, known

ZONES = 4
KEPT = float(np.exp(-1 / 12))
"""Errors of hours last about 12 hours (ForecastError.correlation_h)."""
HOLE_M, HOLE_FRAC = 0.004, 0.04
"""Noise of a drill hole, known to this file only: reading a rule, and ice that is uneven within a zone."""


@dataclass(frozen=True)
class Checked:
    """One zone at one time: what was true, and the band that was given."""

    true_m: float
    given: Band

    @property
    def inside(self) -> bool:
        """Whether the truth lies in the 80 % band."""
        return self.given.low <= self.true_m <= self.given.high


def path(draw: np.random.Generator, hours: int) -> np.ndarray:
    """One unit error of every hour that keeps some of itself."""
    noise = draw.standard_normal(hours)
    for at in range(1, hours):
        noise[at] = KEPT * noise[at - 1] + np.sqrt(1 - KEPT**2) * noise[at]
    return noise


def rink(seed: int, days: int, holes_on: tuple[int, ...], spread: Spread) -> list[Checked]:
    """One synthetic rink. Arguments: seed, days, days on which two zones are drilled. Returns: checks of all zones."""
    draw = np.random.default_rng([2026, seed])
    hours = days * 24
    air_c, cloud = float(draw.uniform(-12, -5)), float(draw.uniform(0.1, 0.8))
    told = known(hours, air_c=air_c, cloud_frac=cloud, wind_ms=float(draw.uniform(1, 4)))
    floor = (*grounds(0.25, 0.20), *grounds(0.30, 0.22, shade_frac=0.45))
    zones = tuple(range(ZONES))
    deeds = tuple(flood(day * 24 + 9, float(draw.uniform(1.5, 4)), zones) for day in range(2, days))
    truth = _truth(draw, inputs(told, floor, deeds=deeds, seed=seed), spread)
    made = []
    for day in holes_on:
        for zone in draw.choice(ZONES, 2, replace=False).tolist():
            true_m = float(truth[day * 24 - 1, zone])
            noise_m = np.hypot(HOLE_M, HOLE_FRAC * true_m)
            made.append(hole(day * 24, true_m + noise_m * draw.standard_normal(), zone, answer="right"))
    given = inputs(told, floor, deeds=deeds, holes=tuple(made), seed=seed, spread=spread)
    return _checks(given, truth, days)


def _truth(draw: np.random.Generator, plan: Inputs, spread: Spread) -> np.ndarray:
    """Ice of every zone at the end of every hour [m] in weather, with factors and water, as they really were."""
    base, hours = plan.weather.values, plan.weather.hours
    own = spread.zone_log * draw.standard_normal((2, ZONES))
    exchange, sunlight = (
        np.exp(size * draw.standard_normal() + own[n])
        for n, size in enumerate((spread.exchange_log, spread.sunlight_log))
    )
    cloud = np.clip(base["cloud_frac"] + OBSERVED.cloud_frac * path(draw, hours), 0, 1)
    wind = base["wind_ms"] * np.exp(OBSERVED.wind_log * path(draw, hours))
    dimmed = (1 - 0.75 * cloud**3.4) / (1 - 0.75 * base["cloud_frac"] ** 3.4)
    weather = Weather(
        hold_s=np.full(hours, 3600.0),
        air_c=base["air_c"] + OBSERVED.air_k * path(draw, hours),
        humidity_frac=np.clip(base["humidity_frac"] + OBSERVED.humidity_frac * path(draw, hours), 0, 1),
        wind_ms=wind[:, None] * exchange,
        cloud_frac=cloud,
        sun_wm2=base["sun_wm2"] * dimmed,
        precip_kgm2=base["precip_kgm2"] * np.exp(OBSERVED.fall_log * path(draw, hours)),
    )
    shade = 1 - (1 - np.array([one.shade_frac for one in plan.grounds])) * sunlight
    stood = np.array(plan.stood_m) * np.exp(spread.depth_log * draw.standard_normal(ZONES))
    settings = Settings()
    start = Column.start(settings, ZONES, water_m=stood)
    actions = [_poured(one, draw, spread) for one in plan.deeds]
    return march(start, weather, settings, actions=actions, shade_frac=shade, keep=("ice_m",))[1]["ice_m"]


def _poured(deed: Deed, draw: np.random.Generator, spread: Spread) -> Action:
    even = np.array([deed.amounts[zone] for zone in range(ZONES)])
    whole, own = draw.standard_normal(), draw.standard_normal(ZONES)
    mean = (spread.flood_log**2 + spread.uneven_log**2) / 2
    amount = even * np.exp(spread.flood_log * whole + spread.uneven_log * own - mean)
    return Action((deed.at - START).total_seconds(), "flood", amount, deed.water_c)


def _checks(given: Inputs, truth: np.ndarray, days: int) -> list[Checked]:
    """The bands at noon of every day from the third on."""
    state, errors, found = first_state(given), errors_of(given), []
    for day in range(3, days + 1):
        state = marched(state, given, START + day * 24 * HOUR, errors)
        ice = depths(state.column, Settings())["ice_m"].reshape(state.log_weights.shape)
        weights = state.weights
        found += [Checked(float(truth[day * 24 - 1, n]), band(ice[n], weights[n])) for n in range(ZONES)]
    return found
