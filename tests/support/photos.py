"""Pictures and photos for tests. Pictures are made by Pillow's encoder and read back without our code."""

import io
from uuid import UUID, uuid4

from django.core.files.base import ContentFile
from PIL import Image

from rinklog.photos import services
from rinklog.photos.models import Photo
from tests.support.cast import NOW, Cast


def a_picture(
    width: int = 640, height: int = 480, form: str = "JPEG", mode: str = "RGB", **save: object
) -> bytes:
    """A picture whose four quarters are red, green, blue and white."""
    picture = Image.new("RGB", (width, height), (255, 255, 255))
    half = (width // 2, height // 2)
    for place, colour in (((0, 0), (255, 0, 0)), ((half[0], 0), (0, 128, 0)), ((0, half[1]), (0, 0, 255))):
        picture.paste(colour, (*place, place[0] + half[0], place[1] + half[1]))
    out = io.BytesIO()
    picture.convert(mode).save(out, form, **save)  # type: ignore[arg-type]
    return out.getvalue()


def received(
    cast: Cast,
    data: bytes,
    *,
    id: UUID | None = None,
    subject: str = "hazard",
    subject_id: UUID | None = None,
) -> Photo:
    """A photo as it came, not prepared."""
    return services.receive_photo(
        id=id or uuid4(),
        rink=cast.rink,
        subject=subject,
        subject_id=subject_id or uuid4(),
        file=ContentFile(data, name="from a phone.jpg"),
        by=cast.cleo,
        now=NOW,
    ).photo


def a_photo(cast: Cast, data: bytes | None = None, **rest: object) -> Photo:
    """A photo of Cleo's that is ready, or refused."""
    photo = received(cast, data or a_picture(), **rest)  # type: ignore[arg-type]
    services.prepare(id=photo.id, now=NOW)
    photo.refresh_from_db()
    return photo


def markers(jpeg: bytes) -> list[tuple[int, bytes]]:
    """The segments of a JPEG before its pixels, as (marker, payload): ISO/IEC 10918-1, annex B."""
    assert jpeg[:2] == b"\xff\xd8"
    found, at = [], 2
    while jpeg[at + 1] != 0xDA:  # start of scan
        assert jpeg[at] == 0xFF
        length = int.from_bytes(jpeg[at + 2 : at + 4], "big")
        found.append((jpeg[at + 1], jpeg[at + 4 : at + 2 + length]))
        at += 2 + length
    return found
