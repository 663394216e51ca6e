"""Style sheets, scripts and pictures, hashed and compressed beside the database; only when they changed."""

import hashlib
from pathlib import Path

from django.contrib.staticfiles.finders import get_finders
from django.contrib.staticfiles.management.commands.collectstatic import Command as CollectStatic
from django.core.management import call_command
from whitenoise.storage import CompressedManifestStaticFilesStorage


def collect_static(root: Path, stamp: Path) -> bool:
    """Collect into `root` unless `stamp` says these very files are there; returns whether it did."""
    print_now = fingerprint()
    if stamp.exists() and stamp.read_text() == print_now and (root / "staticfiles.json").exists():
        return False
    collect = CollectStatic()
    collect.storage = CompressedManifestStaticFilesStorage(location=root)
    call_command(collect, interactive=False, verbosity=0)
    stamp.write_text(print_now)
    return True


def fingerprint() -> str:
    """A digest over the name and content of every static file."""
    digest = hashlib.sha256()
    for finder in get_finders():
        for name, storage in sorted(finder.list([]), key=lambda found: found[0]):
            with storage.open(name) as file:
                digest.update(name.encode() + b"\0" + hashlib.sha256(file.read()).digest())
    return digest.hexdigest()
