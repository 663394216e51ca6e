"""The public page of the demo against a view that says hello: requests a second, by the WSGI door, no client between.

Both live below /p/, behind the same middleware: nothing there asks who reads. Our side is rendered once in five
seconds, as on the site, and that is in the measure. A reader comes by every way a browser does: packed, and one in four
to ask whether the page is still the same.
"""

import itertools
import os
import time
from io import BytesIO
from statistics import median
from typing import Any

from tests.bench.measure import Row, at_least, comparison
from tests.bench.one import database

ROUNDS, CALLS, WARM = 30, 100, 20


def ask(door: Any, path: str, headers: dict[str, str]) -> dict[str, str]:
    """Ask by the WSGI door and read the whole answer; its headers."""
    environ: dict[str, Any] = {
        "REQUEST_METHOD": "GET",
        "PATH_INFO": path,
        "SERVER_NAME": "127.0.0.1",
        "SERVER_PORT": "80",
        "SERVER_PROTOCOL": "HTTP/1.1",
        "REMOTE_ADDR": "127.0.0.1",
        "wsgi.input": BytesIO(),
        "wsgi.url_scheme": "http",
        **headers,
    }
    said: list[Any] = []
    answer = door(environ, lambda status, headers, info=None: said.extend([status, headers]))
    b"".join(answer)
    answer.close()
    assert said[0][:3] in ("200", "304"), said
    return dict(said[1])


def caller(door: Any, path: str, headers: list[dict[str, str]]) -> Any:
    """A reader who asks by each set of headers in turn."""
    turns = itertools.cycle(headers)
    return lambda: ask(door, path, next(turns))


def rate(call: Any) -> float:
    """Requests a second over CALLS of them."""
    began = time.perf_counter()
    for _ in range(CALLS):
        call()
    return CALLS / (time.perf_counter() - began)


def sides() -> tuple[Any, Any]:
    """Readers of the demo's public page, and of hello."""
    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.bench.settings"
    database()
    from django.conf import settings
    from django.core.wsgi import get_wsgi_application
    from django.utils import timezone

    from rinklog.archive.demo.fill import fill_demo
    from rinklog.crew.models import Membership
    from rinklog.records.services import publish

    settings.ALLOWED_HOSTS = ["*"]
    rink = fill_demo(now=timezone.now()).rink
    keeper = Membership.objects.filter(rink=rink, role="keeper").select_related("person")[0].person
    publish(rink=rink, shown="listed", by=keeper, now=timezone.now())
    door = get_wsgi_application()
    browser = {"HTTP_ACCEPT_ENCODING": "gzip, deflate, br", "HTTP_ACCEPT_LANGUAGE": "nb-NO,nb;q=0.9,en;q=0.8"}
    again = browser | {"HTTP_IF_NONE_MATCH": ask(door, f"/p/{rink.slug}/", browser)["ETag"]}
    ours = caller(door, f"/p/{rink.slug}/", [browser, browser, browser, again])
    return ours, caller(door, "/p/hello/world/", [browser])


@comparison("public-page")
def public_page() -> Row:
    """Requests a second of the public page, at least a quarter of hello's."""
    ours, hello = sides()
    rate(ours), rate(hello)
    rates: dict[Any, list[float]] = {ours: [], hello: []}
    for turn in range(ROUNDS):
        for side in (ours, hello) if turn % 2 else (hello, ours):
            rates[side].append(rate(side))
    return at_least("public-page", median(rates[ours]), median(rates[hello]), times=0.25, unit="requests/s")
