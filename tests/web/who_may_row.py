"""One row of the table of who may open what."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from tests.support.cast import Cast

ANYBODY = "anybody"
SIGNED_IN = "signed-in"
KEEPER_SOMEWHERE = "keeper-somewhere"  # keeps a rink of this site, whichever
Kwargs = Callable[[Cast], dict[str, Any]]


def nothing(cast: Cast) -> dict[str, Any]:
    """An address with nothing but the slug in it."""
    return {}


@dataclass(frozen=True)
class Row:
    """What an address needs, what else stands in it, and what a GET by somebody who may answers."""

    needs: str
    kwargs: Kwargs = nothing
    get: int = 200
