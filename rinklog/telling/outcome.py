"""What came of trying to send: the words that mail, push and the sender share."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

HandOver = Callable[[], None]
"""Called just before the first byte that could reach the reader; raises ClaimLost to stop."""


class ClaimLost(Exception):
    """Somebody else has these deliveries by now: do not send."""


class What(StrEnum):
    """How a try ended."""

    SENT = "sent"  # the other side said yes
    LATER = "later"  # certainly not sent; worth another try
    DOWN = "down"  # certainly not sent; nobody else would get through either
    NEVER = "never"  # certainly not sent, and another try would change nothing
    GONE = "gone"  # the device asked no more
    UNWANTED = "unwanted"  # the reader has switched it off meanwhile
    UNKNOWN = "unknown"  # cut off where it may or may not have been sent


@dataclass(frozen=True)
class Outcome:
    """How a try ended, and what the other side said of it."""

    what: What
    detail: str = ""
