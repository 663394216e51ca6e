"""The other side of `photo-intake`: bare Pillow in draft mode, as its tutorial does it; nothing checked or turned."""

import io

from PIL import Image


def both_sizes(data: bytes) -> tuple[bytes, bytes]:
    """A JPEG to 1600 px and to 400 px."""
    picture = Image.open(io.BytesIO(data))
    picture.draft("RGB", (1600, 1200))
    picture.thumbnail((1600, 1600))
    large, small = io.BytesIO(), io.BytesIO()
    picture.save(large, "JPEG", quality=82)
    picture.thumbnail((400, 400))
    picture.save(small, "JPEG", quality=82)
    return large.getvalue(), small.getvalue()
