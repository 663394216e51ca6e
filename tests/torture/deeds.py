"""What is to be written down: every entry is unlike every other, so that none can stand for another."""

import datetime as dt
import hashlib
import io
import random
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

# Of the invented crew, who may write and reads litres.
LOGINS = ("runa", "odo", "tilde", "miko", "jorun", "bas", "siw")
KINDS = ("flood", "snow-removal")


@dataclass(frozen=True)
class Deed:
    """One entry as a person means it; `zones` are places in the form's list."""

    n: int
    login: str
    kind: str
    started: dt.datetime
    zones: tuple[int, ...]
    litres: int
    minutes: int
    note: str
    photo: Path | None
    photo_sha256: str = ""


def make_deeds(
    *, entries: int, photos: int, phones: int, seed: int, now: dt.datetime, folder: Path
) -> list[Deed]:
    """Entries a minute apart, the last one a few minutes ago; the phones take turns, photos are spread evenly."""
    dice = random.Random(f"deeds {seed}")
    first = now.replace(second=0, microsecond=0) - dt.timedelta(minutes=entries + 5)
    made = []
    for n in range(entries):
        data = a_photo(dice) if (n + 1) * photos // entries > n * photos // entries else b""
        path = folder / f"photo-{n}.jpg"
        if data:
            path.write_bytes(data)
        made.append(
            Deed(
                n=n,
                login=LOGINS[n % phones],
                kind=dice.choice(KINDS),
                started=first + dt.timedelta(minutes=n),
                zones=tuple(sorted(dice.sample(range(32), dice.randint(1, 4)))),
                litres=100 + n,
                minutes=1 + n % 97,
                note=f"torture {seed}, no. {n}: ice, “ås” & <b>{dice.random():.12f}</b>",
                photo=path if data else None,
                photo_sha256=hashlib.sha256(data).hexdigest() if data else "",
            )
        )
    return made


def a_photo(dice: random.Random) -> bytes:
    """A JPEG of noise, some 50 kB: no two are alike."""
    picture = Image.frombytes("RGB", (240, 180), dice.randbytes(240 * 180 * 3))
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=85)
    return out.getvalue()
