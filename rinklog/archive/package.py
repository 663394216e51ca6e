"""The one file of a backup: a zip whose last 64 letters are the SHA-256 of every byte before them.

No byte of it can change unnoticed, whichever it is; the manifest inside names every part with size and SHA-256.
"""

import hashlib
import json
import re
import zipfile
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, BinaryIO

from django.utils.translation import gettext as _

FORMAT, FORMAT_VERSION = "rinklog-backup", 1
MANIFEST, SITE, TABLES, FILES = "manifest.json", "settings.json", "tables/", "photos/"
MARK = b"rinklog backup sha256:"
DIGITS = 64
PIECE = 1 << 20
MOST_MANIFEST = 64 << 20
LONG_AGO = (1980, 1, 1, 0, 0, 0)  # the same site gives the same bytes, whenever it is asked
# A stored file's name: no way out of the folder, no hidden file, nothing a shell or another system reads otherwise.
_NAME = re.compile(r"(?!.*(^|/)\.)[A-Za-z0-9_][A-Za-z0-9_./-]{0,240}")


class Unusable(Exception):
    """The file is no backup that can be used; one sentence says why."""


@dataclass
class Writer:
    """Writes the parts of a backup one after the other."""

    zip: zipfile.ZipFile
    parts: list[dict[str, Any]] = field(default_factory=list)

    def add(self, name: str, pieces: Iterable[bytes], *, packed: bool = True) -> None:
        """Write one part and note its size and its SHA-256."""
        size, hash = 0, hashlib.sha256()
        with self.zip.open(member(name, packed), "w", force_zip64=True) as target:
            for piece in pieces:
                target.write(piece)
                hash.update(piece)
                size += len(piece)
        self.parts.append({"name": name, "bytes": size, "sha256": hash.hexdigest()})

    def finish(self, about: dict[str, Any]) -> None:
        """Write the manifest, last of all."""
        manifest = {"format": FORMAT, "format_version": FORMAT_VERSION, **about, "parts": self.parts}
        text = json.dumps(manifest, indent=1, ensure_ascii=False).encode()
        with self.zip.open(member(MANIFEST, True), "w") as target:
            target.write(text)
        self.zip.comment = MARK + b"0" * DIGITS


def member(name: str, packed: bool) -> zipfile.ZipInfo:
    """How a part is entered in the zip."""
    info = zipfile.ZipInfo(name, LONG_AGO)
    info.compress_type = zipfile.ZIP_DEFLATED if packed else zipfile.ZIP_STORED
    info.external_attr = 0o600 << 16
    info.create_system = 3
    return info


def seal(path: Path) -> None:
    """Put the SHA-256 of everything before it into the last 64 letters."""
    with path.open("r+b") as file:
        end = file.seek(0, 2) - DIGITS
        file.seek(0)
        digest = hash_of(file, end)
        file.seek(end)
        file.write(digest.encode())


def hash_of(file: BinaryIO, size: int) -> str:
    """SHA-256 of the next `size` bytes."""
    hash = hashlib.sha256()
    while size > 0 and (piece := file.read(min(PIECE, size))):
        hash.update(piece)
        size -= len(piece)
    return hash.hexdigest()


def pieces(file: Any) -> Iterable[bytes]:
    """A file's content, a piece at a time."""
    return iter(lambda: file.read(PIECE), b"")


def check_seal(path: Path) -> None:
    """Hold the file to its last 64 letters. Errors: Unusable."""
    with path.open("rb") as file:
        end = file.seek(0, 2) - DIGITS
        if end < len(MARK):
            raise Unusable(_("This is no backup of rinklog: the file is too short."))
        file.seek(end - len(MARK))
        tail = file.read()
        if not tail.startswith(MARK):
            raise Unusable(_("This is no backup of rinklog, or its end is missing."))
        file.seek(0)
        if hash_of(file, end).encode() != tail[len(MARK) :]:
            raise Unusable(_("The backup is damaged: its checksum does not fit. Nothing was changed."))


def read_manifest(archive: zipfile.ZipFile) -> dict[str, Any]:
    """The manifest, if it is one of this format. Errors: Unusable."""
    try:
        if archive.getinfo(MANIFEST).file_size > MOST_MANIFEST:
            raise ValueError
        manifest = json.loads(archive.read(MANIFEST))
        form, version = manifest["format"], manifest["format_version"]
    except (KeyError, ValueError, TypeError, zipfile.BadZipFile):
        raise Unusable(_("This is no backup of rinklog: it has no manifest.")) from None
    if form != FORMAT:
        raise Unusable(_("This is no backup of rinklog: its manifest is another program's."))
    if not isinstance(version, int) or version > FORMAT_VERSION:
        raise Unusable(
            _("The backup was made by a newer rinklog (%(version)s); update this one first.")
            % {"version": str(manifest.get("rinklog", "?"))[:40]}
        )
    return manifest


def check_parts(archive: zipfile.ZipFile, manifest: dict[str, Any]) -> None:
    """Hold every part to the manifest, and its name to what may be written. Errors: Unusable."""
    try:
        wanted = {part["name"]: (part["bytes"], part["sha256"]) for part in manifest["parts"]}
    except (KeyError, TypeError):
        raise Unusable(_("The backup's manifest is incomplete.")) from None
    names = archive.namelist()
    if len(set(names)) != len(names) or set(names) != {*wanted, MANIFEST}:
        raise Unusable(_("The backup's parts are not those of its manifest."))
    for name, (size, digest) in wanted.items():
        if not (name == SITE or (name.startswith((TABLES, FILES)) and is_plain(name))):
            raise Unusable(
                _("The backup holds a part with the name “%(name)s”, which is not allowed.")
                % {"name": name[:80]}
            )
        if archive.getinfo(name).file_size != size:
            raise Unusable(_("The backup is damaged: “%(name)s” has another size.") % {"name": name})
        try:
            with archive.open(name) as part:
                fits = hash_of(part, size) == digest  # type: ignore[arg-type]
        except (zipfile.BadZipFile, OSError, EOFError, ValueError, NotImplementedError, RuntimeError):
            fits = False
        if not fits:
            raise Unusable(
                _("The backup is damaged: the checksum of “%(name)s” does not fit.") % {"name": name}
            )


def is_plain(name: str) -> bool:
    """Whether a part's name leads to one place below its folder and nowhere else."""
    return bool(_NAME.fullmatch(name)) and ".." not in name and "//" not in name and not name.endswith("/")
