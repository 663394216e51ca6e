"""Every kind of weather file that can be read, and which of them a file is."""

from rinklog.weather.formats import epw, isd_lite, own_csv
from rinklog.weather.formats.reading import BadFile, Format

FORMATS: dict[str, Format] = {module.FORMAT.slug: module.FORMAT for module in (own_csv, isd_lite, epw)}
HEAD_BYTES = 4096


def told(head: bytes) -> Format:
    """The format that a file's first bytes are of. Errors: BadFile."""
    for format in FORMATS.values():
        if format.fits(head):
            return format
    names = ", ".join(format.name for format in FORMATS.values())
    start = head[:40].decode("utf-8", errors="replace").strip()
    raise BadFile(f"The file begins with “{start}”, which is none of the forms read here: {names}.")
