"""What makes the site work without a network: the service worker, the install card, and the page of waiting items."""

from typing import cast

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.middleware.csrf import get_token
from django.shortcuts import render
from django.templatetags.static import static
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from rinklog.crew.models import Person
from rinklog.crew.rights import Right
from rinklog.web.access import At, anybody, on_rink
from rinklog.web.offline import precache

WORKER_PARTS = ("js/outbox/store.js", "js/outbox/send.js", "js/outbox/worker.js", "js/push-worker.js")


@anybody
@require_safe
def worker(request: HttpRequest) -> HttpResponse:
    """The service worker. It stands at the root, since a worker only answers for what lies below it."""
    context = {
        "version": precache.version(),
        "kept": list(precache.addresses()),
        "parts": [static(name) for name in WORKER_PARTS],
    }
    response = render(request, "offline/sw.js", context, content_type="text/javascript; charset=utf-8")
    response.headers["Cache-Control"] = "no-cache"
    return response


@anybody
@require_safe
def manifest(request: HttpRequest) -> JsonResponse:
    """The install card of the site (W3C Web Application Manifest)."""
    icon = {"src": static("img/icon.svg"), "type": "image/svg+xml", "sizes": "any"}
    card = {
        "name": "rinklog",
        "short_name": "rinklog",
        "description": _("The logbook of a rink crew"),
        "start_url": "/",
        "scope": "/",
        "display": "standalone",
        "background_color": "#ffffff",
        "theme_color": "#14384f",
        "icons": [icon, icon | {"purpose": "maskable"}],
    }
    response = JsonResponse(card, content_type="application/manifest+json")
    response.headers["Cache-Control"] = "public, max-age=3600"
    return response


@anybody
@require_safe
@never_cache
def hello(request: HttpRequest) -> JsonResponse:
    """What a phone asks before it sends what waits: whose session this is, a fresh token, the version, the time."""
    user = request.user
    person = str(cast(Person, user).id) if user.is_authenticated else None
    return JsonResponse(
        {
            "person": person,
            "token": get_token(request),
            "version": precache.version(),
            "now": timezone.now().isoformat(),
        }
    )


@anybody
@require_safe
def no_signal(request: HttpRequest) -> HttpResponse:
    """Shown in place of a page that this phone has never seen. It knows nobody: the phone keeps it for everyone."""
    return render(request, "offline/no_signal.html")


@on_rink(Right.LOG)
@require_safe
def waiting(request: HttpRequest, at: At) -> HttpResponse:
    """What waits on this phone. The phone fills it: the server does not know of it yet."""
    return render(request, "offline/waiting.html")
