"""What every page needs."""

from typing import Any

from django.http import HttpRequest

from rinklog.crew.rights import Right
from rinklog.web.looks import look_of


def page(request: HttpRequest) -> dict[str, Any]:
    """The rink the page stands on, and what the person may do there."""
    at = getattr(request, "at", None)
    return {
        "at": at,
        "can": {right.name.lower(): at.may(right) for right in Right} if at else {},
        "look": look_of(request),
    }
