"""The small torture run: a bad connection, a killed site and closed tabs lose nothing, double nothing, alter nothing."""

import json
import subprocess
import sys
from pathlib import Path

import pytest


@pytest.mark.browser
@pytest.mark.servers
@pytest.mark.slow
@pytest.mark.timeout(900)
def test_what_is_written_on_a_terrible_connection_is_there_once_and_unaltered(root: Path) -> None:
    words = ["--entries", "12", "--photos", "2", "--phones", "2", "--kills", "1", "--seed", "11", "--json"]
    command = [sys.executable, "manage.py", "torture", *words, "--minutes", "14"]
    ended = subprocess.run(command, cwd=root, capture_output=True, text=True, timeout=880)
    assert ended.returncode == 0, ended.stdout + ended.stderr
    report = json.loads(ended.stdout)
    assert (report["verdict"]["entries"], report["verdict"]["photos"], report["kills"]) == (12, 2, 1)
    assert report["left"] == []
    assert sum(count for fate, count in report["fates"].items() if fate not in ("passed", "in calm")) > 0
