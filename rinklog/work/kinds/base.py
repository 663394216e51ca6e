"""What a kind of work is: which details it has, and what it refuses."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from django.utils.functional import Promise
from django.utils.translation import gettext as _

from rinklog.facts import Refused
from rinklog.work.content import EntryContent

Text = str | Promise


@dataclass(frozen=True)
class Number:
    """A numeric detail: `quantity` says how it is shown and typed, the limits are SI."""

    title: Text
    quantity: str  # depth, water, temperature, minutes, mass, number
    lowest: float
    highest: float
    required: bool = False


@dataclass(frozen=True)
class Choice:
    """A detail out of a list."""

    title: Text
    choices: Mapping[str, Text]
    required: bool = False
    many: bool = False


@dataclass(frozen=True)
class Words:
    """A short text detail."""

    title: Text
    longest: int = 200
    required: bool = False


@dataclass(frozen=True)
class Yes:
    """A detail that is yes or no; `required` means it must be yes."""

    title: Text
    required: bool = False


Detail = Number | Choice | Words | Yes


@dataclass(frozen=True)
class WorkKind:
    """One kind of work. `icon` names its drawing in static/img/kinds.svg."""

    key: str
    title: Text
    icon: str
    details: Mapping[str, Detail] = field(default_factory=dict)
    takes_water: bool = False
    needs_zones: bool = True
    repairs: bool = False  # works on hazards
    judges: bool = False  # says of repaired hazards whether they hold
    stays_open: bool = False  # until an event closes it (a cover that was laid)
    closing: Choice | None = None  # what that event says
    safety_topic: str = ""  # must be acknowledged once a season
    check: Callable[[EntryContent], None] = lambda content: None

    def clean(self, content: EntryContent) -> dict[str, Any]:
        """Return the details worth keeping; raise Refused with the field and a sentence."""
        if self.needs_zones and not content.zone_ids:
            raise Refused("zones", _("Pick at least one zone: none is picked."))
        if content.water_m3 is not None and not self.takes_water:
            raise Refused("amount", _("This kind of work takes no water amount."))
        if content.water_m3 is not None and not 0 <= content.water_m3 < math.inf:
            said = {"value": f"{content.water_m3:g}"}
            raise Refused("amount", _("Water is %(value)s m³; allowed is 0 or more.") % said)
        if content.hazard_ids and not self.repairs or content.holding and not self.judges:
            raise Refused("hazards", _("This kind of work says nothing about hazards."))
        if content.conditions and not self.judges:
            raise Refused("condition", _("This kind of work says nothing about the zones' condition."))
        unknown = set(content.details) - set(self.details)
        if unknown:
            raise Refused(
                sorted(unknown)[0], _("“%(name)s” is not part of this kind of work.") % {"name": min(unknown)}
            )
        kept = {key: self._clean_one(key, content.details.get(key)) for key in self.details}
        self.check(content)
        return {key: value for key, value in kept.items() if value is not None}

    def _clean_one(self, key: str, value: Any) -> Any:
        detail = self.details[key]
        value = value.strip() if isinstance(value, str) else value
        # 0 is an answer: no white ice, no water below.
        if value is None or value is False or value in ("", [], ()):
            if detail.required:
                raise Refused(key, _("%(title)s is needed.") % {"title": detail.title})
            return None
        match detail:
            case Number():
                return _number(key, detail, value)
            case Choice():
                return _choice(key, detail, value)
            case Words():
                return str(value).strip()[: detail.longest]
        return bool(value)


def _number(key: str, detail: Number, value: Any) -> float:
    try:
        number = float(value)
    except (TypeError, ValueError):
        number = math.nan
    if not detail.lowest <= number <= detail.highest:
        raise Refused(
            key,
            _("%(title)s is %(value)s; allowed is %(lowest)s to %(highest)s (SI).")
            % {"title": detail.title, "value": value, "lowest": detail.lowest, "highest": detail.highest},
        )
    return number


def _choice(key: str, detail: Choice, value: Any) -> Any:
    values = list(value) if isinstance(value, list | tuple) else [value]
    for one in values:
        if one not in detail.choices:
            allowed = ", ".join(detail.choices)
            raise Refused(
                key,
                _("%(title)s is “%(value)s”; allowed are %(allowed)s.")
                % {"title": detail.title, "value": one, "allowed": allowed},
            )
    return sorted(set(values)) if detail.many else values[0]
