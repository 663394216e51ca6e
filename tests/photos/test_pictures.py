"""Pictures as phones send them: turned, tagged, deep, cut off, oversized, or not pictures at all."""

import io
import struct
import zlib

import pytest
from PIL import Image, ImageCms

from rinklog.photos.pictures import look, make_sizes
from rinklog.photos.refusals import MOST_BYTES, SENTENCES, Unusable
from tests.support.photos import a_picture, markers

RED, GREEN, BLUE, WHITE = (255, 0, 0), (0, 128, 0), (0, 0, 255), (255, 255, 255)

# Where the picture's own first row and first column are, seen upright: Exif 2.32 (CIPA DC-008), tag 0x0112.
FIRST_ROW_AND_COLUMN = {
    1: ("top", "left"),
    2: ("top", "right"),
    3: ("bottom", "right"),
    4: ("bottom", "left"),
    5: ("left", "top"),
    6: ("right", "top"),
    7: ("right", "bottom"),
    8: ("left", "bottom"),
}


def sizes(data: bytes):
    return make_sizes(io.BytesIO(data))


def corners(jpeg: bytes) -> dict[str, tuple[int, ...]]:
    """The colour in the middle of each quarter."""
    picture = Image.open(io.BytesIO(jpeg)).convert("RGB")
    width, height = picture.size
    places = {
        "top left": (0.25, 0.25),
        "top right": (0.75, 0.25),
        "bottom left": (0.25, 0.75),
        "bottom right": (0.75, 0.75),
    }
    return {name: picture.getpixel((int(x * width), int(y * height))) for name, (x, y) in places.items()}


def close(found: tuple[int, ...], wanted: tuple[int, ...], by: int = 12) -> bool:
    return all(abs(a - b) <= by for a, b in zip(found, wanted, strict=True))


def with_orientation(orientation: int, **more: object) -> bytes:
    exif = Image.Exif()
    exif[0x0112] = orientation
    return a_picture(exif=exif, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("orientation", range(1, 9))
def test_all_eight_turns_stand_upright(orientation: int, form: str) -> None:
    row, column = FIRST_ROW_AND_COLUMN[orientation]
    opposite = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}
    # The stored picture has red where its first row meets its first column, green along the row, blue down the column.
    wanted = {
        frozenset((row, column)): RED,
        frozenset((row, opposite[column])): GREEN,
        frozenset((opposite[row], column)): BLUE,
        frozenset((opposite[row], opposite[column])): WHITE,
    }
    made = sizes(with_orientation(orientation, form=form))
    for jpeg in (made.large, made.small):
        for name, colour in corners(jpeg).items():
            assert close(colour, wanted[frozenset(name.split())]), (name, colour)
    assert (made.width_px, made.height_px) == ((480, 640) if orientation >= 5 else (640, 480))


def test_a_senseless_orientation_is_taken_as_upright() -> None:
    assert close(corners(sizes(with_orientation(77)).large)["top left"], RED)


def tagged() -> bytes:
    """A JPEG with place, maker, comment, XMP and a colour profile."""
    exif = Image.Exif()
    exif[0x010F] = "Invented Camera"
    gps = exif.get_ifd(0x8825)
    gps[1], gps[2] = "N", (63.0, 25.0, 49.5)
    exif[0x8825] = gps
    return a_picture(
        exif=exif,
        comment=b"at the fountain",
        xmp=b'<x:xmpmeta xmlns:x="adobe:ns:meta/">secret place</x:xmpmeta>',
        icc_profile=ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes(),
    )


def test_nothing_but_pixels_is_left() -> None:
    data = tagged()
    kinds = {marker for marker, _payload in markers(data)}
    assert {0xE1, 0xE2, 0xFE} <= kinds  # the picture as it came has EXIF or XMP, a profile, and a comment
    assert b"secret place" in data
    made = sizes(data)
    for jpeg in (made.large, made.small):
        # JFIF head, quantisation, frame, Huffman tables; no APP1 (EXIF, XMP), no APP2 (profile), no comment.
        assert {marker for marker, _payload in markers(jpeg)} <= {0xE0, 0xDB, 0xC0, 0xC4}
        for word in (b"secret place", b"Invented Camera", b"at the fountain", b"GPS", b"Exif", b"adobe"):
            assert word not in jpeg


@pytest.mark.parametrize("form", ["PNG", "WEBP"])
def test_nothing_but_pixels_is_left_of_other_forms(form: str) -> None:
    exif = Image.Exif()
    exif[0x010F] = "Invented Camera"
    jpeg = sizes(a_picture(form=form, exif=exif)).large
    assert {marker for marker, _payload in markers(jpeg)} <= {0xE0, 0xDB, 0xC0, 0xC4}


