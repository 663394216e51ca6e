"""Contrast of every colour pair in both themes, by the formula of WCAG 2.2 (relative luminance, contrast ratio)."""

import re
from pathlib import Path

import pytest

CSS = Path(__file__).parents[2] / "static" / "css" / "rinklog.css"
PAIR = tuple[str, str]

# Text is held to AAA (WCAG 2.2 success criterion 1.4.6: 7:1), edges and marks to 1.4.11: 3:1.
TEXT: tuple[PAIR, ...] = (
    ("ink", "ice"),
    ("ink", "board"),
    ("ink", "lit"),
    ("ink-soft", "ice"),
    ("ink-soft", "board"),
    ("link", "ice"),
    ("link", "board"),
    ("deed-ink", "deed"),
    ("warn", "warn-board"),
    ("bad", "bad-board"),
    ("bad", "board"),
    ("good", "board"),
    ("good", "ice"),
)
MARKS: tuple[PAIR, ...] = (("line", "ice"), ("line", "board"))
# A deed is seen by its face or its kick strip, a focus ring by either of its two lines.
EITHER: tuple[tuple[PAIR, str], ...] = (
    (("deed", "kick"), "ice"),
    (("deed", "kick"), "board"),
    (("ink", "kick"), "ice"),
    (("ink", "kick"), "board"),
    (("ink", "kick"), "deed"),
)
THEMES = ("light", "dark", "chosen-dark", "night", "sun")


def themes() -> dict[str, dict[str, str]]:
    """Colour variables by theme: light, the phone's own dark, the chosen looks; each changes the light one."""
    blocks = re.findall(r":root[^{}]*\{([^}]*#[^}]*)\}", CSS.read_text())
    read = [dict(re.findall(r"--([\w-]+):\s*(#[0-9a-fA-F]{6})", block)) for block in blocks]
    assert len(read) == len(THEMES)
    return {theme: read[0] | found for theme, found in zip(THEMES, read, strict=True)}


def luminance(colour: str) -> float:
    """WCAG 2.2, relative luminance."""
    parts = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """WCAG 2.2, contrast ratio."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_the_formula_gives_the_published_extremes() -> None:
    # WCAG 2.2: black on white is 21:1; #767676 on white is the well-known least grey at 4.54:1.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("pair", TEXT, ids="-on-".join)
def test_text_can_be_read(pair: PAIR, theme: str) -> None:
    colours = themes()[theme]
    assert contrast(colours[pair[0]], colours[pair[1]]) >= 7


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("pair", MARKS, ids="-beside-".join)
def test_edges_and_marks_can_be_seen(pair: PAIR, theme: str) -> None:
    colours = themes()[theme]
    assert contrast(colours[pair[0]], colours[pair[1]]) >= 3


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(("pair", "ground"), EITHER)
def test_a_deed_and_a_focus_ring_stand_out_by_one_of_their_colours(
    pair: PAIR, ground: str, theme: str
) -> None:
    colours = themes()[theme]
    assert max(contrast(colours[name], colours[ground]) for name in pair) >= 3


def test_dark_is_the_same_whether_the_phone_or_the_person_chose_it() -> None:
    assert themes()["dark"] == themes()["chosen-dark"]


def test_the_night_look_has_hardly_any_blue_and_is_dimmer_than_the_dark_one() -> None:
    night, dark = themes()["night"], themes()["dark"]
    assert all(int(colour[5:7], 16) < int(colour[1:3], 16) for colour in night.values())
    assert luminance(night["ink"]) < luminance(dark["ink"]) / 1.9


def test_the_sun_look_is_black_on_white() -> None:
    sun = themes()["sun"]
    assert contrast(sun["ink"], sun["ice"]) == pytest.approx(21)


def test_no_rule_uses_a_colour_outside_the_variables() -> None:
    for sheet in CSS.parent.glob("*.css"):
        rules = re.sub(r":root[^{}]*\{[^}]*\}", "", sheet.read_text())
        rules = re.sub(r"@media print\s*\{.*?\}\s*\}", "", rules, flags=re.DOTALL)
        assert not re.findall(r"#[0-9a-fA-F]{3,8}\b(?![^{]*\{)", rules), sheet.name
