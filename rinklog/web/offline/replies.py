"""Answers for a phone that sends what waited on it: short JSON in place of pages.

The same views answer; only the form of their answer changes. Status 200 with the new address when it was taken, 409
when something else is recorded under its id, 422 with the sentences when it was refused, 401 from the gate.
"""

import re
from collections.abc import Callable
from html import unescape

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.utils.html import strip_tags

Handler = Callable[[HttpRequest], HttpResponse]
HEADER = "X-Outbox"
ERROR = re.compile(rb'<(p|ul|span|div)[^>]*class="[^"]*\berror(?:list)?\b[^"]*"[^>]*>(.*?)</\1>', re.DOTALL)
NOT_PAGES = ("application/json",)


class OutboxReplies:
    """Turn redirects and form pages into JSON for requests that carry the X-Outbox header."""

    def __init__(self, get_response: Handler) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if HEADER not in request.headers or response.get("Content-Type", "").startswith(NOT_PAGES):
            return response
        return short(response)


def short(response: HttpResponse) -> HttpResponse:
    """The JSON of a page's answer; the cookies that it sets are kept."""
    if 300 <= response.status_code < 400:
        answer = JsonResponse({"at": response["Location"]})
    elif response.status_code in (409, 422):
        answer = JsonResponse({"sentences": sentences(response.content)}, status=response.status_code)
    else:
        return response
    answer.cookies = response.cookies
    return answer


def sentences(page: bytes) -> list[str]:
    """What the form page says is wrong, in its words."""
    found = [" ".join(unescape(strip_tags(text.decode())).split()) for _tag, text in ERROR.findall(page)]
    return [sentence for sentence in dict.fromkeys(found) if sentence]