@pytest.mark.parametrize(
    ("came", "large", "small"),
    [
        ((4000, 3000), (1600, 1200), (400, 300)),
        ((3000, 4000), (1200, 1600), (300, 400)),
        ((1600, 900), (1600, 900), (400, 225)),
        ((300, 200), (300, 200), (300, 200)),
        ((5000, 4), (1600, 1), (400, 1)),
        ((1, 1), (1, 1), (1, 1)),
    ],
)
def test_two_sizes_fit_and_never_grow(came: tuple, large: tuple, small: tuple) -> None:
    made = sizes(a_picture(*came))
    assert Image.open(io.BytesIO(made.large)).size == large == (made.width_px, made.height_px)
    assert Image.open(io.BytesIO(made.small)).size == small


def png(width: int, height: int, depth: int, colour: int, rows: bytes) -> bytes:
    """A PNG written by hand: W3C PNG specification, third edition."""

    def chunk(name: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))

    head = struct.pack(">IIBBBBB", width, height, depth, colour, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(rows))
        + chunk(b"IEND", b"")
    )


@pytest.mark.parametrize(
    ("deep", "seen"), [(0, 0), (65535, 255), (32768, 128), (257, 1)]
)  # v × 255 / 65535: PNG specification, sample depth scaling
def test_sixteen_bits_of_grey_become_eight(deep: int, seen: int) -> None:
    row = b"\0" + struct.pack(">H", deep) * 16
    jpeg = sizes(png(16, 16, 16, 0, row * 16)).large
    assert close(Image.open(io.BytesIO(jpeg)).convert("RGB").getpixel((8, 8)), (seen, seen, seen), by=1)


def test_sixteen_bits_of_colour_become_eight() -> None:
    row = b"\0" + struct.pack(">HHH", 65535, 32768, 0) * 16
    jpeg = sizes(png(16, 16, 16, 2, row * 16)).large
    assert close(Image.open(io.BytesIO(jpeg)).getpixel((8, 8)), (255, 128, 0), by=4)


def test_printers_colours_become_screen_colours() -> None:
    made = sizes(a_picture(mode="CMYK"))
    assert Image.open(io.BytesIO(made.large)).mode == "RGB"
    assert close(corners(made.large)["top left"], RED)
    assert close(corners(made.large)["bottom right"], WHITE)


def test_see_through_parts_become_white_and_palettes_become_colours() -> None:
    clear = Image.new("RGBA", (64, 64), (255, 0, 0, 0))
    clear.paste((0, 0, 255, 255), (0, 0, 32, 64))
    for mode, options in (("RGBA", {}), ("P", {"transparency": 0}), ("LA", {}), ("1", {})):
        out = io.BytesIO()
        clear.convert(mode).save(out, "PNG", **options)
        assert Image.open(io.BytesIO(sizes(out.getvalue()).large)).mode == "RGB"
    out = io.BytesIO()
    clear.save(out, "PNG")
    assert close(corners(sizes(out.getvalue()).large)["top right"], WHITE)
    assert close(corners(sizes(out.getvalue()).large)["top left"], BLUE)


def test_of_a_moving_picture_the_first_frame_is_kept() -> None:
    frames = [Image.new("RGB", (40, 30), colour) for colour in (RED, BLUE)]
    for form in ("GIF", "WEBP", "PNG"):
        out = io.BytesIO()
        frames[0].save(out, form, save_all=True, append_images=frames[1:])
        assert Image.open(io.BytesIO(out.getvalue())).n_frames == 2
        assert close(corners(sizes(out.getvalue()).large)["top left"], RED, by=16)


def test_a_wide_colour_profile_is_turned_into_screen_colours() -> None:
    # A profile that swaps nothing but says "XYZ with linear light" would be seen as darker without conversion:
    # the same numbers in a linear profile are brighter in sRGB. IEC 61966-2-1: 0.5 linear is 0.735 encoded = 188.
    linear = linear_srgb_profile()
    out = io.BytesIO()
    Image.new("RGB", (32, 32), (128, 128, 128)).save(out, "JPEG", icc_profile=linear, quality=95)
    jpeg = sizes(out.getvalue()).large
    assert close(Image.open(io.BytesIO(jpeg)).getpixel((16, 16)), (188, 188, 188), by=3)


