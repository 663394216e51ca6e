"""Writing photos: receive one, make its two clean sizes, take it back.

A photo is its own post with its own id and may arrive before what it shows. The same id with the same bytes is the
same photo. Nothing waits for a photo: the row says how far it is, and every step is safe to run twice.
"""

import datetime as dt
import hashlib
from dataclasses import dataclass
from uuid import UUID, uuid4

from django.core.files.base import ContentFile, File
from django.core.files.storage import default_storage
from django.db import IntegrityError, transaction
from django.db.models import F, Q
from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.facts import Conflict, Refused
from rinklog.photos import pictures
from rinklog.photos.models import Photo
from rinklog.photos.queries import CLAIM_LAPSES
from rinklog.photos.refusals import Unusable
from rinklog.rink.models import Rink

MOST_TRIES = 5
State = Photo.State


@dataclass(frozen=True)
class Received:
    """What receiving did: the row, and whether this call made it."""

    photo: Photo
    made: bool


def receive_photo(
    *,
    id: UUID,
    rink: Rink,
    subject: str,
    subject_id: UUID,
    file: "File[bytes]",
    by: Person,
    now: dt.datetime,
    moment: str = "",
) -> Received:
    """Keep a picture as it came, and a row that says it waits. The caller queues its preparing.

    Raises Refused with a sentence for what is not a picture, too large or of an unknown subject; Conflict when the
    id holds other bytes.
    """
    if subject not in Photo.Subject.values:
        raise Refused(
            "subject",
            _("“%(value)s” cannot have photos; allowed are %(allowed)s.")
            % {"value": subject, "allowed": ", ".join(Photo.Subject.values)},
        )
    if moment not in Photo.Moment.values:
        raise Refused(
            "moment", _("“%(value)s” is not a moment; allowed are before and after.") % {"value": moment}
        )
    try:
        pictures.look(file, file.size)
    except Unusable as unusable:
        raise Refused("photo", unusable.sentence) from None
    mark = fingerprint(file)
    if found := _same_id(id, rink, by, mark):
        return found
    name = default_storage.save(f"photos/{rink.id}/{id}/{uuid4().hex}.arrived", file)
    try:
        with transaction.atomic():
            photo = Photo.objects.create(
                id=id,
                rink=rink,
                subject=subject,
                subject_id=subject_id,
                moment=moment,
                by=by,
                recorded_at=now,
                fingerprint=mark,
                arrived=name,
            )
    except IntegrityError:
        # Two posts of the same id at the same moment: the first one won.
        default_storage.delete(name)
        if found := _same_id(id, rink, by, mark):
            return found
        raise
    return Received(photo, made=True)


def fingerprint(file: "File[bytes]") -> str:
    """SHA-256 of a file's bytes, leaving it at its start."""
    file.seek(0)
    digest = hashlib.sha256()
    for chunk in file.chunks():
        digest.update(chunk)
    file.seek(0)
    return digest.hexdigest()


def _same_id(id: UUID, rink: Rink, by: Person, mark: str) -> Received | None:
    existing = Photo.objects.filter(id=id).first()
    if existing is None:
        return None
    if (existing.fingerprint, existing.rink_id, existing.by_id) != (mark, rink.id, by.id):
        raise Conflict(existing if existing.rink_id == rink.id else None)
    return Received(existing, made=False)


def prepare(*, id: UUID, now: dt.datetime) -> bool:
    """Make both sizes of a waiting photo and forget the file as it came. False when there was nothing to do.

    Of two at once, the one whose update claims the row does it. A picture that cannot be used is refused by a code.
    """
    free = Q(claimed_at=None) | Q(claimed_at__lt=now - CLAIM_LAPSES)
    claimed = Photo.objects.filter(free, id=id, state=State.WAITING, taken_back_at=None).update(
        claimed_at=now, tries=F("tries") + 1
    )
    if not claimed:
        return False
    photo = Photo.objects.get(id=id)
    if photo.tries > MOST_TRIES:
        return _refuse(photo, "gave-up")
    try:
        with photo.arrived.open("rb") as file:
            sizes = pictures.make_sizes(file)
    except Unusable as unusable:
        return _refuse(photo, unusable.code)
    except FileNotFoundError:
        return _refuse(photo, "lost")
    return _keep(photo, sizes)


def _refuse(photo: Photo, code: str) -> bool:
    _finish(photo, state=State.REFUSED, refusal=code)
    return True


def _keep(photo: Photo, sizes: pictures.Sizes) -> bool:
    folder = f"photos/{photo.rink_id}/{photo.id}"
    large = default_storage.save(f"{folder}/{uuid4().hex}.jpg", ContentFile(sizes.large))
    small = default_storage.save(f"{folder}/{uuid4().hex}.jpg", ContentFile(sizes.small))
    kept = _finish(
        photo,
        state=State.READY,
        large=large,
        small=small,
        width_px=sizes.width_px,
        height_px=sizes.height_px,
    )
    if not kept:
        # Our claim had lapsed and somebody else did it, or it was taken back meanwhile.
        default_storage.delete(large)
        default_storage.delete(small)
    return kept


def _finish(photo: Photo, **changes: object) -> bool:
    """Write the outcome if the claim still holds, then forget the file as it came."""
    mine = Photo.objects.filter(
        id=photo.id, state=State.WAITING, claimed_at=photo.claimed_at, taken_back_at=None
    )
    if not mine.update(**changes):
        return False
    forget_arrived(photo=photo)
    return True


def forget_arrived(*, photo: Photo) -> None:
    """Delete the file as it came; only then forget its name, so that the sweep finds what a crash left."""
    name = photo.arrived.name
    if name:
        default_storage.delete(name)
        Photo.objects.filter(id=photo.id).update(arrived="")


def take_back(*, photo: Photo, now: dt.datetime) -> bool:
    """Delete a photo's files for good; the row stays and says that there was one. False when it already was."""
    if not Photo.objects.filter(id=photo.id, taken_back_at=None).update(taken_back_at=now):
        return False
    photo.refresh_from_db()
    for name in (photo.large.name, photo.small.name):
        if name:
            default_storage.delete(name)
    Photo.objects.filter(id=photo.id).update(large="", small="")
    forget_arrived(photo=photo)
    return True
