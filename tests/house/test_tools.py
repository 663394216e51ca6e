"""The checkers that read the whole project."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.house.files import ROOT

PROGRAMS = Path(sys.executable).parent
PRODUCTION = {
    "RINKLOG_PRODUCTION": "1",
    "RINKLOG_SECRET_KEY": "Qf3-not-a-real-key-but-long-enough-and-with-many-different-characters-0123456789",
    "RINKLOG_HOSTS": "rink.example",
    "DJANGO_ALLOW_ASYNC_UNSAFE": "",
}


def passes(*command: str, **environ: str) -> None:
    """Run a checker; what it complains of is the failure."""
    ended = subprocess.run(
        [str(PROGRAMS / command[0]), *command[1:]],
        cwd=ROOT,
        env={**os.environ, **environ},
        capture_output=True,
        text=True,
        stdin=subprocess.DEVNULL,
    )
    assert ended.returncode == 0, f"{ended.stdout}\n{ended.stderr}"


def test_ruff_finds_nothing_to_mend() -> None:
    passes("ruff", "check", "--no-cache", ".")


def test_every_file_is_formatted_by_ruff() -> None:
    passes("ruff", "format", "--no-cache", "--check", ".")


@pytest.mark.slow
def test_mypy_agrees_with_every_type() -> None:
    passes("mypy", "rinklog", "manage.py")


def test_imports_only_fall() -> None:
    passes("lint-imports", "--no-cache")


def test_every_model_change_has_its_migration() -> None:
    passes("python", "manage.py", "makemigrations", "--check", "--dry-run")


def test_production_settings_pass_djangos_deployment_check() -> None:
    passes("python", "manage.py", "check", "--deploy", "--fail-level", "WARNING", **PRODUCTION)


def test_production_refuses_to_debug_and_says_so_in_one_sentence() -> None:
    command = [sys.executable, "manage.py", "check"]
    environ = {**os.environ, **PRODUCTION, "RINKLOG_DEBUG": "1"}
    ended = subprocess.run(command, cwd=ROOT, env=environ, capture_output=True, text=True)
    assert ended.returncode == 1
    assert ended.stderr.startswith("rinklog: RINKLOG_DEBUG is 1 while RINKLOG_PRODUCTION is 1")
    assert ended.stderr.count("\n") == 1
