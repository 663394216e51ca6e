"""The set-up pages: every calculator of the command line, a page a group, with picture, source and caution."""

import tempfile
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _

from rinklog.calculators.declare import Calculator, InputError, Key
from rinklog.calculators.evaluate import Outcome, evaluate
from rinklog.calculators.registry import GROUPS
from rinklog.crew.rights import Right
from rinklog.web.access import At, on_rink
from rinklog.web.charts import Curve
from rinklog.web.measures import Units
from rinklog.web.middleware import current_units
from rinklog.web.panels import reply
from rinklog.web.tools.curves import picture
from rinklog.web.tools.samples import SAMPLES
from rinklog.web.tools.values import Shown, allowed, field_text, from_calculator, to_calculator, unit_beside

MATERIAL = {
    "k_ice_wmk",
    "rho_ice_kgm3",
    "latent_jkg",
    "c_ice_jkgk",
    "c_water_jkgk",
    "heat_jkg",
    "pressure_pa",
}
MOST_PASTED = 200_000


@dataclass
class FieldRow:
    """One input on the page."""

    key: Key
    text: str
    unit: str
    error: str = ""

    @property
    def is_table(self) -> bool:
        """Whether the value is a pasted table."""
        return self.key.kind in ("grid", "spells")

    @property
    def options(self) -> list[str]:
        """Choices, with the refused ones: choosing one tells why."""
        return [*self.key.choices, *(word for word, _reason in self.key.refused)]


@dataclass
class Card:
    """One calculator on the page: its fields, and the answer when it was asked."""

    calculator: Calculator
    fields: list[FieldRow]
    asked: bool = False
    results: list[tuple[str, Shown | str]] = field(default_factory=list)
    table: list[dict[str, str]] = field(default_factory=list)
    caution: str = ""
    curve: Curve | None = None
    error: str = ""

    @property
    def main_fields(self) -> list[FieldRow]:
        """The fields people change."""
        return [row for row in self.fields if row.key.name not in MATERIAL]

    @property
    def material_fields(self) -> list[FieldRow]:
        """Constants of nature, there to be seen and changed."""
        return [row for row in self.fields if row.key.name in MATERIAL]


@on_rink(Right.SEE)
def tools(request: HttpRequest, at: At) -> HttpResponse:
    """The groups of calculators."""
    return render(request, "tools/tools.html", {"groups": GROUPS})


@on_rink(Right.SEE)
def tool_group(request: HttpRequest, at: At, group: str) -> HttpResponse:
    """A group's calculators; `?name=` asks one of them."""
    found = next((one for one in GROUPS if one.slug == group), None)
    if found is None:
        raise Http404
    cards = [card(calculator, request, current_units()) for calculator in found.calculators]
    asked = next((one for one in cards if one.asked), None)
    status = 422 if asked is not None and asked.error else 200
    context: dict[str, Any] = {"group": found, "cards": cards, "card": asked or cards[0]}
    panel = "tools/_card.html" if asked else "tools/group.html"
    return reply(request, "tools/group.html", panel, context, status=status)


def card(calculator: Calculator, request: HttpRequest, units: Units) -> Card:
    """Build one calculator's card, answered when the request asks it."""
    asked = request.GET.get("name") == calculator.name
    typed = {key.name: request.GET.get(key.name, "").strip() for key in calculator.keys} if asked else None
    built = Card(calculator, [row(calculator, key, typed, units) for key in calculator.keys], asked=asked)
    if typed is not None:
        answer(built, typed, units)
    return built


def row(calculator: Calculator, key: Key, typed: dict[str, str] | None, units: Units) -> FieldRow:
    """A field with what was typed, else the sample, else the default."""
    if typed is not None:
        text = typed[key.name] or ("" if key.default is None else field_text(key.default, key, units))
    else:
        start = SAMPLES.get(calculator.name, {}).get(key.name, key.default)
        text = "" if start is None else field_text(start, key, units)
    return FieldRow(key, text, unit_beside(key.unit, units))


def answer(built: Card, typed: dict[str, str], units: Units) -> None:
    """Fill in the answer, or the sentence that says what is wrong."""
    with tempfile.TemporaryDirectory() as folder:
        try:
            outcome = evaluate(built.calculator, given(built, typed, units, Path(folder)))
        except InputError as error:
            refuse(built, error, units)
            return
        except ValueError as error:  # the rule does not apply to this rink; the sentence says why
            built.error = str(error)
            return
    built.caution = _(outcome.caution) if outcome.caution else ""
    built.curve = picture(outcome, units)
    fill_results(built, outcome, units)


def given(built: Card, typed: dict[str, str], units: Units, folder: Path) -> dict[str, str]:
    """What was typed, for the calculator. A default left as it was is not given: it may belong to another way."""
    values = {}
    for one in built.fields:
        key, text = one.key, typed[one.key.name]
        if text == "" or (key.default is not None and text == field_text(key.default, key, units)):
            continue
        if one.is_table:
            path = folder / f"{key.name}.csv"
            path.write_text(text[:MOST_PASTED], encoding="utf-8")
            values[key.name] = f"@{path}"
        else:
            values[key.name] = to_calculator(key, text, units)
    return values


def refuse(built: Card, error: InputError, units: Units) -> None:
    """Put the sentence on the field it is about, in the person's own units and words."""
    for one in built.fields:
        if one.key.name == error.key:
            value = one.text or error.value
            one.error = _("%(field)s is “%(value)s”; allowed is %(allowed)s.") % {
                "field": _(one.key.sentence).capitalize(),
                "value": value[:60],
                "allowed": allowed(one.key, units)
                if one.text and one.key.kind == "number"
                else _(error.permitted),
            }
            built.error = one.error
            return
    built.error = str(error)


def fill_results(built: Card, outcome: Outcome, units: Units) -> None:
    """Results as people read them: one figure each, lists as a table."""
    lists: dict[str, list[Any]] = {}
    for result in built.calculator.results:
        value = outcome.results.get(result.name)
        if isinstance(value, list):
            lists[result.name] = value
        elif isinstance(value, int | float) and not isinstance(value, bool):
            built.results.append((result.sentence, from_calculator(value, result.unit, units)))
        elif value is not None:
            built.results.append((result.sentence, str(value)))
    if "groups" in lists:
        built.table = [
            {
                _("group"): str(one["group"] or _("all")),
                _("median days"): str(one["median_days"] or _("not reached")),
            }
            for one in lists["groups"]
        ]
    elif lists:
        titles = {r.name: f"{_(r.sentence)} ({unit_beside(r.unit, units)})" for r in built.calculator.results}
        count = len(next(iter(lists.values())))
        built.table = [
            {
                titles[name]: from_calculator(column[i], unit_of(built.calculator, name), units).text
                for name, column in lists.items()
                if i < len(column)
            }
            for i in range(count)
        ]


def unit_of(calculator: Calculator, name: str) -> str:
    """The unit of a result."""
    return next(result.unit for result in calculator.results if result.name == name)
