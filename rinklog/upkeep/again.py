"""The retry policy of every task that has no reason for another one."""

from typing import Any

from django.db import OperationalError

AGAIN: dict[str, Any] = {
    "autoretry_for": (OperationalError,),
    "retry_backoff": 5,
    "retry_backoff_max": 30,
    "max_retries": 3,
}
"""A database that is busy is asked again three times within a minute; after that the next sweep does it. Any other
fault is written down at once, and tried again by the next sweep or by the keeper."""
