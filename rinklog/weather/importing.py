"""Weather files from the upload to the observations, chunk by chunk: each chunk and how far it got are one transaction.

A file may be sent again, or a worker may die at it: the same hour of the same source is the same observation. A turn
ends after a minute, so that a long file does not keep others waiting; what is left is queued again.
"""

import datetime as dt
import gzip
import hashlib
import time
import zlib
from collections.abc import Iterator
from itertools import islice
from typing import Any
from uuid import UUID

from django.core.files.base import File
from django.core.files.storage import default_storage
from django.core.files.temp import NamedTemporaryFile
from django.db import IntegrityError, transaction
from django.db.models import F, Q
from django.db.models.functions import Now
from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.facts import Conflict, Refused
from rinklog.rink.models import Rink
from rinklog.weather.formats.reading import BadFile, Place, Reading, line_of
from rinklog.weather.formats.registry import FORMATS, HEAD_BYTES, told
from rinklog.weather.hours import Flag, Hour
from rinklog.weather.models import WeatherFile
from rinklog.weather.queries import FILE_STANDS_STILL
from rinklog.weather.services import AT_A_TIME, store_observations

State = WeatherFile.State
SOURCE = "file"
MOST_BYTES = 200 * 2**20
PIECE = 2**16
TURN_S = 60.0
MOST_TRIES = 5
SHOWN_FLAGS = 500
GZIP = b"\x1f\x8b"


def receive_file(
    *, id: UUID, rink: Rink, file: "File[bytes]", format: str, by: Person, now: dt.datetime
) -> WeatherFile:
    """Keep an uploaded file, unpacked where it was packed with gzip; the caller queues its reading.

    Errors: Refused when it is too large, damaged or of an unknown format, Conflict when the id is taken by another.
    """
    if format and format not in FORMATS:
        allowed = ", ".join(FORMATS)
        raise Refused(
            "format",
            _("Form is “%(value)s”; allowed: %(allowed)s.") % {"value": format[:20], "allowed": allowed},
        )
    mark = _fingerprint(file)
    if existing := WeatherFile.objects.filter(id=id).first():
        if (existing.rink_id, existing.fingerprint) != (rink.id, mark):
            raise Conflict(existing if existing.rink_id == rink.id else None)
        return existing
    name, size = _keep(file, id)
    try:
        with transaction.atomic():
            return WeatherFile.objects.create(
                id=id,
                rink=rink,
                by=by,
                made_at=now,
                moved_at=now,
                file_name=(file.name or "")[-120:],
                file=name,
                fingerprint=mark,
                format=format,
                total_bytes=size,
            )
    except IntegrityError:  # sent twice at the same moment: the first one won
        default_storage.delete(name)
        return WeatherFile.objects.get(id=id, rink=rink, fingerprint=mark)


def _fingerprint(file: "File[bytes]") -> str:
    digest = hashlib.sha256()
    file.seek(0)
    for piece in file.chunks():
        digest.update(piece)
    file.seek(0)
    return digest.hexdigest()


