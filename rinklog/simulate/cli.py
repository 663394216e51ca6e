"""The command `simulate`: rows out as CSV or JSON, all or nothing; warnings and gaps on stderr."""

from __future__ import annotations

import argparse
import csv
import json
import os
from collections.abc import Sequence
from pathlib import Path
from typing import TextIO

from rinklog.physics.validity import OutOfRangeError
from rinklog.simulate.action_file import read_actions
from rinklog.simulate.csv_file import FileError
from rinklog.simulate.options import OptionError, parser, read_options
from rinklog.simulate.run import COLUMNS, simulate
from rinklog.simulate.weather_file import Gap, read_weather

Rows = list[dict[str, str | float]]


def main(argv: Sequence[str], stdout: TextIO, stderr: TextIO) -> int:
    """Run `simulate` with its arguments. Returns: exit status, 0 or 2; on 2 nothing goes to stdout."""
    if "--help" in argv or "-h" in argv:
        stdout.write(parser().format_help())
        return 0
    try:
        options = read_options(argv)
        weather = read_weather(options.weather)
        end_s = float(weather.unix_s[-1] + weather.hold_s[-1])
        actions = [] if options.actions is None else read_actions(options.actions, weather.unix_s[0], end_s)
        rows, warnings = simulate(weather, actions, options)
        _tell(stderr, [*(f"gap: {gap.sentence()}; bridged" for gap in weather.gaps), *warnings])
        _put(rows, weather.gaps, options, stdout)
    except (OptionError, FileError, OutOfRangeError) as error:
        _tell(stderr, str(error).splitlines())
        return 2
    except OSError as error:
        _tell(stderr, [f"{error.filename}: cannot be written ({error.strerror})"])
        return 2
    return 0


def _tell(stream: TextIO, sentences: Sequence[str]) -> None:
    encoding = getattr(stream, "encoding", None) or "utf-8"
    for sentence in sentences:
        stream.write(f"simulate: {sentence}\n".encode(encoding, "replace").decode(encoding))


def _put(rows: Rows, gaps: list[Gap], options: argparse.Namespace, stdout: TextIO) -> None:
    if options.json:
        inputs = {name: str(v) if isinstance(v, Path) else v for name, v in vars(options).items()}
        inputs = {name: value for name, value in inputs.items() if name not in ("json", "csv")}
        found = [{"column": g.column, "first_missing": g.first_missing, "hours": g.hours} for g in gaps]
        stdout.write(json.dumps({"inputs": inputs, "rows": rows, "gaps": found}, allow_nan=False) + "\n")
    elif options.csv is None:
        _write_csv(rows, stdout)
    else:
        part = options.csv.with_name(options.csv.name + ".part")
        with part.open("w", encoding="utf-8", newline="") as file:
            _write_csv(rows, file)
        os.replace(part, options.csv)


def _write_csv(rows: Rows, file: TextIO) -> None:
    writer = csv.DictWriter(file, COLUMNS, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
