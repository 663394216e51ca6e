"""How this device looks: its own light and dark by itself, or one that was chosen for the dark or for the sun.

It belongs to the device and the place, not to the person: a cookie keeps it, also for a phone that is lent.
"""

from django.http import HttpRequest
from django.utils.translation import gettext_lazy as lazy

from rinklog.web.middleware import is_public

COOKIE = "rinklog-look"
KEPT_S = 365 * 24 * 3600
LOOKS = {
    "": (lazy("By itself"), lazy("light or dark, as the phone is set")),
    "light": (lazy("Light"), lazy("white boards, also at night")),
    "dark": (lazy("Dark"), lazy("night-blue boards, also by day")),
    "night": (lazy("Night on the ice"), lazy("dim amber: eyes stay used to the dark")),
    "sun": (lazy("Sun on snow"), lazy("black on white, larger letters, thick edges")),
}


def look_of(request: HttpRequest) -> str:
    """The chosen look, or "" for by itself; public pages are the same for everybody."""
    chosen = "" if is_public(request) else request.COOKIES.get(COOKIE, "")
    return chosen if chosen in LOOKS else ""
