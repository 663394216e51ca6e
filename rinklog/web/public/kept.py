"""Pages kept ready for some seconds, so that a crowd on a fine evening costs no more than one reader.

Nobody waits for the database while one is ready. What the crew changes shows when it is rendered anew.
"""

import gzip
import hashlib
import time
from collections.abc import Callable, Hashable
from dataclasses import dataclass

KEEP_S = 5.0
MOST = 200


@dataclass(frozen=True)
class Ready:
    """A rendered page, plain and packed, and the tag that tells one version from the next."""

    plain: bytes
    packed: bytes
    tag: str
    listed: bool
    made_s: float


_ready: dict[Hashable, Ready] = {}


def ready(key: Hashable, render: Callable[[], tuple[str, bool]]) -> Ready:
    """The page of a key, rendered when it is older than KEEP_S; `render` gives the text and whether it is listed."""
    now = time.monotonic()
    page = _ready.get(key)
    if page is None or now - page.made_s >= KEEP_S:
        rendered, listed = render()
        body = rendered.encode()
        tag = hashlib.sha256(body).hexdigest()[:20]
        page = Ready(body, gzip.compress(body, 6, mtime=0), tag, listed, now)
        if len(_ready) >= MOST:
            _ready.clear()
        _ready[key] = page
    return page


def forget() -> None:
    """Render everything anew, as a new process would."""
    _ready.clear()
