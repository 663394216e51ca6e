"""French and Norwegian say every sentence of the program, with the same places to fill, and what runs is what is read."""

import gettext
import re
from collections import Counter
from functools import cache
from pathlib import Path

import pytest
from django.conf import settings

from tests.house.files import ROOT, files, text
from tests.house.gathering import Said, catalogue, compiles, gathered_from

LOCALE = ROOT / "rinklog" / "locale"
LANGUAGES = [code for code, _name in settings.LANGUAGES if code != "en"]
# %(name)s, {name}, %%, and tags of HTML.
MARK = re.compile(r"%\(\w+\)[0-9.]*[sdif]|%[sd%]|\{\w*(?::[^}]*)?\}|</?[a-z]+[^>]*>")


def source(language: str) -> Path:
    """The catalogue people write."""
    return LOCALE / language / "LC_MESSAGES" / "django.po"


@cache
def said(language: str) -> dict[tuple[str, str], Said]:
    """Every sentence of a catalogue."""
    return {one.key: one for one in catalogue(source(language))}


@pytest.fixture(scope="module")
def asked(tmp_path_factory: pytest.TempPathFactory) -> set[tuple[str, str]]:
    """Every sentence that the program asks for, gathered now."""
    return {one.key for one in gathered_from(tmp_path_factory.mktemp("gathered"))}


def test_every_language_that_is_offered_has_a_catalogue_and_the_other_way_round() -> None:
    assert sorted(path.parent.parent.name for path in LOCALE.glob("*/LC_MESSAGES/django.mo")) == sorted(
        LANGUAGES
    )


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_sentence_of_the_program_is_missing_and_none_is_left_over(
    asked: set[tuple[str, str]], language: str
) -> None:
    assert sorted(asked - set(said(language))) == []
    assert sorted(set(said(language)) - asked) == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_sentence_is_said_in_every_form_and_none_is_a_guess(language: str) -> None:
    catalogue = said(language).values()
    assert [one.key for one in catalogue if not all(form.strip() for form in one.forms)] == []
    assert [one.key for one in catalogue if one.plural and len(one.forms) != 2] == []
    assert [one.key for one in catalogue if "fuzzy" in one.flags] == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_translation_has_the_places_and_tags_of_its_sentence(language: str) -> None:
    wrong = [one.key for one in said(language).values() if not fits(one)]
    assert wrong == []


def fits(one: Said) -> bool:
    """Whether a translation fills what its sentence fills; the form for one may leave the number out or bring it in."""
    if not one.plural:
        return Counter(MARK.findall(one.forms[0])) == Counter(MARK.findall(one.text))
    places = set(MARK.findall(one.plural))
    return set(MARK.findall(one.forms[1])) == places >= set(MARK.findall(one.forms[0])) and places >= set(
        MARK.findall(one.text)
    )


@pytest.mark.parametrize("language", LANGUAGES)
def test_what_runs_is_compiled_from_what_is_read(language: str, tmp_path: Path) -> None:
    made = tmp_path / "django.mo"
    assert compiles(source(language), made) == ""
    kept = source(language).with_suffix(".mo")
    assert sentences(kept) == sentences(made), (
        f"compile {language} again: see “A new language” in DEVELOPERS.md"
    )


def sentences(compiled: Path) -> dict[object, str]:
    """What a compiled catalogue says, read by the standard library."""
    with compiled.open("rb") as file:
        read = gettext.GNUTranslations(file)
    return {key: words for key, words in read._catalog.items() if key}  # type: ignore[attr-defined]


# French counts nought as one (CLDR 48, plural rules): a form for one without its number would say "one" for none.
NEVER_NONE = {"every day", "every week", "every month", "once"}


def test_the_french_form_for_one_names_its_number_unless_there_is_never_none() -> None:
    silent = [
        one.key
        for one in said("fr").values()
        if one.plural
        and one.text not in NEVER_NONE
        and set(MARK.findall(one.forms[0])) != set(MARK.findall(one.plural))
    ]
    assert silent == []


def test_months_are_written_by_our_own_filter_and_function() -> None:
    """`rinklog/dates.py` says why: only English writes the short months with a capital."""
    for name in files(".py", "rinklog", without=("rinklog/dates.py",)):
        assert "date_format(" not in text(name), name
    for name in files(".html", "templates"):
        if re.search(r"""\|date:["'][^"']*M""", text(name)):
            assert re.search(r"{% load [^%]*\brinklog\b", text(name)), name


def test_no_sentence_hides_in_braces_where_the_gathering_does_not_look() -> None:
    """xgettext reads no code inside an f-string."""
    hidden = re.compile(r"""\bf["'][^\n]*\{(?:_|lazy|n?gettext)\(["']""")
    assert [name for name in files(".py", "rinklog") if hidden.search(text(name))] == []
