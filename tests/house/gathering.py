"""Gathering every sentence of the program, and reading a catalogue: the tests' own reader of the PO format."""

import ast
import re
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

import pytest
from django.core.management import call_command

from tests.house.files import ROOT

FIELD = re.compile(r'(msgctxt|msgid_plural|msgid|msgstr(?:\[\d\])?) (".*")')


@dataclass(frozen=True)
class Said:
    """One sentence of a catalogue and how it is translated."""

    context: str
    text: str
    plural: str
    forms: tuple[str, ...]
    flags: tuple[str, ...] = ()

    @property
    def key(self) -> tuple[str, str]:
        """What gettext looks it up by."""
        return self.context, self.text


def catalogue(path: Path) -> list[Said]:
    """The sentences of a catalogue, without its head and without what it keeps from before ("#~")."""
    blocks = re.split(r"\n\s*\n", path.read_text(encoding="utf-8"))
    return [one for one in map(sentence, blocks) if one and one.text]


def sentence(block: str) -> Said | None:
    """One block of a catalogue."""
    parts: dict[str, str] = {}
    flags: list[str] = []
    last = ""
    for line in block.splitlines():
        if line.startswith("#,"):
            flags += [flag.strip() for flag in line[2:].split(",")]
        elif found := FIELD.fullmatch(line):
            last = found[1]
            parts[last] = ast.literal_eval(found[2])
        elif line.startswith('"'):
            parts[last] += ast.literal_eval(line)
    if "msgid" not in parts:
        return None
    forms = tuple(words for name, words in parts.items() if name.startswith("msgstr"))
    return Said(parts.get("msgctxt", ""), parts["msgid"], parts.get("msgid_plural", ""), forms, tuple(flags))


def gathered_text(folder: Path) -> str:
    """A catalogue gathered in `folder` from a copy of the program, so that the real one is not touched."""
    if shutil.which("xgettext") is None:
        pytest.fail("the tests need gettext: apt-get install gettext")
    for name in ("rinklog", "templates"):
        shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__", "locale"))
    (folder / "locale").mkdir()
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        patch.setattr("django.conf.settings.LOCALE_PATHS", [])
        call_command("makemessages", locale=["en"], no_location=True, no_wrap=True, verbosity=0)
    return (folder / "locale/en/LC_MESSAGES/django.po").read_text(encoding="utf-8")


def gathered_from(folder: Path) -> list[Said]:
    """Every sentence of the program, as `catalogue` gives them."""
    gathered_text(folder)
    return catalogue(folder / "locale/en/LC_MESSAGES/django.po")


def compiles(path: Path, into: Path) -> str:
    """What msgfmt has against a catalogue; empty when it is well."""
    command = ["msgfmt", "--check", "-o", str(into), str(path)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    return done.stderr if done.returncode else ""
