"""Run one comparison in a process of its own and print its row as JSON: `python -m tests.bench.one NAME`.

RINKLOG_DATA points to a folder that is thrown away; a comparison that needs tables calls `database()` first.
"""

import json
import os
import sys
from contextlib import redirect_stdout
from dataclasses import asdict
from importlib import import_module
from pathlib import Path

from tests.bench.measure import COMPARISONS, Row, missing


def load() -> None:
    """Import every file of comparisons."""
    for path in sorted(Path(__file__).parent.glob("compare_*.py")):
        import_module(f"tests.bench.{path.stem}")


def database() -> None:
    """Set Django up on the empty database of this run."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "rinklog.settings")
    import django
    from django.core.management import call_command

    django.setup()
    call_command("migrate", interactive=False, verbosity=0)


def measured(name: str) -> Row:
    """The row of a comparison, whatever happens to it."""
    if name not in COMPARISONS:
        return missing(name, "no comparison of that name yet")
    try:
        return COMPARISONS[name]()
    except ImportError as error:
        return missing(name, f"a part is missing: {error}")
    except Exception as error:
        return missing(name, f"it broke: {type(error).__name__}: {error}")


if __name__ == "__main__":
    with redirect_stdout(sys.stderr):
        load()
        answer = sorted(COMPARISONS) if sys.argv[1] == "--list" else asdict(measured(sys.argv[1]))
    print(json.dumps(answer))
