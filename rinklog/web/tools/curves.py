"""The small picture beside an answer: one input swept through its range, or the profile of a thing to build."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from rinklog import units as si
from rinklog.calculators.declare import Calculator, InputError
from rinklog.calculators.evaluate import Outcome, compute
from rinklog.web.charts import Curve, curve
from rinklog.web.measures import Units
from rinklog.web.tools.values import PERSONAL, unit_beside

STEPS = 40
Pairs = list[tuple[float, float]]


@dataclass(frozen=True)
class Sweep:
    """Which result to draw against which key, from `low` to about twice what was typed."""

    key: str
    result: str
    low: float = 0.0
    least_high: float = 1.0


SWEEPS = {
    "freeze-front": Sweep("hours", "neumann_mm", 0.0, 24),
    "ice-growth": Sweep("hours", "ice_mm", 0.0, 24),
    "coat-freeze": Sweep("water_mm", "hours", 0.5, 10),
    "degree-days": Sweep("degree_days_c", "ice_mm", 0.0, 50),
    "thaw": Sweep("thaw_degree_days_c", "melt_ice_mm", 0.0, 5),
    "bearing": Sweep("clear_mm", "load_kg", 50, 300),
    "wind-chill": Sweep("wind_kmh", "wind_chill_c", 5, 60),
    "snow-properties": Sweep("density_kgm3", "conductivity_sturm_wmk", 50, 400),
    "drift": Sweep("wind_ms", "transport_kgms", 5, 20),
    "board-load": Sweep("depth_m", "force_nm", 0.0, 0.5),
    "hose": Sweep("flow_ls", "head_loss_m", 0.0, 1),
    "fill-time": Sweep("flow_ls", "hours", 0.1, 2),
    "cover-melt": Sweep("sun_wm2", "melt_mm", 0.0, 800),
    "pour": Sweep("water_c", "melted_kg", 0.0, 80),
    "torch": Sweep("depth_mm", "minutes", 0.0, 10),
}


def picture(outcome: Outcome, units: Units) -> Curve | None:
    """The picture that goes with an answer, or None where a number says it all."""
    name = outcome.calculator.name
    if name in PROFILES:
        return PROFILES[name](outcome, units)
    sweep = SWEEPS.get(name)
    if sweep is None or not isinstance(outcome.inputs.get(sweep.key), int | float):
        return None
    return _swept(outcome.calculator, outcome.inputs, sweep, units)


def _swept(calculator: Calculator, inputs: Mapping[str, Any], sweep: Sweep, units: Units) -> Curve | None:
    key = calculator.key(sweep.key)
    result = next(result for result in calculator.results if result.name == sweep.result)
    if key is None:
        return None
    high = min(max(2 * inputs[sweep.key], sweep.least_high), key.high)
    xs = [sweep.low + (high - sweep.low) * i / STEPS for i in range(STEPS + 1)]
    pairs = []
    for x in xs:
        try:
            value = compute(calculator, dict(inputs) | {sweep.key: x}).results[sweep.result]
        except (InputError, ValueError):
            continue  # outside this calculator's range: the line has a gap there
        if value is not None:
            pairs.append((x, value))
    return _drawn(pairs, (key.unit, key.sentence), (result.unit, result.sentence), units)


def _drawn(pairs: Pairs, across: tuple[str, str], up: tuple[str, str], units: Units) -> Curve | None:
    if len(pairs) < 2:
        return None
    xs = [_in_units(x, across[0], units) for x, _ in pairs]
    ys = [_in_units(y, up[0], units) for _, y in pairs]
    return curve(xs, ys, x_title=unit_beside(across[0], units), y_title=unit_beside(up[0], units))


def _in_units(value: float, unit: str, units: Units) -> float:
    if unit not in PERSONAL:
        return value
    _dimension, own, field = PERSONAL[unit]
    return si.from_si(si.to_si(value, own), getattr(units, field))


def fence_profile(outcome: Outcome, units: Units) -> Curve | None:
    """The drift behind a fence when it is full: a long wedge, deepest near the fence (drawn simplified)."""
    length, depth = outcome.results["drift_length_m"], outcome.results["drift_depth_m"]
    if not isinstance(length, float):
        return None
    shape = [
        (0.0, 0.4),
        (0.1, 0.75),
        (0.2, 0.97),
        (0.25, 1.0),
        (0.35, 0.94),
        (0.6, 0.55),
        (0.8, 0.22),
        (1.0, 0.0),
    ]
    pairs = [(x * length, y * depth) for x, y in shape]
    return _drawn(pairs, ("m", ""), ("m", ""), units)


def slope_profile(outcome: Outcome, units: Units) -> Curve | None:
    """Depth of the water along the fall, from the low end to the high end."""
    inputs, greatest = outcome.inputs, outcome.results["greatest_depth_m"]
    if "fall_long" not in inputs or not isinstance(greatest, float):
        return None
    length, fall = inputs["length_m"], inputs["fall_long"]
    pairs = [(x, max(0.0, greatest - fall * x)) for x in (length * i / STEPS for i in range(STEPS + 1))]
    return _drawn(pairs, ("m", ""), ("m", ""), units)


def survival_steps(outcome: Outcome, units: Units) -> Curve | None:
    """The share of repairs still holding, as steps, for the first group."""
    groups = outcome.results["groups"]
    if not groups:
        return None
    pairs, share = [(0.0, 1.0)], 1.0
    for row in groups[0]["table"]:
        pairs += [(row["time"], share), (row["time"], row["survival"])]
        share = row["survival"]
    return curve([x for x, _ in pairs], [y for _, y in pairs], x_title="d", y_title="")


def corner_points(outcome: Outcome, units: Units) -> Curve | None:
    """The stakes of a rounded corner, seen from above."""
    xs, ys = outcome.results["x_m"], outcome.results["y_m"]
    return _drawn(list(zip(xs, ys, strict=True)), ("m", ""), ("m", ""), units)


PROFILES: dict[str, Callable[[Outcome, Units], Curve | None]] = {
    "fence": fence_profile,
    "basin": slope_profile,
    "hold": survival_steps,
    "corner": corner_points,
}
