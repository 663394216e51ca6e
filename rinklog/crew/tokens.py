"""Links and codes that let people in: made from the site's secret key, kept only as hashes.

A token is derived from the id of its row, so a keeper can look at an unused link again although the database does not
hold it; the database alone opens nothing.
"""

import base64
from uuid import UUID

from django.utils.crypto import constant_time_compare, salted_hmac

# 32 characters that are not mistaken for one another when read out or written on a board: no I, O, 0, 1.
LETTERS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
CODE_LENGTH = 8


def token_of(id: UUID) -> str:
    """The token of a row: 32 characters for a link."""
    return base64.urlsafe_b64encode(_digest("token", str(id))[:24]).decode()


def code_of(id: UUID) -> str:
    """The short code of a row, as it is read out: ABCD-EFGH (40 bits, so guessing must be slowed down)."""
    picked = "".join(LETTERS[byte % 32] for byte in _digest("code", str(id))[:CODE_LENGTH])
    return f"{picked[:4]}-{picked[4:]}"


def hash_of(secret: str) -> str:
    """The form in which a token or a code is kept."""
    return _digest("kept", secret).hex()


def typed_code(text: str) -> str:
    """A code as somebody typed it, brought to the form in which it was read out."""
    kept = "".join(letter for letter in text.upper() if letter.isalnum())
    return f"{kept[:4]}-{kept[4:]}"


def matches(secret: str, kept_hash: str) -> bool:
    """Whether a derived secret is still the one whose hash is kept: not after the secret key was changed."""
    return constant_time_compare(hash_of(secret), kept_hash)


def _digest(what: str, text: str) -> bytes:
    return salted_hmac(f"rinklog.crew.{what}", text, algorithm="sha256").digest()
