"""Pages for what went wrong: one sentence each, and a way on."""

from django.conf import settings
from django.core.exceptions import RequestDataTooBig
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _


def page(request: HttpRequest, status: int, sentence: str) -> HttpResponse:
    """Render the error page."""
    return render(request, "error.html", {"sentence": sentence, "status": status}, status=status)


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    """400; or 413 with a limit to go by, for what is too much at once."""
    if isinstance(exception, RequestDataTooBig):
        most = settings.DATA_UPLOAD_MAX_MEMORY_SIZE // 2**20
        return page(
            request, 413, _("This is more than %(most)d MB of text; send less at once.") % {"most": most}
        )
    return page(request, 400, _("This request could not be read."))


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    """404, for what is absent and for what is not yours to see."""
    return page(
        request, 404, _("There is nothing here for you. It may be gone, or it may belong to another crew.")
    )


def server_error(request: HttpRequest) -> HttpResponse:
    """500: what was typed is not lost on the phone, and sending again is harmless."""
    return page(request, 500, _("Something broke here. Send it again: nothing is recorded twice."))


def csrf_failure(request: HttpRequest, reason: str = "") -> HttpResponse:
    """403 of a stale form."""
    return page(request, 403, _("This form was open too long. Go back, reload it and send again."))
