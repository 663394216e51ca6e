"""Reading the site's own state."""

import hashlib
from datetime import datetime, timedelta

from rinklog.upkeep.models import Claim, Heartbeat

CLAIM_LIVES = timedelta(days=7)
HEART_STOPS_AFTER = timedelta(seconds=75)


def hash_of(token: str) -> str:
    """The form in which a token is kept: a long random token needs no salt."""
    return hashlib.sha256(token.encode()).hexdigest()


def open_claim(*, token: str, now: datetime) -> Claim | None:
    """The unused claim that a token opens, or None."""
    return Claim.objects.filter(
        token_hash=hash_of(token), used_at=None, created_at__gt=now - CLAIM_LIVES
    ).first()


def is_beating(*, name: str, now: datetime) -> bool:
    """Whether a part of the site showed itself lately."""
    return Heartbeat.objects.filter(name=name, at__gt=now - HEART_STOPS_AFTER).exists()
