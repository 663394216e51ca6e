"""Every sentence can reach a translator: the gathering knows each name by which the code calls gettext."""

import re
import shutil
import subprocess
from pathlib import Path

import pytest
from django.core.management import call_command

from tests.house.files import ROOT, files, text

# Sentences picked by hand, one for each way of saying them.
SAID = {
    "gettext as _": "Say in a few words why it is amended: the reason is empty.",
    "gettext_lazy as _": "bump",
    "gettext_lazy as lazy": "Work log as CSV",
    "translate": "Make a backup now",
    "blocktranslate": "The first %(shown)s are shown.",
}


@pytest.fixture(scope="module")
def gathered(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A catalogue gathered from a copy of the program, so that the real one is not touched."""
    if shutil.which("xgettext") is None:
        pytest.fail("the tests need gettext: apt-get install gettext")
    copy = tmp_path_factory.mktemp("copy")
    for folder in ("rinklog", "templates"):
        shutil.copytree(ROOT / folder, copy / folder, ignore=shutil.ignore_patterns("__pycache__", "locale"))
    (copy / "locale").mkdir()
    call_in(copy)
    return (copy / "locale/en/LC_MESSAGES/django.po").read_text(encoding="utf-8")


def call_in(folder: Path) -> None:
    """Gather in another folder."""
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        patch.setattr("django.conf.settings.LOCALE_PATHS", [])
        call_command("makemessages", locale=["en"], no_location=True, no_wrap=True, verbosity=0)


@pytest.mark.parametrize("way", SAID)
def test_a_sentence_is_gathered_however_the_code_says_it(gathered: str, way: str) -> None:
    assert f'msgid "{SAID[way]}"' in gathered.replace("Bump", "bump")


def test_the_catalogue_is_one_that_gettext_can_compile(gathered: str, tmp_path: Path) -> None:
    (tmp_path / "en.po").write_text(gathered, encoding="utf-8")
    done = subprocess.run(
        ["msgfmt", "--check-format", "-o", str(tmp_path / "en.mo"), str(tmp_path / "en.po")],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr


def test_gettext_has_no_other_names_than_the_gathering_knows() -> None:
    named = re.compile(r"from django\.utils\.translation import ([^\n(]+|\([^)]*\))")
    known = {"_", "lazy", "gettext", "gettext_lazy", "ngettext", "ngettext_lazy", "pgettext", "npgettext"}
    others = {
        (name, word.split(" as ")[-1].strip())
        for name in files(".py", "rinklog")
        for words in named.findall(text(name))
        for word in words.strip("()").split(",")
        if "gettext" in word and word.split(" as ")[-1].strip() not in known
    }
    assert others == set()
