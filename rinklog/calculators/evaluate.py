"""Run a calculator: settle which way it was asked, fill in defaults, compute once or once a list element."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

import numpy as np

from rinklog.calculators.declare import Calculator, InputError, Key, Results
from rinklog.calculators.reading import read_value, shown
from rinklog.physics.validity import NotApplicableError, OutOfRangeError

MOST_ELEMENTS = 100_000


@dataclass(frozen=True)
class Outcome:
    """What was asked with every default used, what came out, and the caution that goes with it."""

    calculator: Calculator
    inputs: dict[str, Any]
    results: Results
    caution: str | None


def evaluate(calculator: Calculator, typed: Mapping[str, str]) -> Outcome:
    """Read typed values and compute.

    Arguments: calculator, typed by key. Returns: Outcome. Errors: InputError.
    """
    names = ", ".join(key.name for key in calculator.keys)
    values: dict[str, Any] = {}
    for name, text in typed.items():
        key = calculator.key(name)
        if key is None:
            raise InputError("key", shown(name), names)
        values[name] = read_value(key, text)
    outcome = compute(calculator, values)
    echoed = {
        name: typed[name] if name in typed and not isinstance(value, (int, float, list)) else value
        for name, value in outcome.inputs.items()
    }
    for key in calculator.keys:
        if key.kind in ("grid", "spells") and key.name in typed:
            echoed[key.name] = typed[key.name]
    return Outcome(calculator, echoed, outcome.results, outcome.caution)


def compute(calculator: Calculator, given: Mapping[str, Any]) -> Outcome:
    """Compute from values already read; a list for a number key gives lists of results.

    Arguments: calculator, given values by key. Returns: Outcome. Errors: InputError.
    """
    inputs = _complete(calculator, given)
    count = _elements(calculator, inputs)
    if count is None:
        results = _run(calculator, inputs)
    else:
        each = [_run(calculator, _element(calculator, inputs, i)) for i in range(count)]
        results = {name: [one[name] for one in each] for name in each[0]}
    cautions = [calculator.caution, calculator.warn(inputs, results) if calculator.warn else None]
    caution = " ".join(text for text in cautions if text) or None
    return Outcome(calculator, inputs, results, caution)


def _complete(calculator: Calculator, given: Mapping[str, Any]) -> dict[str, Any]:
    """The given values and the defaults that apply, in the order of the keys."""
    _settle_way(calculator, given)
    inputs: dict[str, Any] = {}
    for key in calculator.keys:
        applies = not key.goes_with or any(name in given for name in key.goes_with)
        if key.name in given:
            if not applies:
                partners = " or ".join(key.goes_with)
                raise InputError(key.name, "given alone", f"only together with {partners}")
            inputs[key.name] = given[key.name]
        elif key.default is not None and applies:
            inputs[key.name] = key.default
        elif key.default is None and not key.optional and key.name not in calculator.way_keys:
            raise InputError(key.name, "missing", key.permitted)
    return inputs


def _settle_way(calculator: Calculator, given: Mapping[str, Any]) -> None:
    """See that the keys given make one way of asking, or several where that is allowed."""
    if not calculator.ways:
        return
    whole = [way for way in calculator.ways if all(name in given for name in way)]
    used = [name for name in given if name in calculator.way_keys]
    ways = " or ".join(" with ".join(way) for way in calculator.ways)
    if not whole:
        raise InputError(_first_missing(calculator, used), "missing", ways)
    kept = {name for way in (whole if calculator.several else whole[:1]) for name in way}
    for name in used:
        if name not in kept:
            raise InputError(name, "given as well", f"one of {ways}" if not calculator.several else ways)


def _first_missing(calculator: Calculator, used: list[str]) -> str:
    """The key to ask for: of the way that most of the given keys belong to."""
    best = max(calculator.ways, key=lambda way: (sum(name in used for name in way), -len(way)))
    return next(name for name in best if name not in used)


def _elements(calculator: Calculator, inputs: Mapping[str, Any]) -> int | None:
    """How many list elements there are; None when every number is a single one."""
    count, first = None, ""
    for name, value in inputs.items():
        if not _is_list(calculator.key(name), value):
            continue
        if count is not None and len(value) != count:
            raise InputError(name, f"a list of {len(value)}", f"a list of {count}, as {first}, or one number")
        if not 1 <= len(value) <= MOST_ELEMENTS:
            raise InputError(name, f"a list of {len(value)}", f"1 to {MOST_ELEMENTS} numbers")
        count, first = len(value), name
    return count


def _is_list(key: Key | None, value: Any) -> bool:
    return key is not None and key.kind == "number" and isinstance(value, list)


def _element(calculator: Calculator, inputs: Mapping[str, Any], at: int) -> dict[str, Any]:
    return {
        name: value[at] if _is_list(calculator.key(name), value) else value for name, value in inputs.items()
    }


def _run(calculator: Calculator, inputs: Mapping[str, Any]) -> Results:
    for key in calculator.keys:
        value = inputs.get(key.name)
        if key.kind == "number" and value is not None and not key.allows(value):
            raise InputError(key.name, f"{value:g}", key.permitted)
    try:
        with np.errstate(all="ignore"):
            return {name: _plain(value) for name, value in calculator.run(**inputs).items()}
    except (OutOfRangeError, NotApplicableError) as error:
        if isinstance(error, OutOfRangeError):
            raise InputError(
                error.name, f"{error.value:g}", str(error).split("permitted: ")[1][:-1]
            ) from None
        raise
    except ArithmeticError:
        raise InputError(
            calculator.keys[0].name, "too extreme with the others", "values nearer the usual"
        ) from None


def _plain(value: Any) -> Any:
    """Python's own numbers, None for what is not finite, for JSON."""
    if isinstance(value, (list, tuple)):
        return [_plain(item) for item in value]
    if isinstance(value, (np.ndarray, np.generic)):
        return _plain(value.tolist())
    if isinstance(value, dict):
        return {name: _plain(item) for name, item in value.items()}
    if isinstance(value, datetime):
        return value.isoformat()
    return None if isinstance(value, float) and not math.isfinite(value) else value
