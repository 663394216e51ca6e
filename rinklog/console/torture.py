"""`manage.py torture`: the outbox against the worst connection, from the tests' own folder; see tests/torture."""

import os
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from importlib.util import find_spec
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def run(arguments: Sequence[str]) -> int:
    """Run the torture in a process and a folder of its own; its exit status, or 2 when something for it is missing."""
    if not (ROOT / "tests/torture").is_dir() or find_spec("playwright") is None:
        print(
            "rinklog: torture drives a real browser; it needs the tests folder and the packages of "
            "tests/requirements.txt (`manage.py test` installs them)",
            file=sys.stderr,
        )
        return 2
    with tempfile.TemporaryDirectory(prefix="rinklog-torture-") as data:
        environ = {**os.environ, "RINKLOG_DATA": data, "DATABASE_URL": "", "CELERY_BROKER_URL": ""}
        return subprocess.call([sys.executable, "-m", "tests.torture", *arguments], cwd=ROOT, env=environ)
