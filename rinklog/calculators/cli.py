"""The command `compute`: one calculator a call, a table or JSON out, one line on a bad input."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from typing import Any, TextIO

from rinklog.calculators.declare import Calculator, InputError, Key
from rinklog.calculators.evaluate import Outcome, evaluate
from rinklog.calculators.reading import shown
from rinklog.calculators.registry import CALCULATORS, GROUPS
from rinklog.units import gettext_noop

USAGE = gettext_noop("compute NAME key=value … [--json], or compute --list")


def main(argv: Sequence[str], stdout: TextIO, stderr: TextIO) -> int:
    """Run `compute` with its arguments. Returns: exit status, 0 or 2; on 2 nothing goes to stdout."""
    as_json = "--json" in argv
    words = [word for word in argv if word != "--json"]
    try:
        text = _listing(as_json) if words[:1] in (["--list"], ["--help"]) else _answer(words, as_json)
    except ValueError as error:
        _write(stderr, "compute: " + " ".join(str(error).split()) + "\n")
        return 2
    _write(stdout, text)
    return 0


def _answer(words: Sequence[str], as_json: bool) -> str:
    if not words:
        raise InputError("name", "missing", f"{', '.join(CALCULATORS)}; {USAGE}")
    calculator = CALCULATORS.get(words[0])
    if calculator is None:
        raise InputError("name", shown(words[0]), ", ".join(CALCULATORS))
    outcome = evaluate(calculator, _typed(words[1:]))
    return _json(outcome) if as_json else "\n".join(_table(outcome)) + "\n"


def _typed(words: Sequence[str]) -> dict[str, str]:
    typed: dict[str, str] = {}
    for word in words:
        name, equals, value = word.partition("=")
        if not equals or not name:
            raise InputError("argument", shown(word), "key=value, --json or --list")
        if name in typed:
            raise InputError(shown(name), f"{shown(value)} a second time", "one value")
        typed[name] = value
    return typed


def _json(outcome: Outcome) -> str:
    return (
        json.dumps(
            {
                "name": outcome.calculator.name,
                "inputs": outcome.inputs,
                "results": outcome.results,
                "source": list(outcome.calculator.source),
                "caution": outcome.caution,
            },
            allow_nan=False,
        )
        + "\n"
    )


def _table(outcome: Outcome) -> Iterator[str]:
    calculator = outcome.calculator
    yield f"{calculator.name}: {calculator.title}"
    for key in calculator.keys:
        if key.name in outcome.inputs:
            yield _row(key.name, outcome.inputs[key.name], key.unit, key.sentence)
    yield "results"
    for result in calculator.results:
        value = outcome.results.get(result.name)
        if result.name == "groups":
            yield from _groups(outcome.results["groups"])
        elif result.name in outcome.results:
            yield _row(result.name, value, result.unit, result.sentence)
    yield f"formula: {calculator.formula}"
    yield f"source: {'; '.join(calculator.source)}"
    yield f"validity: {calculator.validity}"
    if outcome.caution:
        yield f"caution: {outcome.caution}"


def _row(name: str, value: Any, unit: str, sentence: str) -> str:
    return f"  {name:<26} {_number(value) + ' ' + unit:<24} {sentence}".rstrip()


def _number(value: Any) -> str:
    if value is None:
        return "none"
    if isinstance(value, list):
        return ", ".join(_number(item) for item in value)
    return f"{value:.6g}" if isinstance(value, float) else str(value)


def _groups(groups: list[dict[str, Any]]) -> Iterator[str]:
    for group in groups:
        yield f"  group {group['group'] or 'all'}: median {_number(group['median_days'])} d"
        yield "    time  at_risk  failed  survival  standard_error"
        for row in group["table"]:
            yield (
                f"    {row['time']:<6g}{row['at_risk']:<9}{row['failed']:<8}"
                f"{row['survival']:<10.4f}{row['standard_error']:.4f}"
            )


def _listing(as_json: bool) -> str:
    if as_json:
        described = [_described(c) for group in GROUPS for c in group.calculators]
        return json.dumps(described, allow_nan=False) + "\n"
    lines: list[str] = []
    for group in GROUPS:
        lines.append(group.title)
        for calculator in group.calculators:
            lines.extend(_listed(calculator))
    return "\n".join(lines) + "\n"


def _listed(calculator: Calculator) -> Iterator[str]:
    yield f"  {calculator.name}: {calculator.title}"
    for key in calculator.keys:
        yield f"    {key.name:<22} {_need(calculator, key):<12} {key.permitted} ({key.sentence})"
    if calculator.ways:
        joint = " and/or " if calculator.several else " or "
        yield f"    give {joint.join(' with '.join(way) for way in calculator.ways)}"
    results = ", ".join(f"{r.name} [{r.unit}]" if r.unit else r.name for r in calculator.results)
    yield f"    gives {results}"
    yield f"    validity: {calculator.validity}"
    yield f"    source: {'; '.join(calculator.source)}"


def _need(calculator: Calculator, key: Key) -> str:
    if key.default is not None:
        return f"= {key.default:g}" if isinstance(key.default, (int, float)) else f"= {key.default}"
    return "optional" if key.optional or key.name in calculator.way_keys else "required"


def _described(calculator: Calculator) -> dict[str, Any]:
    return {
        "name": calculator.name,
        "keys": [
            {
                "name": k.name,
                "unit": k.unit,
                "default": k.default,
                "permitted": k.permitted,
                "about": k.sentence,
            }
            for k in calculator.keys
        ],
        "results": [{"name": r.name, "unit": r.unit, "about": r.sentence} for r in calculator.results],
        "validity": calculator.validity,
        "source": list(calculator.source),
        "caution": calculator.caution,
    }


def _write(stream: TextIO, text: str) -> None:
    """Write, replacing what the terminal's encoding does not have."""
    encoding = getattr(stream, "encoding", None) or "utf-8"
    stream.write(text.encode(encoding, "replace").decode(encoding))
