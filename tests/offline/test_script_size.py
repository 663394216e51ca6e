"""Our own scripts stay small enough for a weak signal, and run as they are written."""

import gzip
from pathlib import Path

MOST_BYTES = 25_000


def test_all_our_scripts_together_are_under_25_kb_packed(root: Path) -> None:
    scripts = sorted((root / "static/js").rglob("*.js"))
    assert len(scripts) >= 10
    assert sum(len(gzip.compress(path.read_bytes(), 9)) for path in scripts) < MOST_BYTES
