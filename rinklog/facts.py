"""What every recorded fact shares: how a repeated post is told from another one, and what services raise."""

import datetime as dt
import hashlib
import json
from typing import Any
from uuid import UUID


class Refused(Exception):
    """The content cannot be recorded as it is; nothing was written. `field` is the one the sentence is about."""

    def __init__(self, field: str, sentence: Any) -> None:
        super().__init__(str(sentence))
        self.field = field
        self.sentence = sentence


class Conflict(Exception):
    """Something else is already recorded here; neither text is lost."""

    def __init__(self, existing: Any) -> None:
        super().__init__("conflict")
        self.existing = existing


def fingerprint_of(content: dict[str, Any]) -> str:
    """SHA-256 of a content dictionary, whatever the order of its keys."""
    return hashlib.sha256(json.dumps(_plain(content), sort_keys=True).encode()).hexdigest()


def _plain(value: Any) -> Any:
    """Reduce to JSON values: times in UTC, days and ids as text, keys as text; the caller sorts sets of ids."""
    if isinstance(value, dict):
        return {str(key): _plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(item) for item in value]
    if isinstance(value, dt.datetime):
        return value.astimezone(dt.UTC).isoformat()
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, UUID):
        return str(value)
    return value
