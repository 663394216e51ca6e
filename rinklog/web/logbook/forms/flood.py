"""The form of a flood: water by amount, by meter readings, or by minutes at a measured hose flow."""

from dataclasses import replace
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.web.fields import QuantityField
from rinklog.web.logbook.forms.base import WorkForm, chips
from rinklog.web.measures import Units
from rinklog.work.kinds import KINDS, flood
from rinklog.work.models import Entry

METER_UNITS = {"m3": "m3", "gal": "gal_us"}
READINGS = (
    "meter_before_m3",
    "meter_after_m3",
    "meter_rolls_at_m3",
    "meter_old_end_m3",
    "meter_new_start_m3",
)


class MeterField(QuantityField):
    """A reading: a bare number is in the unit on the meter's own dial, whatever the person uses elsewhere."""

    dial = ""

    def units(self) -> Units:
        units = super().units()
        return replace(units, meter=METER_UNITS[self.dial]) if self.dial in METER_UNITS else units


def reading(key: str) -> MeterField:
    """A field for one reading of the meter."""
    detail = KINDS["flood"].details[key]
    return MeterField(label=detail.title, quantity="meter", lowest=0, highest=1e8, required=False)


class FloodForm(WorkForm):
    """Water, and what it came from."""

    kind = "flood"
    detail_fields = (
        "by",
        "meter_unit",
        "meter_change",
        *READINGS,
        "hose_minutes",
        "hose_flow_ls",
        "water",
        "tool",
    )
    from_last = ("by", "meter_unit", "hose_minutes", "hose_flow_ls", "water", "tool")

    by = chips("flood", "by", initial="amount")
    amount = QuantityField(label=lazy("Water"), quantity="water", lowest=0, highest=5000, required=False)
    meter_unit = chips("flood", "meter_unit")
    meter_before_m3 = reading("meter_before_m3")
    meter_after_m3 = reading("meter_after_m3")
    meter_change = chips("flood", "meter_change")
    meter_rolls_at_m3 = reading("meter_rolls_at_m3")
    meter_old_end_m3 = reading("meter_old_end_m3")
    meter_new_start_m3 = reading("meter_new_start_m3")
    hose_minutes = QuantityField(
        label=lazy("Minutes of water"), quantity="minutes", lowest=0, highest=4320, required=False
    )
    hose_flow_ls = QuantityField(
        label=lazy("Hose flow"), quantity="flow", lowest=0.001, highest=100, required=False
    )
    water = chips("flood", "water", initial="cold")
    tool = chips("flood", "tool", initial="hose")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        change: Any = self.fields["meter_change"]
        change.choices = [("", lazy("runs on")), *change.choices]
        dial = self["meter_unit"].value() or ""
        for name in READINGS:
            self.fields[name].dial = dial  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """Ask for just the numbers that the chosen way needs, and drop the others."""
        data = super().clean() or {}
        way = data.get("by") or flood.BY_AMOUNT
        needed = self._needed(way, data.get("meter_change") or "")
        for name in needed:
            if data.get(name) is None and name not in self.errors:
                self.add_error(
                    name, _("%(field)s is empty; it is needed.") % {"field": self.fields[name].label}
                )
        for other in {"amount", "hose_minutes", "hose_flow_ls", *READINGS} - set(needed):
            data[other] = None
            self.errors.pop(other, None)
        if way != flood.BY_METER:
            data["meter_unit"] = data["meter_change"] = ""
        if not self.errors and (self.water_m3() or 0) < 0:
            self.add_error("meter_after_m3", self._backwards())
        return data

    def _needed(self, way: str, change: str) -> tuple[str, ...]:
        if way == flood.BY_AMOUNT:
            return ("amount",)
        return flood.NEEDS[way] + (flood.NEEDS.get(change, ()) if way == flood.BY_METER else ())

    def _backwards(self) -> str:
        return _(
            "The meter reads “%(after)s” after and “%(before)s” before; allowed is the same or more. "
            "If it rolled over or was replaced, say so below."
        ) % {"after": self["meter_after_m3"].value(), "before": self["meter_before_m3"].value()}

    def water_m3(self) -> float | None:
        """Water [m³] by the chosen way; None while a number is missing."""
        data = getattr(self, "cleaned_data", {})
        if data.get("by") == flood.BY_AMOUNT:
            return data.get("amount")
        return flood.water_m3(data)

    def water_so_far(self) -> float | None:
        """Water [m³] of what is typed or preset, to show the coat; None while it cannot be told."""
        if self.is_bound:
            self.is_valid()
            return self.water_m3()
        typed = type(self)(
            {name: self[name].value() for name in self.fields} | {"zones": []},
            at=self.at,
            grid=self.grid,
            zones=self.grid_zones,
            crew=[],
            hazards=[],
        )
        typed.is_valid()
        return typed.water_m3()

    def area_m2(self) -> float:
        """True area of the picked zones [m²]."""
        picked = self.picked_zones()
        return sum(zone.area_m2 for zone in self.grid_zones if zone.id in picked)

    @classmethod
    def defaults(cls, at: Any, last: Entry | None) -> dict[str, Any]:
        """The last way of measuring and the last amounts, from where the meter stood."""
        start = super().defaults(at, last)
        start.setdefault("meter_unit", "gal" if at.person.water_unit == "gal" else "m3")
        if last is None:
            return start
        start["meter_before_m3"] = last.details.get("meter_after_m3")
        if last.details.get("by") == flood.BY_AMOUNT:
            start["amount"] = last.water_m3
        return start

    @classmethod
    def from_entry(cls, entry: Entry) -> dict[str, Any]:
        start = super().from_entry(entry)
        if entry.details.get("by") == flood.BY_AMOUNT:
            start["amount"] = entry.water_m3
        return start
