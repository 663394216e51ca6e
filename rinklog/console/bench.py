"""`manage.py bench`: run comparisons one by one, each in a process and a folder of its own, and print the rows."""

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
LONGEST_S = 900
HEAD = ("name", "ours", "against", "unit", "ratio", "limit", "holds", "note")


def run(arguments: Sequence[str]) -> int:
    """Run the comparisons named, or all; returns 1 when one does not hold, 2 when the words are wrong."""
    names = [word for word in arguments if word != "--json"]
    if wrong := [word for word in names if word.startswith("-")]:
        print(f"rinklog: bench knows no {wrong[0]!r}; permitted are names and --json", file=sys.stderr)
        return 2
    as_json = "--json" in arguments
    rows = []
    for name in names or one("--list"):
        print(f"rinklog: measuring {name}", file=sys.stderr, flush=True)
        rows.append(one(name))
        if not as_json:
            print(line(rows[-1]), flush=True)
    if as_json:
        print(json.dumps(rows, indent=1))
    return 0 if all(row["holds"] for row in rows) else 1


def one(name: str) -> Any:
    """Run one comparison; a run that dies or never ends gives a row that does not hold."""
    command = [sys.executable, "-m", "tests.bench.one", name]
    with tempfile.TemporaryDirectory(prefix="rinklog-bench-") as data:
        environ = {**os.environ, "RINKLOG_DATA": data, "DATABASE_URL": "", "CELERY_BROKER_URL": ""}
        try:
            ended = subprocess.run(command, cwd=ROOT, env=environ, stdout=subprocess.PIPE, timeout=LONGEST_S)
            return json.loads(ended.stdout)
        except (subprocess.TimeoutExpired, json.JSONDecodeError) as error:
            return dict.fromkeys(HEAD) | {
                "name": name,
                "holds": False,
                "note": f"no answer: {type(error).__name__}",
            }


def line(row: dict[str, Any]) -> str:
    """A row as a person reads it."""
    verdict = "holds" if row["holds"] else "DOES NOT HOLD"
    if row["ours"] is None:
        return f"{row['name']:<20} {verdict}: {row['note']}"
    figures = f"{row['ours']:.4g} against {row['against']:.4g} {row['unit']}"
    ratio = f"ratio {row['ratio']:.3g} ({row['limit']})"
    return f"{row['name']:<20} {figures:<36} {ratio:<28} {verdict}  {row['note']}".rstrip()