def linear_srgb_profile() -> bytes:
    """sRGB's own profile with its curves replaced by straight lines (ICC.1, curveType with no entries)."""
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    count = struct.unpack(">I", profile[128:132])[0]
    for n in range(count):
        name, offset, length = struct.unpack(">4sII", profile[132 + 12 * n : 144 + 12 * n])
        if name in (b"rTRC", b"gTRC", b"bTRC"):
            profile[offset : offset + length] = (b"curv" + b"\0" * 8).ljust(length, b"\0")
        if name == b"desc":  # and its name, so that it is not taken for sRGB
            words = bytes(profile[offset : offset + length])
            profile[offset : offset + length] = words.replace(
                "sRGB".encode("utf-16-be"), "line".encode("utf-16-be")
            )
    return bytes(profile)


def test_a_broken_profile_is_left_out_and_the_picture_stays() -> None:
    assert close(corners(sizes(a_picture(icc_profile=b"not a profile at all")).large)["top left"], RED)


@pytest.mark.filterwarnings("ignore:Corrupt EXIF data")
def test_broken_exif_is_left_out_and_the_picture_stays() -> None:
    jpeg = a_picture()
    bad = b"Exif\0\0MM\0\x2a\xff\xff\xff\xff garbage"
    data = jpeg[:2] + b"\xff\xe1" + struct.pack(">H", len(bad) + 2) + bad + jpeg[2:]
    assert close(corners(sizes(data).large)["top left"], RED)


def refusal(data: bytes) -> str:
    try:
        look(io.BytesIO(data), len(data))
        make_sizes(io.BytesIO(data))
    except Unusable as unusable:
        return unusable.code if str(SENTENCES[unusable.code]) else ""
    return "taken"


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP", "GIF"])
@pytest.mark.parametrize("share", [0.3, 0.6, 0.9])
def test_a_cut_off_picture_is_refused(form: str, share: float) -> None:
    data = a_picture(form=form)
    assert refusal(data) == "taken"
    assert refusal(data[: int(len(data) * share)]) in ("truncated", "broken", "not-a-picture")


def test_a_cut_off_jpeg_is_told_so() -> None:
    data = a_picture(1200, 900)
    assert refusal(data[: len(data) // 2]) == "truncated"


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "empty"),
        (b"<html><script>alert(1)</script></html>", "not-a-picture"),
        (b'<svg xmlns="http://www.w3.org/2000/svg"><script>1</script></svg>', "not-a-picture"),
        (b"%PDF-1.7 ...", "not-a-picture"),
        (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + b"\0" * 64, "heic"),
        (b"\xff\xd8\xff\xe0", "not-a-picture"),
        (b"\x89PNG\r\n\x1a\n" + b"\0" * 40, "not-a-picture"),
    ],
)
def test_what_is_no_picture_is_told_by_its_head_not_its_name(data: bytes, code: str) -> None:
    assert refusal(data) == code


# Outside of tests Pillow only warns of these; the refusal must be ours.
@pytest.mark.filterwarnings("ignore::PIL.Image.DecompressionBombWarning")
@pytest.mark.parametrize(("width", "height"), [(8001, 8001), (20_000, 20_000), (2**31 - 1, 2**31 - 1)])
def test_a_bomb_is_refused_before_a_byte_of_it_is_unpacked(width: int, height: int) -> None:
    # 64 megapixels are allowed: 8001 x 8001 are 64 016 001.
    data = png(width, height, 8, 2, b"\0" * 100)
    with pytest.raises(Unusable) as refused:
        look(io.BytesIO(data), len(data))
    assert refused.value.code == "too-many-pixels"


def test_sixty_four_megapixels_are_looked_at_and_pass() -> None:
    data = png(8000, 8000, 8, 2, b"\0" * 100)
    look(io.BytesIO(data), len(data))


def test_25_megabytes_pass_and_one_byte_more_does_not() -> None:
    data = a_picture()
    look(io.BytesIO(data), MOST_BYTES)
    with pytest.raises(Unusable) as refused:
        look(io.BytesIO(data), 25_000_001)
    assert refused.value.code == "too-large"


def test_a_twenty_megabyte_photo_becomes_two_small_ones() -> None:
    data = a_picture(4000, 3000)
    data = data[:-2] + b"\xff\xfe" + b"\xff\xff" + b"\0" * 65533 + data[-2:]  # a comment
    data += b"\0" * (20_000_000 - len(data))
    made = sizes(data)
    assert len(made.large) < 500_000
    assert len(made.small) < 60_000


def test_two_pictures_in_one_file_as_some_phones_write_them_give_the_first() -> None:
    out = io.BytesIO()
    Image.new("RGB", (80, 60), RED).save(
        out, "MPO", save_all=True, append_images=[Image.new("RGB", (40, 30), BLUE)]
    )
    assert Image.open(io.BytesIO(out.getvalue())).format == "MPO"
    made = sizes(out.getvalue())
    assert (made.width_px, made.height_px) == (80, 60)
    assert close(corners(made.large)["top left"], RED)
