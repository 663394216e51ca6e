"""Hazards put up at the same moment get numbers without gap or double, on SQLite and on PostgreSQL."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.support.hazard_race import EACH

WRITERS = 4
pytestmark = pytest.mark.servers


def run(deed: str, environ: dict[str, str]) -> "subprocess.Popen[str]":
    command = [sys.executable, "-m", "tests.support.hazard_race", deed]
    return subprocess.Popen(
        command, env=os.environ | environ, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )


def said(process: "subprocess.Popen[str]") -> str:
    out, complained = process.communicate(timeout=120)
    assert process.returncode == 0, complained
    return out


def race(environ: dict[str, str]) -> list[int]:
    said(run("prepare", environ))
    for writer in [run("write", environ) for _ in range(WRITERS)]:
        said(writer)
    return [int(number) for number in said(run("numbers", environ)).split()]


def test_numbers_have_no_gap_and_no_double_on_sqlite(tmp_path: Path) -> None:
    assert race({"RINKLOG_DATA": str(tmp_path)}) == list(range(1, WRITERS * EACH + EACH + 1))


def test_numbers_have_no_gap_and_no_double_on_postgresql(tmp_path: Path, postgres_server: str) -> None:
    environ = {"RINKLOG_DATA": str(tmp_path), "DATABASE_URL": postgres_server}
    assert race(environ) == list(range(1, WRITERS * EACH + EACH + 1))
