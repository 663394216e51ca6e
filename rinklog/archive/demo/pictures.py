"""Pictures of ice that nobody took: drawn, the same every time."""

import io
import random
from dataclasses import dataclass

from django.core.files.base import ContentFile
from PIL import Image, ImageDraw, ImageFilter

from rinklog.archive.demo.work import Writer
from rinklog.photos.models import Photo
from rinklog.photos.services import prepare, receive_photo

SIZE = (1200, 900)
DEEP, SHALLOW, SNOW, SCRATCH = (126, 160, 181), (203, 220, 230), (240, 245, 248), (222, 234, 241)
CONE, STRIPE, DARK = (214, 92, 24), (245, 240, 232), (52, 74, 92)


@dataclass(frozen=True)
class Picture:
    """A picture of what, drawn how, before or after; `of` is the name of a hazard or of a job."""

    of: str
    motif: str
    subject: str = Photo.Subject.HAZARD
    moment: str = ""
    cone: bool = False


PICTURES = (
    Picture("long crack", "crack", cone=True),
    Picture("crease bump", "bump", cone=True),
    Picture("hose pit", "pit", cone=True),
    Picture("drift", "drift"),
    Picture("gate rut", "crack", cone=True),
    Picture("far bump", "bump", cone=True),
    Picture("patch -10 E3", "pit", Photo.Subject.ENTRY, Photo.Moment.BEFORE),
    Picture("patch -10 E3", "level", Photo.Subject.ENTRY, Photo.Moment.AFTER),
    Picture("patch -20 D1 D2 D3 D4", "crack", Photo.Subject.ENTRY, Photo.Moment.BEFORE),
    Picture("patch -20 D1 D2 D3 D4", "level", Photo.Subject.ENTRY, Photo.Moment.AFTER),
)


def hang(writer: Writer, picture: Picture) -> None:
    """Put a picture to its hazard or entry, ready to be seen."""
    name = f"picture {picture.of} {picture.moment}"
    shown = writer.written if picture.subject == Photo.Subject.ENTRY else writer.hazards
    subject = shown.get(picture.of)
    if subject is None:
        return
    photo = receive_photo(
        id=writer.id(name),
        rink=writer.rink,
        subject=picture.subject,
        subject_id=subject.id,
        file=ContentFile(draw(name, picture), name="drawn.jpg"),
        by=subject.by,
        now=subject.recorded_at,
        moment=picture.moment,
    ).photo
    prepare(id=photo.id, now=subject.recorded_at)


def draw(name: str, picture: Picture) -> bytes:
    """A drawn picture as JPEG."""
    dice = random.Random(name)
    image = ice(dice)
    pen = ImageDraw.Draw(image)
    MOTIFS[picture.motif](pen, dice)
    if picture.cone:
        cone(pen, 930, 420)
    out = io.BytesIO()
    image.filter(ImageFilter.GaussianBlur(1.2)).save(out, "JPEG", quality=86)
    return out.getvalue()


def ice(dice: random.Random) -> Image.Image:
    """Ice that is deeper in one corner, with skate scratches and grains of snow."""
    ramp = Image.linear_gradient("L").resize(SIZE).rotate(dice.randrange(-25, 25), fillcolor=128)
    image = Image.composite(Image.new("RGB", SIZE, DEEP), Image.new("RGB", SIZE, SHALLOW), ramp)
    pen = ImageDraw.Draw(image)
    for _turn in range(60):
        x, y = dice.randrange(-200, SIZE[0]), dice.randrange(-200, SIZE[1])
        width, height = dice.randrange(300, 1500), dice.randrange(200, 900)
        start = dice.randrange(360)
        pen.arc((x, y, x + width, y + height), start, start + dice.randrange(20, 70), SCRATCH, 2)
    for _turn in range(700):
        x, y, r = dice.randrange(SIZE[0]), dice.randrange(SIZE[1]), dice.randrange(1, 4)
        pen.ellipse((x - r, y - r, x + r, y + r), SNOW)
    return image


def crack(pen: ImageDraw.ImageDraw, dice: random.Random) -> None:
    """A crack right across."""
    x, y = 0.0, 500.0
    points = [(x, y)]
    while x < SIZE[0]:
        x, y = x + dice.randrange(25, 70), y + dice.randrange(-40, 38)
        points.append((x, y))
    pen.line(points, SNOW, 16)
    pen.line(points, DARK, 7)


def bump(pen: ImageDraw.ImageDraw, dice: random.Random) -> None:
    """A bump with its shadow."""
    pen.ellipse((420, 430, 760, 620), DEEP)
    pen.ellipse((400, 400, 730, 585), SNOW)


def pit(pen: ImageDraw.ImageDraw, dice: random.Random) -> None:
    """A pit where the hose lay."""
    for ring in range(6):
        shade = tuple(int(a + (b - a) * ring / 5) for a, b in zip(SHALLOW, DARK, strict=True))
        pen.ellipse((360 + 28 * ring, 360 + 22 * ring, 840 - 28 * ring, 660 - 22 * ring), shade)


def drift(pen: ImageDraw.ImageDraw, dice: random.Random) -> None:
    """Snow along the boards."""
    edge = [(x, 330 + dice.randrange(-25, 25)) for x in range(0, SIZE[0] + 80, 80)]
    pen.polygon([(0, 0), *edge, (SIZE[0], 0)], SNOW)
    pen.rectangle((0, 0, SIZE[0], 90), DARK)


def level(pen: ImageDraw.ImageDraw, dice: random.Random) -> None:
    """A patch that froze level, a shade lighter."""
    pen.ellipse((380, 370, 820, 650), SCRATCH)


def cone(pen: ImageDraw.ImageDraw, x: int, y: int) -> None:
    """A marker cone."""
    pen.polygon([(x - 90, y + 230), (x + 90, y + 230), (x, y - 60)], CONE)
    pen.polygon([(x - 58, y + 130), (x + 58, y + 130), (x + 34, y + 50), (x - 34, y + 50)], STRIPE)
    pen.rectangle((x - 115, y + 225, x + 115, y + 255), CONE)


MOTIFS = {"crack": crack, "bump": bump, "pit": pit, "drift": drift, "level": level}
