"""A phone's 12-megapixel photo to both sizes: what checking, turning and cleaning cost over bare Pillow."""

import io

from tests.bench.measure import Row, alternate, at_most, comparison

WIDTH, HEIGHT = 4032, 3024  # 12.2 megapixels
TURNED = 6  # a phone held upright


def phone_picture() -> bytes:
    """A picture with detail everywhere, tagged and turned as a phone does."""
    import numpy as np
    from PIL import Image

    noise = np.random.default_rng(7).normal(0, 12, (HEIGHT, WIDTH, 3))
    slope = np.linspace(40, 215, WIDTH)[None, :, None] + np.linspace(-30, 30, HEIGHT)[:, None, None]
    picture = Image.fromarray(np.clip(slope + noise, 0, 255).astype("uint8"))
    exif = Image.Exif()
    exif[0x0112] = TURNED
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=90, exif=exif)
    return out.getvalue()


@comparison("photo-intake")
def photo_intake() -> Row:
    """Our way looks at the head first, as the post does, and then makes both sizes, as the task does."""
    from PIL import Image

    from rinklog.photos.pictures import look, make_sizes
    from tests.bench.against.photo_intake import both_sizes

    data = phone_picture()

    def ours() -> tuple[int, int]:
        file = io.BytesIO(data)
        look(file, len(data))
        sizes = make_sizes(file)
        return sizes.width_px, sizes.height_px

    assert ours() == (1200, 1600)  # upright
    assert Image.open(io.BytesIO(both_sizes(data)[0])).size == (1600, 1200)  # as it lies
    taken = alternate(ours, lambda: both_sizes(data), rounds=25)
    note = f"{len(data) / 1e6:.1f} MB, {WIDTH} × {HEIGHT} px, turned by EXIF"
    return at_most("photo-intake", taken[0] * 1000, taken[1] * 1000, times=1.3, unit="ms", note=note)
