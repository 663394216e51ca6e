"""The secret key is made once, whole, and never invented in production."""

import stat
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.exceptions import ImproperlyConfigured

from rinklog.site_key import secret_key


def test_a_key_is_made_once_and_kept(tmp_path: Path) -> None:
    key = secret_key(tmp_path / "new", {}, production=False)
    assert len(key) >= 50
    assert secret_key(tmp_path / "new", {}, production=False) == key
    assert secret_key(tmp_path / "new", {}, production=True) == key


def test_only_its_owner_reads_it_and_no_draft_is_left(tmp_path: Path) -> None:
    secret_key(tmp_path, {}, production=False)
    assert [path.name for path in tmp_path.iterdir()] == ["secret-key"]
    assert stat.S_IMODE((tmp_path / "secret-key").stat().st_mode) == 0o600


def test_the_environment_wins(tmp_path: Path) -> None:
    assert secret_key(tmp_path, {"RINKLOG_SECRET_KEY": "given"}, production=True) == "given"
    assert list(tmp_path.iterdir()) == []


def test_production_never_invents_one(tmp_path: Path) -> None:
    with pytest.raises(ImproperlyConfigured, match="RINKLOG_SECRET_KEY is empty"):
        secret_key(tmp_path, {}, production=True)
    assert list(tmp_path.iterdir()) == []


def test_many_first_starts_agree_on_one_key(tmp_path: Path, root: Path) -> None:
    program = (
        "from pathlib import Path; from rinklog.site_key import secret_key; "
        f"print(secret_key(Path({str(tmp_path / 'new')!r}), {{}}, production=False))"
    )
    started = [
        subprocess.Popen([sys.executable, "-c", program], cwd=root, stdout=subprocess.PIPE, text=True)
        for _ in range(6)
    ]
    assert len({process.communicate(timeout=60)[0] for process in started}) == 1
