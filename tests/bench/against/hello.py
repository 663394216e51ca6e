"""The other side of `public-page`: the view that says hello, behind the same middleware, as light as a page gets."""

from django.http import HttpRequest, HttpResponse


def hello(request: HttpRequest) -> HttpResponse:
    """Say hello."""
    return HttpResponse("Hello, world")
