"""The actions file: what the crew did, with amounts in the units they think in."""

from __future__ import annotations

import math
from pathlib import Path

from rinklog.calculators.reading import shown
from rinklog.physics.column.actions import KINDS, Action
from rinklog.simulate.csv_file import Complaints, FileError, header, moment, rows

KNOWN = dict.fromkeys(("time", "action", "amount", "unit", "water_c"), "")
MOST_ACTIONS = 10_000
WATER = {"mm": 1.0, "l/m2": 1.0, "kg/m2": 1.0, "cm": 10.0, "m": 1000.0}
SNOW = {"mm": 0.001, "cm": 0.01, "m": 1.0}
HEAT = {"kj/m2": 1e3, "mj/m2": 1e6, "wh/m2": 3600.0, "j/m2": 1.0}
UNITS: dict[str, tuple[dict[str, float], float]] = {
    "flood": (WATER, 500.0),
    "pour": (WATER, 500.0),
    "clear-snow": (SNOW, 10.0),
    "torch": (HEAT, 1e8),
}
TAP_C, HOT_C = 5.0, 60.0
"""Water when the file does not say: from the tap 4-5 °C (published practice), poured hot 60 °C (our choice)."""


def read_actions(path: Path, start_s: float, end_s: float) -> list[Action]:
    """Read and check an actions file.

    Arguments: path, start_s and end_s of the weather [unix s]. Returns: actions, seconds from start_s.
    Errors: FileError with line numbers.
    """
    source = rows(path)
    line, names = next(source)
    header(path, line, names, KNOWN, ("time", "action"))
    complaints = Complaints(path)
    actions: list[Action] = []
    for line, cells in source:
        if len(actions) >= MOST_ACTIONS:
            raise FileError(f"{path.name} line {line}: more than {MOST_ACTIONS} actions; permitted: fewer")
        if len(cells) != len(names):
            complaints.add(line, f"{len(cells)} cells; permitted: {len(names)}, as in the header")
            continue
        try:
            actions.append(_action(dict(zip(names, cells, strict=True)), start_s, end_s))
        except ValueError as error:
            complaints.add(line, str(error))
    complaints.settle()
    return actions


def _action(cells: dict[str, str], start_s: float, end_s: float) -> Action:
    at_s = moment(cells["time"]).timestamp()
    if not start_s <= at_s < end_s:
        raise ValueError(f"time is {shown(cells['time'])}; permitted: within the weather file")
    kind = cells["action"]
    if kind not in KINDS:
        raise ValueError(f"action is {shown(kind)}; permitted: {', '.join(KINDS)}")
    amount = _amount(kind, cells.get("amount", ""), cells.get("unit", ""))
    water_c = _water_c(kind, cells.get("water_c", ""))
    return Action(at_s - start_s, kind, amount, water_c)


def _amount(kind: str, text: str, unit: str) -> float | None:
    if kind not in UNITS:
        if text:
            raise ValueError(f"amount is {shown(text)}; permitted: none for {kind}")
        return None
    units, most = UNITS[kind]
    if not text:
        if kind == "clear-snow":
            return None
        raise ValueError(f"amount is empty; permitted: a number for {kind}")
    factor = units.get(unit.lower() or next(iter(units)))
    if factor is None:
        raise ValueError(f"unit is {shown(unit)}; permitted for {kind}: {', '.join(units)}")
    value = _number("amount", text)
    if not 0 <= value * factor <= most:
        raise ValueError(
            f"amount is {shown(text)}; permitted: 0 to {most / factor:g} {unit or next(iter(units))}"
        )
    return value * factor


def _water_c(kind: str, text: str) -> float:
    if not text:
        return HOT_C if kind == "pour" else TAP_C
    value = _number("water_c", text)
    if not 0 <= value <= 100:
        raise ValueError(f"water_c is {shown(text)}; permitted: 0 to 100 °C")
    return value


def _number(name: str, text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise ValueError(f"{name} is {shown(text)}; permitted: a number")
    return value
