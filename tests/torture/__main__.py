"""The command line of the torture run."""

import argparse
import asyncio
import random
import shutil
import sys

from tests.torture.deeds import LOGINS
from tests.torture.report import as_json, lines
from tests.torture.run import Plan, torture


def planned(words: list[str]) -> tuple[Plan, bool]:
    """The plan of a command line, and whether to answer in JSON."""
    parser = argparse.ArgumentParser(prog="manage.py torture", description=__doc__)
    for name, usual, told in (
        ("entries", 1000, "entries to write"),
        ("photos", 100, "of them with a photo"),
        ("phones", 5, f"phones, 1 to {len(LOGINS)}"),
        ("kills", 20, "times the site is killed and started again"),
    ):
        parser.add_argument(f"--{name}", type=int, default=usual, help=f"{told} (usually {usual})")
    parser.add_argument("--minutes", type=float, default=90, help="give up after so many (usually 90)")
    parser.add_argument("--seed", type=int, default=None, help="draws everything anew, or the same again")
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args(words)
    if not (
        1 <= asked.phones <= len(LOGINS)
        and 0 <= asked.photos <= asked.entries
        and asked.entries >= asked.phones
    ):
        parser.error(
            f"phones may be 1 to {len(LOGINS)}, entries at least the phones, photos at most the entries"
        )
    seed = random.SystemRandom().randrange(10**6) if asked.seed is None else asked.seed
    plan = Plan(asked.entries, asked.photos, asked.phones, asked.kills, seed, asked.minutes)
    return plan, asked.json


def main() -> int:
    """Run and print; 0 when everything holds."""
    plan, machine = planned(sys.argv[1:])
    if not shutil.which("chromium"):
        print(
            "rinklog: torture needs Chromium; install with:  sudo apt-get install chromium", file=sys.stderr
        )
        return 2
    print(f"rinklog: torture with seed {plan.seed}", file=sys.stderr, flush=True)
    try:
        report = asyncio.run(torture(plan))
    except TimeoutError:
        print(
            f"rinklog: torture did not end within {plan.minutes:g} minutes (seed {plan.seed})",
            file=sys.stderr,
        )
        return 1
    except ExceptionGroup as broken:
        print(f"rinklog: torture broke off: {broken.exceptions} (seed {plan.seed})", file=sys.stderr)
        return 1
    print(as_json(report) if machine else "\n".join(lines(report)))
    return 0 if report.holds else 1


if __name__ == "__main__":
    sys.exit(main())
