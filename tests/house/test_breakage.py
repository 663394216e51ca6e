"""The tests notice when the program is wrong: each row of breakages.py is applied to a copy, and its test must fail."""

import os
import shutil
import subprocess
import sys
from importlib.util import cache_from_source
from pathlib import Path

import pytest

from tests.house.breakages import BREAKAGES, Breakage
from tests.house.files import ROOT, every_file

FAILED = 1  # pytest's own status for "ran, and some failed"; a missing test or a broken import gives another


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The whole project, to be broken without harm."""
    folder = tmp_path_factory.mktemp("broken")
    for name in every_file():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(ROOT / name, folder / name)
    subprocess.run(
        ["git", "init", "-q"], cwd=folder, check=True
    )  # the house rules ask git which files are ours
    subprocess.run([sys.executable, "-m", "compileall", "-q", "rinklog", "tests"], cwd=folder, check=True)
    return folder


@pytest.mark.parametrize(
    "row", BREAKAGES, ids=lambda row: f"{Path(row.file).stem}-{row.test.rpartition('::')[2]}"
)
def test_a_broken_rule_is_noticed(copy: Path, row: Breakage) -> None:
    file = copy / row.file
    whole = file.read_text()
    assert whole.count(row.was) == 1, f"{row.was!r} stands {whole.count(row.was)} times in {row.file}"
    # Compiled code is told by the second and the size: a breakage of the same length would not be seen.
    Path(cache_from_source(str(file))).unlink(missing_ok=True)
    file.write_text(whole.replace(row.was, row.broken))
    try:
        ended = run(copy, row.test)
    finally:
        file.write_text(whole)
    assert ended.returncode == FAILED, ended.stdout[-3000:] + ended.stderr[-1000:]
    assert "SyntaxError" not in ended.stdout
    assert "ImportError" not in ended.stdout


def run(folder: Path, *tests: str) -> "subprocess.CompletedProcess[str]":
    """Run tests in the copy, without what only costs time in hundreds of short runs.

    Tables are made straight from the models (all migrations take three times as long), asserts stay as they are
    written, and Hypothesis, which its plugin imports in any case, comes only to tests that use it.
    """
    environ = {**os.environ, "RINKLOG_DATA": str(folder / ".data"), "PYTHONDONTWRITEBYTECODE": "1"}
    quick = ["-q", "-x", "--nomigrations", "--assert=plain"]
    without = [f"-pno:{plugin}" for plugin in ("cacheprovider", "randomly", "xdist", "hypothesispytest")]
    command = [sys.executable, "-m", "pytest", *tests, *quick, *without]
    return subprocess.run(command, cwd=folder, env=environ, capture_output=True, text=True, timeout=600)


def test_every_row_s_test_passes_when_nothing_is_broken(copy: Path) -> None:
    """Otherwise a row would fail for another reason than its breakage."""
    ended = run(copy, *sorted({row.test for row in BREAKAGES}))
    assert ended.returncode == 0, ended.stdout[-3000:] + ended.stderr[-1000:]


def test_there_are_enough_breakages_to_trust_the_tests() -> None:
    assert len({(row.file, row.was) for row in BREAKAGES}) >= 20


@pytest.mark.parametrize("row", BREAKAGES, ids=lambda row: row.test.rpartition("::")[2])
def test_every_row_names_a_snippet_and_a_test_that_exist(row: Breakage) -> None:
    assert (ROOT / row.file).read_text().count(row.was) == 1
    file, _, name = row.test.partition("::")
    assert f"def {name.partition('[')[0]}(" in (ROOT / file).read_text() or not name
