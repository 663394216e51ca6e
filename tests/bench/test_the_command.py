"""What `bench` prints and how it ends; what it measures is not a timed test."""

import json
import subprocess
import sys
from pathlib import Path

from tests.bench.measure import alternate, at_least, at_most, missing


def bench(root: Path, *words: str) -> "subprocess.CompletedProcess[str]":
    """Run the command."""
    command = [sys.executable, "manage.py", "bench", *words]
    return subprocess.run(command, cwd=root, capture_output=True, text=True, timeout=120)


def test_a_comparison_whose_parts_are_missing_says_so_and_does_not_hold(root: Path) -> None:
    ended = bench(root, "no-such-thing", "--json")
    assert ended.returncode == 1
    (row,) = json.loads(ended.stdout)
    assert set(row) == {"name", "ours", "against", "unit", "ratio", "limit", "holds", "note"}
    assert (row["name"], row["holds"], row["ours"]) == ("no-such-thing", False, None)
    assert "no comparison of that name" in row["note"]


def test_an_unknown_option_is_one_sentence(root: Path) -> None:
    ended = bench(root, "--fast")
    assert (ended.returncode, ended.stdout) == (2, "")
    assert ended.stderr == "rinklog: bench knows no '--fast'; permitted are names and --json\n"


def test_limits_are_kept_on_the_right_side() -> None:
    assert at_most("n", 2.0, 1.0, times=2, unit="s").holds
    assert not at_most("n", 2.1, 1.0, times=2, unit="s").holds
    assert at_least("n", 0.5, 1.0, times=0.5, unit="s").holds
    assert not at_least("n", 0.49, 1.0, times=0.5, unit="s").holds
    assert not at_most("n", 1.0, 1.0, times=2, unit="s", also=False).holds
    assert not missing("n", "why").holds


def test_both_sides_are_called_as_often_and_take_turns() -> None:
    called: list[str] = []
    alternate(lambda: called.append("ours"), lambda: called.append("against"), rounds=4, warm=0)
    assert called == ["against", "ours", "ours", "against", "against", "ours", "ours", "against"]


def test_the_other_side_of_every_comparison_stays_short_enough_to_be_swapped(root: Path) -> None:
    long = {
        path.name: lines
        for path in (root / "tests/bench/against").glob("*.py")
        if (lines := len(path.read_text().splitlines())) > 40
    }
    assert long == {}