def _keep(file: "File[bytes]", id: UUID) -> tuple[str, int]:
    """Store the file plain. Returns its name and size [bytes]. Errors: Refused."""
    size = 0
    with NamedTemporaryFile() as plain:
        for piece in _plain(file):
            size += len(piece)
            if size > MOST_BYTES:
                sentence = _(
                    "The file is larger than %(most)d MB; allowed is at most that. Send it year by year."
                )
                raise Refused("file", sentence % {"most": MOST_BYTES // 2**20})
            plain.write(piece)
        if not size:
            raise Refused("file", _("The file is empty; choose a file with rows of weather."))
        plain.seek(0)
        return default_storage.save(f"weather/{id}.txt", File(plain)), size


def _plain(file: "File[bytes]") -> Iterator[bytes]:
    start = file.read(2)
    file.seek(0)
    if start != GZIP:
        yield from file.chunks(PIECE)
        return
    try:
        with gzip.open(file, "rb") as packed:  # type: ignore[call-overload]
            while piece := packed.read(PIECE):
                yield piece
    except (EOFError, zlib.error, gzip.BadGzipFile):
        raise Refused("file", _("The packed file is damaged; pack it again or send it unpacked.")) from None


def go_on(*, id: UUID, now: dt.datetime) -> bool:
    """Read a file on for at most a minute. Returns whether there is more to do. Of two at once, one does it."""
    free = Q(state=State.WAITING) | Q(state=State.READING, moved_at__lt=now - FILE_STANDS_STILL)
    if not WeatherFile.objects.filter(free, id=id).update(
        state=State.READING, moved_at=Now(), tries=F("tries") + 1
    ):
        return False
    one = WeatherFile.objects.select_related("rink", "by").get(id=id)
    if one.tries > MOST_TRIES:
        sentence = _("Reading stopped %(tries)d times at the same place; the file is given up.")
        _settle(one, State.REFUSED, sentence=sentence % {"tries": MOST_TRIES})
        return False
    if not one.file.name or not default_storage.exists(one.file.name):
        _settle(one, State.REFUSED, sentence=_("The uploaded file is gone; send it again."))
        return False
    try:
        with default_storage.open(one.file.name) as file:
            return _read(one, file, now)
    except BadFile as error:
        _settle(one, State.REFUSED, sentence=str(error)[:400])
        return False


def _read(one: WeatherFile, file: "File[bytes]", now: dt.datetime) -> bool:
    """Chunk after chunk until the file or the turn ends; returns whether there is more. Errors: BadFile."""
    began = time.monotonic()
    if not one.format:
        one.format = told(file.read(HEAD_BYTES)).slug
    reading = Reading(file.file, FORMATS[one.format], _place(one.resume))  # type: ignore[arg-type]
    hours = reading.hours()
    while chunk := list(islice(hours, AT_A_TIME)):
        _store(one, reading, chunk, reading.settled(), now)
        if time.monotonic() - began > TURN_S:
            _settle(one, State.WAITING)
            return True
    _note(one, sorted(reading.flags, key=line_of))
    one.done_bytes = one.total_bytes
    if not one.hours:
        one.sentence = _("No hour of it could be read.")
    _settle(one, State.DONE if one.hours else State.REFUSED)
    return False


@transaction.atomic
def _store(
    one: WeatherFile, reading: Reading, chunk: list[Hour], flags: list[Flag], now: dt.datetime
) -> None:
    one.added += store_observations(rink=one.rink, source=SOURCE, hours=chunk, recorded_at=now, by=one.by)
    one.hours += len(chunk)
    times = [hour.at for hour in chunk]
    one.starts_at = min([*times, *([one.starts_at] if one.starts_at else [])])
    one.ends_at = max([*times, *([one.ends_at] if one.ends_at else [])])
    for name, count in reading.missing.items():
        one.missing[name] = one.missing.get(name, 0) + count
    reading.missing.clear()
    _note(one, flags)
    place = reading.place
    one.done_bytes = min(place.offset, one.total_bytes)
    last = place.last.isoformat() if place.last else None
    one.resume = {"offset": place.offset, "line": place.line, "last": last, "last_air_c": place.last_air_c}
    one.tries = 0
    _settle(one, State.READING)


def _place(resume: dict[str, Any]) -> Place:
    """Where an earlier turn stopped."""
    if not resume:
        return Place()
    last = dt.datetime.fromisoformat(resume["last"]) if resume["last"] else None
    return Place(resume["offset"], resume["line"], last, resume["last_air_c"])


def _note(one: WeatherFile, flags: list[Flag]) -> None:
    for flag in flags:
        kind = f"{flag.name} {flag.why}"
        one.flagged[kind] = one.flagged.get(kind, 0) + 1
        if len(one.flags) < SHOWN_FLAGS:
            one.flags.append([flag.where, flag.name, flag.value[:60], flag.why])


KEPT = (
    *("format", "sentence", "tries", "done_bytes", "resume", "hours", "added", "starts_at", "ends_at"),
    *("missing", "flagged", "flags"),
)


def _settle(one: WeatherFile, state: str, **changes: object) -> None:
    """Write how far it is."""
    kept = {name: getattr(one, name) for name in KEPT} | changes
    WeatherFile.objects.filter(id=one.id).update(state=state, moved_at=Now(), **kept)


def forget_file(*, one: WeatherFile) -> None:
    """Delete the uploaded file; what it brought stays, and so does what was wrong with it."""
    default_storage.delete(one.file.name or "")
    WeatherFile.objects.filter(id=one.id).update(file="")
