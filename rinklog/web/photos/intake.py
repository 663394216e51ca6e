"""Taking the pictures of a post: each becomes a photo of its own, or gets a sentence of its own."""

from dataclasses import dataclass
from typing import cast
from uuid import UUID, uuid5

from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest
from django.utils.translation import gettext as _

from rinklog.facts import Conflict, Refused
from rinklog.photos import services, tasks
from rinklog.photos.models import Photo
from rinklog.web.access import At


@dataclass(frozen=True)
class Taken:
    """What became of one picture: the photo, or the sentence that refuses it and the status to say so with."""

    photo: Photo | None = None
    sentence: str = ""
    status: int = 200


def take_all(request: HttpRequest, at: At, subject: str, subject_id: UUID, batch: UUID) -> list[Taken]:
    """Take every picture of a form that came without script.

    Ids are made from the form's own id and the bytes: the same form twice is the same photos.
    """
    moment = request.POST.get("moment", "")
    files = cast("list[UploadedFile[bytes]]", request.FILES.getlist("photos"))
    return [
        take_one(file, at, subject, subject_id, moment=moment, id=uuid5(batch, services.fingerprint(file)))
        for file in files
    ]


def take_one(
    file: "UploadedFile[bytes]", at: At, subject: str, subject_id: UUID, *, moment: str, id: UUID
) -> Taken:
    """Take one picture and queue its preparing."""
    try:
        received = services.receive_photo(
            id=id,
            rink=at.rink,
            subject=subject,
            subject_id=subject_id,
            moment=moment,
            file=file,
            by=at.person,
            now=at.now,
        )
    except Refused as refused:
        return Taken(sentence=f"{file.name}: {refused.sentence}", status=422)
    except Conflict:
        return Taken(sentence=_("Another photo already has this id; send it again as a new one."), status=409)
    tasks.prepare_soon(received.photo.id)
    return Taken(received.photo, status=201 if received.made else 200)
