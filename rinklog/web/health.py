"""Is the site working: a stub until the supervisor's own lands."""

from django.http import HttpRequest, HttpResponse, JsonResponse


def health(request: HttpRequest) -> HttpResponse:
    """Answer for the web process alone."""
    return JsonResponse({"version": "0.1.0"})
