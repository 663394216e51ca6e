"""The secret key: from the environment, or generated once and kept beside the database."""

import os
import secrets
from collections.abc import Mapping
from pathlib import Path

from django.core.exceptions import ImproperlyConfigured


def secret_key(data_dir: Path, environ: Mapping[str, str], *, production: bool) -> str:
    """Return the site's secret key; in production it is never invented silently."""
    if key := environ.get("RINKLOG_SECRET_KEY", ""):
        return key
    path = data_dir / "secret-key"
    if path.exists():
        return path.read_text().strip()
    if production:
        raise ImproperlyConfigured(
            f"RINKLOG_SECRET_KEY is empty and {path} does not exist; in production set one of them."
        )
    return _make(path)


def _make(path: Path) -> str:
    """Create the key file once, even when two processes start at the same moment."""
    path.parent.mkdir(parents=True, exist_ok=True)
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return path.read_text().strip()
    with os.fdopen(handle, "w") as file:
        file.write(secrets.token_urlsafe(50))
    return path.read_text().strip()
