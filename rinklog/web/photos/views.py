"""Posting photos, and giving them out: through the gate only, never from the media folder."""

from typing import cast
from uuid import UUID

from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from rinklog.crew.rights import Right
from rinklog.photos import services
from rinklog.photos.models import Photo
from rinklog.web.access import At, found, on_rink
from rinklog.web.photos.intake import Taken, take_all, take_one
from rinklog.web.photos.strip import strip


@on_rink(Right.LOG)
@require_POST
def post(request: HttpRequest, at: At) -> HttpResponse:
    """Take photos: one with its own id from a script (answers JSON), or all of a form's (goes back to the page)."""
    subject, subject_id = request.POST.get("subject", ""), as_uuid(request.POST.get("subject_id"))
    if subject not in Photo.Subject.values or subject_id is None:
        raise Http404
    if (id := as_uuid(request.POST.get("id"))) is not None:
        file = request.FILES.get("photo")
        if file is None:
            return answer(Taken(sentence=_("No photo arrived; pick it again."), status=422))
        moment = request.POST.get("moment", "")
        return answer(
            take_one(cast("UploadedFile[bytes]", file), at, subject, subject_id, moment=moment, id=id)
        )
    taken = take_all(request, at, subject, subject_id, as_uuid(request.POST.get("batch")) or subject_id)
    say_refusals(request, taken or [Taken(sentence=_("No photo was picked."))])
    return redirect(way_back(request, at))


def say_refusals(request: HttpRequest, taken: list[Taken]) -> None:
    """Tell, on the next page, which pictures were not taken and why."""
    for one in taken:
        if one.sentence:
            messages.error(request, one.sentence)


def answer(taken: Taken) -> JsonResponse:
    """What became of a photo, for a script."""
    state = taken.photo.state if taken.photo else "refused"
    return JsonResponse({"state": state, "sentence": taken.sentence}, status=taken.status)


def way_back(request: HttpRequest, at: At) -> str:
    """The page the form stood on, if it is one of this rink."""
    home = reverse("home", kwargs={"slug": at.rink.slug})
    wanted = request.POST.get("next", "")
    own = url_has_allowed_host_and_scheme(wanted, allowed_hosts=None) and wanted.startswith(home)
    return wanted if own else home


@on_rink(Right.SEE)
@require_safe
def strip_of(request: HttpRequest, at: At, subject: str, subject_id: UUID) -> HttpResponse:
    """The strip alone: asked for again while a photo is being prepared."""
    if subject not in Photo.Subject.values or not at.sees_photos_of(subject, subject_id):
        raise Http404
    shown = strip(at, subject, subject_id, moments=request.GET.get("moments") == "1")
    if not shown.photos:
        raise Http404
    return render(request, "photos/_strip.html", {"strip": shown})


@on_rink(Right.SEE)
@require_safe
def picture(request: HttpRequest, at: At, id: UUID, size: str) -> HttpResponse:
    """One size of a photo."""
    photo = at.photo(id)
    stored = found({"large": photo.large, "small": photo.small}.get(size) or None)
    try:
        with stored.open("rb") as file:  # at most some hundred kilobytes
            response = HttpResponse(file.read(), content_type="image/jpeg")
    except FileNotFoundError:
        raise Http404 from None
    response.headers["Content-Disposition"] = f'inline; filename="photo-{photo.id}-{size}.jpg"'
    response.headers["X-Content-Type-Options"] = "nosniff"
    # The bytes under an id never change; only this person's browser may keep them.
    response.headers["Cache-Control"] = "private, max-age=31536000, immutable"
    return response


@on_rink(Right.LOG)
@require_POST
def take_back(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Delete a photo: whoever took it, and whoever may amend what others wrote."""
    photo = at.photo(id)
    if photo.by_id != at.person.id and not at.may(Right.AMEND_ANY):
        raise Http404
    services.take_back(photo=photo, now=at.now)
    return redirect(way_back(request, at))


def as_uuid(text: str | None) -> UUID | None:
    """A UUID out of a form, or None."""
    try:
        return UUID(text or "")
    except ValueError:
        return None
