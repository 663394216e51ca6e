"""Small middleware: keep plain HTTP on this machine, and speak each person's language and units."""

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from django.conf import settings
from django.http import HttpRequest, HttpResponse, HttpResponsePermanentRedirect
from django.utils import translation
from django.utils.cache import patch_vary_headers

from rinklog.web.languages import language_for
from rinklog.web.measures import METRIC, Units, units_of

Handler = Callable[[HttpRequest], HttpResponse]
PUBLIC = "/p/"  # addresses below it know no person
RENEWED = "renewed"  # set when signing in
RENEW_AFTER_S = 7 * 24 * 3600
_units: ContextVar[Units] = ContextVar("units", default=METRIC)


def current_units() -> Units:
    """The units of the person whose request is being answered."""
    return _units.get()


@contextmanager
def reading_in(units: Units) -> Iterator[None]:
    """Read and type numbers in some units for a while."""
    token = _units.set(units)
    try:
        yield
    finally:
        _units.reset(token)


def is_public(request: HttpRequest) -> bool:
    """Whether the page is the same for everybody: then nothing may ask who reads it, so that it can be cached."""
    return request.path_info.startswith(PUBLIC)


class LoopbackOrHttps:
    """Send plain HTTP from another device to HTTPS: phones allow camera and offline use only there."""

    def __init__(self, get_response: Handler) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if settings.HTTPS_PORT and not request.is_secure() and not is_loopback(request):
            host = request.get_host().rsplit(":", 1)[0]
            return HttpResponsePermanentRedirect(
                f"https://{host}:{settings.HTTPS_PORT}{request.get_full_path()}"
            )
        return self.get_response(request)


def is_loopback(request: HttpRequest) -> bool:
    """Whether the request comes from this machine."""
    address = request.META.get("REMOTE_ADDR", "")
    return address.startswith("127.") or address in ("::1", "::ffff:127.0.0.1", "")


class PersonLocale:
    """The signed-in person's language, else the browser's."""

    def __init__(self, get_response: Handler) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if is_public(request):
            return self.get_response(request)
        language = language_for(request.user, request.headers.get("Accept-Language", ""))
        with translation.override(language):
            response = self.get_response(request)
        response.headers.setdefault("Content-Language", language)
        patch_vary_headers(response, ("Accept-Language",))
        return response


class RenewSession:
    """Write a signed-in session anew once a week, so that a phone in use stays signed in from season to season."""

    def __init__(self, get_response: Handler) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if is_public(request):
            return self.get_response(request)
        session = request.session
        if RENEWED in session and time.time() - session[RENEWED] > RENEW_AFTER_S:
            session[RENEWED] = int(time.time())
        return self.get_response(request)


class PersonUnits:
    """The signed-in person's units, for the filters and fields that show and read numbers."""

    def __init__(self, get_response: Handler) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        with reading_in(METRIC if is_public(request) else units_of(request.user)):
            return self.get_response(request)
