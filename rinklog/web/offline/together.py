"""Several posts of one phone in a single one: on a weak signal there and back costs more than the words.

Each goes the whole way through the site as if it had come alone, one after the other, with this request's session and
token; so every gate stands where it stood, and an id that was recorded before is still recorded once.
"""

import json
from functools import cache
from io import BytesIO
from typing import Any, cast
from urllib.parse import unquote_to_bytes, urlsplit

from django.core.handlers.wsgi import WSGIHandler, WSGIRequest
from django.http import HttpRequest, HttpResponseBase, JsonResponse
from django.views.decorators.http import require_POST

from rinklog.web.access import anybody

MOST = 20
BELOW = "/r/"  # a rink's own forms; whose they are is asked of each
FORM = "application/x-www-form-urlencoded"


@anybody
@require_POST
def together(request: HttpRequest) -> JsonResponse:
    """{"posts": [[address, form], …]} in, {"answers": [{"status", "body"}, …]} out in that order; 400 with a sentence."""
    try:
        posts = posts_in(request.body)
    except ValueError as told:
        return JsonResponse({"sentences": [str(told)]}, status=400)
    return JsonResponse({"answers": [answer(cast(WSGIRequest, request), *post) for post in posts]})


def posts_in(body: bytes) -> list[tuple[str, str]]:
    """The addresses and packed forms; ValueError says what is wrong, to whoever writes such a phone."""
    try:
        posts = json.loads(body)["posts"]
        pairs = [(address, form) for address, form in posts]
    except (ValueError, TypeError, KeyError) as error:
        raise ValueError(
            "The posts cannot be read; allowed is a list of addresses with their forms."
        ) from error
    if len(pairs) > MOST:
        raise ValueError(f"There are {len(pairs)} posts; allowed are {MOST} at once.")
    if wrong := [one for pair in pairs for one in pair if not isinstance(one, str)]:
        raise ValueError(f"A post holds “{wrong[0]}”; allowed is text.")
    return pairs


def answer(request: WSGIRequest, address: str, form: str) -> dict[str, Any]:
    """What the site says to one post."""
    if not address.startswith(BELOW):
        return {"status": 404, "body": None}
    response = site().get_response(alone(request, address, form))
    return {"status": response.status_code, "body": said(response)}


@cache
def site() -> WSGIHandler:
    """The whole site with all its middleware."""
    return WSGIHandler()


def alone(request: WSGIRequest, address: str, form: str) -> WSGIRequest:
    """One post as it would have come by itself."""
    parts, data = urlsplit(address), form.encode()
    return WSGIRequest(
        {
            **request.environ,
            "PATH_INFO": unquote_to_bytes(parts.path).decode("latin-1"),  # PEP 3333
            "QUERY_STRING": parts.query,
            "CONTENT_TYPE": FORM,
            "CONTENT_LENGTH": str(len(data)),
            "wsgi.input": BytesIO(data),
        }
    )


def said(response: HttpResponseBase) -> Any:
    """The JSON of an answer; a page says nothing that a phone could use."""
    if response.headers.get("Content-Type") != "application/json":
        return None
    return json.loads(cast(Any, response).content)
