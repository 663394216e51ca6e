"""Every sentence can reach a translator: the gathering knows each name by which the code calls gettext."""

import re
from pathlib import Path

import pytest

from tests.house.files import files, text
from tests.house.gathering import compiles, gathered_text

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
    """A catalogue gathered from a copy of the program."""
    return gathered_text(tmp_path_factory.mktemp("copy"))


@pytest.mark.parametrize("way", SAID)
def test_a_sentence_is_gathered_however_the_code_says_it(gathered: str, way: str) -> None:
    assert f'msgid "{SAID[way]}"' in gathered.replace("Bump", "bump")


def test_the_catalogue_is_one_that_gettext_can_compile(gathered: str, tmp_path: Path) -> None:
    (tmp_path / "en.po").write_text(gathered, encoding="utf-8")
    assert compiles(tmp_path / "en.po", tmp_path / "en.mo") == ""


def test_gettext_has_no_other_names_than_the_gathering_knows() -> None:
    named = re.compile(r"from django\.utils\.translation import ([^\n(]+|\([^)]*\))")
    known = {
        "_",
        "lazy",
        "gettext",
        "gettext_lazy",
        "ngettext",
        "ngettext_lazy",
        "pgettext",
        "npgettext",
        "pgettext_lazy",
    }
    others = {
        (name, word.split(" as ")[-1].strip())
        for name in files(".py", "rinklog")
        for words in named.findall(text(name))
        for word in words.strip("()").split(",")
        if "gettext" in word and word.split(" as ")[-1].strip() not in known
    }
    assert others == set()
