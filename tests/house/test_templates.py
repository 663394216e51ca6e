"""Templates: no inline style or script, every word through gettext, panels that stand alone."""

import re

import pytest

from tests.house.files import files, text

TEMPLATES = files(".html", "templates")
NOT_SHOWN = [
    r"{#.*?#}",
    r"{% comment %}.*?{% endcomment %}",
    r"{% blocktranslate.*?{% endblocktranslate %}",
    r"{% blocktrans .*?{% endblocktrans %}",
    r"<!--.*?-->",
    r"<(script|code|kbd|pre|svg:defs)\b.*?</\1>",
]
WORD = re.compile(r"[^\W\d_]{2,}")
READ_ALOUD = re.compile(r"\b(?:title|alt|placeholder|aria-label|aria-description|label)=\"([^\"]*)\"")


@pytest.mark.parametrize("name", TEMPLATES)
def test_a_template_has_no_inline_style_script_or_handler(name: str) -> None:
    page = text(name)
    assert re.findall(r"\sstyle=|<style\b|\son[a-z]+=|javascript:|hx-on", page) == []
    assert [
        tag for tag in re.findall(r"<script\b[^>]*>", page) if "src=" not in tag and "json" not in tag
    ] == []


@pytest.mark.parametrize("name", TEMPLATES)
def test_every_word_of_a_template_goes_through_gettext(name: str) -> None:
    page = text(name)
    for pattern in NOT_SHOWN:
        page = re.sub(pattern, " ", page, flags=re.DOTALL)
    page = re.sub(r"{%.*?%}|{{.*?}}", " ", page, flags=re.DOTALL)
    read_aloud = " ".join(READ_ALOUD.findall(page))
    shown = re.sub(r"&[a-z]+;", " ", re.sub(r"<[^>]*>", " ", page, flags=re.DOTALL))
    assert [word for word in WORD.findall(f"{shown} {read_aloud}") if word != "rinklog"] == []


@pytest.mark.parametrize("name", TEMPLATES)
def test_what_scrolls_sideways_is_reached_by_keyboard_and_has_a_name(name: str) -> None:
    scrolls = re.findall(r"<[a-z]+ class=\"(?:[^\"]* )?(?:scroll|table-box)[ \"].*?>", text(name))
    assert [tag for tag in scrolls if not re.search(r'tabindex="0" role="region" aria-label', tag)] == []


@pytest.mark.parametrize("name", [name for name in TEMPLATES if "/_" in name])
def test_a_panel_never_extends_a_page(name: str) -> None:
    assert "{% extends" not in text(name)
