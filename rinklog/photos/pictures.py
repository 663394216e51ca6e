"""Pillow's part: look at a picture's head, and make the two clean sizes out of it.

A clean size is a JPEG that carries pixels and nothing else: turned upright, in sRGB, without place, maker or time.
"""

import io
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import IO

from PIL import Image, ImageCms, UnidentifiedImageError

from rinklog.photos.refusals import MOST_BYTES, MOST_PIXELS, Unusable

FORMATS = ("JPEG", "PNG", "WEBP", "GIF")  # JPEG brings phones' several pictures in one file (MPO) along
LARGE_PX, SMALL_PX = 1600, 400
QUALITY = 82
HEIC_BRANDS = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1")
WHITE = (255, 255, 255, 255)
# Pillow checks every header against this before it reserves a byte for pixels.
Image.MAX_IMAGE_PIXELS = MOST_PIXELS
BOMBS = (Image.DecompressionBombError, Image.DecompressionBombWarning)
# What decoders raise on files that are damaged, by accident or on purpose.
DAMAGE = (ValueError, SyntaxError, TypeError, IndexError, KeyError, EOFError, OverflowError, zlib.error)


@dataclass(frozen=True)
class Sizes:
    """The two clean JPEGs, and the size of the large one [px]."""

    large: bytes
    small: bytes
    width_px: int
    height_px: int


def look(file: IO[bytes], length: int) -> None:
    """Refuse, by the file's length [bytes] and its head alone, what cannot become a photo. Raises Unusable."""
    if length == 0:
        raise Unusable("empty")
    if length > MOST_BYTES:
        raise Unusable("too-large")
    with _opened(file):
        file.seek(0)


def make_sizes(file: IO[bytes]) -> Sizes:
    """Make both sizes out of a picture as it came. Raises Unusable."""
    with _opened(file) as picture:
        turn = _orientation(picture)
        profile = picture.info.get("icc_profile")
        fitted = _shrunk(picture)
    upright = turn_upright(_to_srgb(fitted, profile), turn)
    small = upright.copy()
    small.thumbnail((SMALL_PX, SMALL_PX), reducing_gap=None)
    return Sizes(_jpeg(upright), _jpeg(small), *upright.size)


@contextmanager
def _opened(file: IO[bytes]) -> Iterator[Image.Image]:
    """The picture with its head read and nothing decoded; whatever goes wrong with it becomes Unusable."""
    file.seek(0)
    head = file.read(12)
    file.seek(0)
    try:
        with Image.open(file, formats=FORMATS) as picture:
            if picture.width * picture.height > MOST_PIXELS:
                raise Unusable("too-many-pixels")
            yield picture
    except UnidentifiedImageError:
        heic = head[4:8] == b"ftyp" and head[8:12] in HEIC_BRANDS
        raise Unusable("heic" if heic else "not-a-picture") from None
    except BOMBS:
        raise Unusable("too-many-pixels") from None
    except OSError as error:
        if error.errno is not None:  # the disk's trouble, not the picture's
            raise
        raise Unusable("truncated" if "truncated" in str(error) else "broken") from None
    except DAMAGE:
        raise Unusable("broken") from None


def _orientation(picture: Image.Image) -> int:
    """The EXIF orientation, 1 (upright) when there is none or it cannot be read."""
    try:
        turn = picture.getexif().get(0x0112, 1)
    except Exception:  # EXIF out of the wild breaks its reader in many ways; the picture is still good
        return 1
    return turn if turn in range(1, 9) else 1


def _shrunk(picture: Image.Image) -> Image.Image:
    """Decode no more than is needed and fit it into the large size, in a mode that colours can be read from."""
    share = LARGE_PX / max(picture.size)
    if share < 1:
        # JPEG decodes straight to 1/2, 1/4 or 1/8, never below the size asked for.
        picture.draft(None, tuple(max(1, round(side * share)) for side in picture.size))  # type: ignore[arg-type]
    picture.load()
    plain = _plain_mode(picture)
    share = LARGE_PX / max(plain.size)
    if share >= 1:
        return plain.copy()
    size = tuple(max(1, round(side * share)) for side in plain.size)
    return plain.resize(size, Image.Resampling.BICUBIC, reducing_gap=2.0)  # type: ignore[arg-type]


def _plain_mode(picture: Image.Image) -> Image.Image:
    """L, RGB or CMYK: 16 bits to 8, palettes to colours, transparency onto white."""
    if picture.mode.startswith("I"):
        deep = picture.convert("I")
        return deep.point(lambda value: value * (1 / 257) + 0.5).convert("L")  # 65535 / 255
    if picture.mode in ("L", "RGB", "CMYK") and "transparency" not in picture.info:
        return picture
    if picture.has_transparency_data:
        clear = picture.convert("RGBA")
        clear = clear.reduce(max(1, max(clear.size) // (2 * LARGE_PX)))  # memory, before two more copies
        return Image.alpha_composite(Image.new("RGBA", clear.size, WHITE), clear).convert("RGB")
    return picture.convert("RGB")


def _to_srgb(picture: Image.Image, profile: bytes | None) -> Image.Image:
    """Colours as every screen shows them; a profile that is broken or of another kind is left out."""
    if profile and picture.mode in ("L", "RGB", "CMYK"):
        try:
            source = ImageCms.getOpenProfile(io.BytesIO(profile))
            if picture.mode != "RGB" or "sRGB" not in ImageCms.getProfileDescription(source):
                turned = ImageCms.profileToProfile(
                    picture, source, ImageCms.createProfile("sRGB"), outputMode="RGB"
                )
                return turned or picture.convert("RGB")
        except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
            pass
    return picture.convert("RGB")


TURNS = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}


def turn_upright(picture: Image.Image, orientation: int) -> Image.Image:
    """Undo the turn that EXIF orientation 1 to 8 says the camera was held in (Exif 2.32, tag 0x0112)."""
    return picture.transpose(TURNS[orientation]) if orientation in TURNS else picture


def _jpeg(picture: Image.Image) -> bytes:
    """Encode pixels alone: Pillow would carry comments and XMP over from `info`."""
    picture.info = {}
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=QUALITY)
    return out.getvalue()
