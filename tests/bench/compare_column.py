"""The ice engine: against a general solver, against itself without phase change, at scale; and `compute`'s start."""

import subprocess
import sys
from pathlib import Path
from statistics import median

import numpy as np

from tests.bench.measure import Row, alternate, at_least, at_most, comparison, seconds

ROOT = Path(__file__).resolve().parents[2]
HOURS, ZONES, MEMBERS = 240, 72, 50
DEPTH_M = 0.3
MOST_MB = 500


def conditions(columns: int) -> dict[str, np.ndarray]:
    """Ten days of cold with a low sun by day, no thaw; every column a little colder or warmer."""
    from rinklog.physics.air import magnus_water_pa
    from rinklog.physics.radiation import longwave_down_wm2

    hours = np.arange(HOURS)
    air = -10 + 4 * np.sin(2 * np.pi * (hours - 9) / 24) + 2 * np.sin(hours / 37)
    air = air[:, None] + np.linspace(-1.5, 1.5, columns)
    sun = np.clip(150 * np.sin(2 * np.pi * (hours - 6) / 24), 0, None)
    vapour = 0.8 * magnus_water_pa(air)
    sky = np.asarray(longwave_down_wm2(air, vapour, 0.5))
    return {"air": air, "sun": sun, "sky": sky, "wind": 3 + 2 * np.sin(hours / 11), "vapour": vapour}


def marched(columns: int, weather: dict[str, np.ndarray], **choices: bool):
    """Our side, at the default step. Returns: ice [m] of every column at the end."""
    from rinklog.physics.column import Column, Settings, Weather, march

    settings = Settings(albedo=0.4, **choices)
    start = {"water_m": DEPTH_M} if settings.phase_change else {"ice_m": DEPTH_M}
    force = Weather(
        hold_s=np.full(HOURS, 3600.0), air_c=weather["air"], humidity_frac=0.8, wind_ms=weather["wind"],
        sun_wm2=weather["sun"], longwave_wm2=weather["sky"],
    )  # fmt: skip
    column = Column.start(settings, columns, **start)
    return march(column, force, settings, keep=("ice_m",))[1]["ice_m"][-1]


def gusty(weather: dict[str, np.ndarray]) -> dict[str, np.ndarray]:
    """The same with another wind every hour, which is where a long step errs."""
    return weather | {"wind": np.random.default_rng(4).uniform(0.5, 8, HOURS)}


def thawing(weather: dict[str, np.ndarray]) -> dict[str, np.ndarray]:
    """The same with two mild and sunny days in the middle: centimetres melt, and the water freezes again."""
    from rinklog.physics.air import magnus_water_pa
    from rinklog.physics.radiation import longwave_down_wm2

    mild = 9 * np.exp(-(((np.arange(HOURS) - 120) / 30) ** 4))
    air = weather["air"] + mild[:, None]
    vapour = 0.8 * magnus_water_pa(air)
    sun = weather["sun"] * (1 + 1.5 * (mild > 4.5))
    return weather | {
        "air": air,
        "sun": sun,
        "vapour": vapour,
        "sky": np.asarray(longwave_down_wm2(air, vapour, 0.5)),
    }


def off_mm() -> tuple[np.ndarray, np.ndarray]:
    """How far both sides are off the fine grids [mm]: cold, gusty and thawing, some columns each.

    The thaw has no reference of its own kind: it is the solver itself on four times the cells, so it favours it.
    """
    from tests.bench import fine_column
    from tests.bench.against.lsoda_column import ice_m

    cold = conditions(ZONES)
    cases = [(cold, at, fine_column.ice_m) for at in (0, ZONES // 2, ZONES - 1)]
    cases += [(gusty(cold), at, fine_column.ice_m) for at in (0, ZONES - 1)]
    cases += [
        (thawing(cold), at, lambda w, a: ice_m(w, a, DEPTH_M, cells=80, rtol=1e-5)) for at in (ZONES // 2,)
    ]
    fine = np.array([reference(weather, at) for weather, at, reference in cases])
    own = np.array([marched(ZONES, weather, vapour_mass=False)[at] for weather, at, _ in cases])
    other = np.array([ice_m(weather, at, DEPTH_M) for weather, at, _ in cases])
    return np.abs(own - fine) * 1000, np.abs(other - fine) * 1000


@comparison("march-against-lsoda")
def march_against_lsoda() -> Row:
    """72 zones by 240 hours, the full balance; the solver is timed by the column.

    The solver's grid cannot lose mass to the air, so for accuracy ours keeps it too; ours is timed with it.
    """
    from tests.bench.against.lsoda_column import ice_m

    weather = conditions(ZONES)
    ours, theirs = alternate(
        lambda: marched(ZONES, weather), lambda: ice_m(weather, ZONES // 2, DEPTH_M), rounds=5, warm=1
    )
    own, other = off_mm()
    kinds = {"cold": slice(0, 3), "gusty": slice(3, 5), "thaw": slice(5, None)}
    worst = {kind: (own[part].max(), other[part].max()) for kind, part in kinds.items()}
    words = [f"{kind} {a:.4f} against {b:.4f} mm" for kind, (a, b) in worst.items()]
    note = "off a fine grid, ours against LSODA: " + ", ".join(words)
    row = at_least(
        "march-against-lsoda",
        theirs * ZONES,
        ours,
        times=20,
        unit="s",
        also=all(a <= b for a, b in worst.values()),
        note=note,
    )
    return Row(row.name, ours, theirs * ZONES, "s", row.ratio, "at least 20 times faster", row.holds, note)


@comparison("march-phase-change")
def march_phase_change() -> Row:
    """The same march with freezing and thaw left out."""
    weather = conditions(ZONES)
    ours, plain = alternate(
        lambda: marched(ZONES, weather), lambda: marched(ZONES, weather, phase_change=False), rounds=5, warm=1
    )
    return at_most("march-phase-change", ours, plain, times=3, unit="s")


MEMORY = """
import resource, time
from tests.bench.compare_column import conditions, marched
weather = conditions({columns}); marched(72, conditions(72)); began = time.perf_counter(); marched({columns}, weather)
print(time.perf_counter() - began, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000)
"""


def apart(columns: int) -> tuple[float, float]:
    """Seconds and peak megabytes of one march in a process of its own."""
    command = [sys.executable, "-c", MEMORY.format(columns=columns)]
    spoken = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout.split()
    return float(spoken[0]), float(spoken[1])


@comparison("march-scale")
def march_scale() -> Row:
    """Fifty members a zone in one call: no slower by the column than one, in under 500 MB."""
    runs = [(apart(ZONES * MEMBERS), apart(ZONES)) for _ in range(3)]
    many, few = (median(run[side][0] for run in runs) for side in (0, 1))
    most_mb = max(run[0][1] for run in runs)
    note = f"peak {most_mb:.0f} MB (at most {MOST_MB})"
    return at_most("march-scale", many, few * MEMBERS, times=1, unit="s", also=most_mb < MOST_MB, note=note)


@comparison("compute-start")
def compute_start() -> Row:
    """`manage.py compute` for one value against `manage.py check`, both with imports and all."""

    def command(*words: str) -> float:
        line = [sys.executable, "manage.py", *words]
        return seconds(lambda: subprocess.run(line, cwd=ROOT, capture_output=True, check=True))

    value = ("compute", "wind-chill", "air_c=-10", "wind_kmh=20")
    command("check"), command(*value)
    pairs = [(command(*value), command("check")) for _ in range(5)]
    ours, theirs = (median(pair[side] for pair in pairs) for side in (0, 1))
    return at_most("compute-start", ours, theirs, times=1.5, unit="s")
