"""The options of `simulate`: one table of numbers with their ranges and meaning."""

from __future__ import annotations

import argparse
import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NoReturn

from rinklog.calculators.reading import shown
from rinklog.physics.column import Settings
from rinklog.physics.column.marching import STEP_S
from rinklog.physics.validity import span

DEFAULT = Settings()
NUMBERS: dict[str, tuple[float | None, float, float, str, str]] = {
    "ice-mm": (0.0, 0, 5000, "mm", "ice at the start"),
    "water-mm": (0.0, 0, 10_000, "mm", "water under the ice, at freezing"),
    "coat-mm": (0.0, 0, 500, "mm", "water poured on top, at freezing"),
    "ice-c": (None, -60, 0, "°C", "uniform temperature of the ice; default freezing"),
    "snow-mm": (0.0, 0, 5000, "mm", "snow on top at the start"),
    "ground-c": (None, -40, 40, "°C", "temperature below the column; absent: no heat through the base"),
    "step-minutes": (STEP_S / 60, 0.05, 60, "min", "longest step of the march"),
    "k-ice-wmk": (DEFAULT.k_ice_wmk, 0.5, 5, "W/m/K", "conductivity of ice"),
    "freezing-c": (0.0, -5, 0, "°C", "freezing temperature"),
    "latent-jkg": (DEFAULT.latent_jkg, 100_000, 400_000, "J/kg", "latent heat of fusion"),
    "rho-ice-kgm3": (DEFAULT.rho_ice_kgm3, 800, 1000, "kg/m³", "density of ice"),
    "exchange-wm2k": (None, 0, 1e6, "W/m²/K", "exchange with the air; absent: from the wind"),
    "snow-k-wmk": (None, 0.01, 3, "W/m/K", "conductivity of snow; absent: from its density"),
    "albedo": (None, 0, 1, "", "albedo of anything but a cover; absent: from what lies on top"),
    "latitude": (None, -90, 90, "°", "for a clear-sky sun when shortwave_wm2 is absent"),
    "longitude": (None, -180, 180, "°", "east positive, with --latitude"),
}


class OptionError(ValueError):
    """One sentence about an option."""


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        raise OptionError(" ".join(message.split()))


def read_options(argv: Sequence[str]) -> argparse.Namespace:
    """Parse the command line.

    Arguments: argv. Returns: namespace, numbers by name with underscores. Errors: OptionError.
    """
    options = parser().parse_args(list(argv))
    if (options.latitude is None) != (options.longitude is None):
        raise OptionError("--latitude and --longitude are permitted only together")
    if options.ice_c is not None and options.ice_c > options.freezing_c:
        raise OptionError(
            f"--ice-c is {options.ice_c:g}; permitted: at most --freezing-c {options.freezing_c:g} °C"
        )
    return options


def parser() -> argparse.ArgumentParser:
    """The command line. Returns: an argparse parser that raises OptionError instead of leaving."""
    made = _Parser(
        prog="simulate",
        allow_abbrev=False,
        description="March one column of rink through hourly (or finer) weather.",
        epilog="An estimate, not a measurement: it never opens a rink. Drill, and follow local rules.",
    )
    made.add_argument("--weather", type=Path, required=True, metavar="FILE.csv")
    made.add_argument("--actions", type=Path, metavar="FILE.csv", help="time, action, amount, unit, water_c")
    made.add_argument("--surface", choices=("energy", "air"), default="energy")
    for name, (default, low, high, unit, about) in NUMBERS.items():
        text = f"{about} ({span(low, high, unit)}{'' if default is None else f'; default {default:g}'})"
        made.add_argument(f"--{name}", type=_number(name), default=default, metavar="X", help=text)
    out = made.add_mutually_exclusive_group()
    out.add_argument("--json", action="store_true", help="one object: inputs, rows, gaps")
    out.add_argument("--csv", type=Path, metavar="OUT", help="write rows to a file instead of to the screen")
    return made


def _number(name: str) -> Any:
    _, low, high, unit, _ = NUMBERS[name]

    def read(text: str) -> float:
        try:
            value = float(text)
        except ValueError:
            value = math.nan
        if not low <= value <= high:
            raise argparse.ArgumentTypeError(f"is {shown(text)}; permitted: {span(low, high, unit)}")
        return value

    return read


def settings_of(options: argparse.Namespace) -> Settings:
    """The engine's settings. Arguments: options. Returns: Settings."""
    return Settings(
        freezing_c=options.freezing_c,
        k_ice_wmk=options.k_ice_wmk,
        rho_ice_kgm3=options.rho_ice_kgm3,
        latent_jkg=options.latent_jkg,
        surface=options.surface,
        exchange_wm2k=options.exchange_wm2k,
        albedo=options.albedo,
        snow_k_wmk=options.snow_k_wmk,
        ground_c=options.ground_c,
    )
