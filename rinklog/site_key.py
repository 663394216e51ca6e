"""The secret key: from the environment, or generated once and kept beside the database."""

import os
import secrets
from collections.abc import Mapping
from pathlib import Path
from tempfile import NamedTemporaryFile

from django.core.exceptions import ImproperlyConfigured


def secret_key(data_dir: Path, environ: Mapping[str, str], *, production: bool) -> str:
    """Return the site's secret key; in production it is never invented silently."""
    if key := environ.get("RINKLOG_SECRET_KEY", ""):
        return key
    path = data_dir / "secret-key"
    if not path.exists():
        if production:
            raise ImproperlyConfigured(
                f"RINKLOG_SECRET_KEY is empty and {path} does not exist; in production set one of them."
            )
        _make(path)
    return path.read_text().strip()


def _make(path: Path) -> None:
    """Put a whole key file in place; of two processes at the same moment, the first one's key stays."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with NamedTemporaryFile(
        "w", dir=path.parent, prefix="secret-key-"
    ) as draft:  # readable by its owner only
        draft.write(secrets.token_urlsafe(50))
        draft.flush()
        try:
            os.link(draft.name, path)
        except FileExistsError:
            return
