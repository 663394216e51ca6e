"""Counting tries at the doors of crew/doors.py by the address they come from."""

import ipaddress
from collections.abc import Callable
from typing import TypeVar

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.translation import ngettext

from rinklog.crew.doors import Door, TooManyTries, came_in, knock
from rinklog.web.errors import page

T = TypeVar("T")


def address_of(request: HttpRequest) -> str:
    """Whom to count for: the address, or the network of an IPv6 one, since a phone owns all of that.

    Behind our own proxy it is the last one the proxy wrote; what stands before it anybody could have made up.
    """
    written = request.META.get("HTTP_X_FORWARDED_FOR", "") if settings.BEHIND_PROXY else ""
    text = written.rsplit(",", 1)[-1].strip() or request.META.get("REMOTE_ADDR", "")
    try:
        address = ipaddress.ip_address(text)
    except ValueError:
        return text
    if isinstance(address, ipaddress.IPv6Address) and not address.ipv4_mapped:
        return str(ipaddress.ip_network((address, 64), strict=False))
    return str(getattr(address, "ipv4_mapped", None) or address)


def look_up(request: HttpRequest, door: Door, find: Callable[[], T | None]) -> T | None:
    """Find something behind a link or a code; a miss counts as a try. Raises TooManyTries."""
    attempt = knock(door=door, who=address_of(request), now=timezone.now())
    found = find()
    if found is not None:
        came_in(attempt)
    return found


def shut_sentence(shut: TooManyTries) -> str:
    """When the door opens again."""
    return ngettext(
        "Too many tries from here. Try again in %(n)d minute.",
        "Too many tries from here. Try again in %(n)d minutes.",
        shut.minutes,
    ) % {"n": shut.minutes}


def shut_page(request: HttpRequest, shut: TooManyTries) -> HttpResponse:
    """429: the door is shut for the moment."""
    response = page(request, 429, shut_sentence(shut))
    response.headers["Retry-After"] = str(shut.minutes * 60)
    return response
