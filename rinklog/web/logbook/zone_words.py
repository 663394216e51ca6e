"""Zones as people write them on paper: "A1 A2", "A1-B4" (the block between two corners), "all"."""

import re
from collections.abc import Sequence

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import pgettext

from rinklog.rink.models import Zone

BLOCK = re.compile(r"^([A-Z]+\d+)[-–]([A-Z]+\d+)$")


def read_zones(text: str, zones: Sequence[Zone], label: str) -> list[int]:
    """Ids of the zones that a text names. Errors: ValidationError with one sentence."""
    by_name = {zone.label: zone for zone in zones}
    found: list[int] = []
    for word in re.sub(r"\s*[-–]\s*", "-", text.upper()).replace(",", " ").replace(";", " ").split():
        if word in ("ALL", pgettext("zones", "all").upper()):
            return [zone.id for zone in zones]
        block = BLOCK.match(word)
        corners = [by_name.get(name) for name in (block.groups() if block else (word, word))]
        if corners[0] is None or corners[1] is None:
            raise forms.ValidationError(
                _(
                    "%(field)s is “%(value)s”; allowed are %(first)s to %(last)s, blocks such as A1-B2, or all."
                )
                % {"field": label, "value": word, "first": zones[0].label, "last": zones[-1].label}
            )
        found.extend(zone.id for zone in zones if _within(zone, corners[0], corners[1]))
    return list(dict.fromkeys(found))


def _within(zone: Zone, one: Zone, other: Zone) -> bool:
    rows, columns = sorted((one.row, other.row)), sorted((one.column, other.column))
    return rows[0] <= zone.row <= rows[1] and columns[0] <= zone.column <= columns[1]
