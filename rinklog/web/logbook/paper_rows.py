"""The rows that a paper log is typed into, column by column. A row in which nothing is typed is left out."""

import datetime as dt
import re
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.crew.models import Person
from rinklog.rink.models import Zone
from rinklog.web.fields import ConeField, QuantityField
from rinklog.web.logbook.ways import details_of, ways
from rinklog.web.logbook.zone_words import read_zones
from rinklog.work.content import EntryContent
from rinklog.work.hazards import HazardContent
from rinklog.work.models import Hazard
from rinklog.work.sheets import HazardLine, Line

CLOCK = re.compile(r"^(\d{1,2})[:.h]?(\d{2})$")


class PaperRow(forms.Form):
    """What every table of the paper begins with: when and where."""

    line: str  # what a line of this table is called in the ids that follow from the sheet's
    typed: tuple[str, ...]  # fields of which one at least makes it a row
    needed: tuple[str, ...]
    field_of: dict[str, str] = {}  # where the recording's refusals are shown, if not at time or zones

    time = forms.CharField(label=lazy("Time"), required=False, max_length=8)
    zones = forms.CharField(label=lazy("Zones"), required=False, max_length=400)

    def __init__(self, *args: Any, zones: list[Zone], crew: list[Person], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.grid_zones, self.crew = zones, {str(person.id): person for person in crew}
        if "who" in self.fields:
            self.fields["who"].choices = [(id, person.name) for id, person in self.crew.items()]  # type: ignore[attr-defined]
        for name in ("time", "zones"):
            self.fields[name].widget.attrs["autocomplete"] = "off"

    @property
    def is_blank(self) -> bool:
        """Whether nothing is typed in it."""
        return not any(str(self[name].value() or "").strip() for name in self.typed)

    def clean_time(self) -> dt.time:
        """19:30, 19.30 or 1930."""
        text = self.cleaned_data["time"].strip()
        parts = CLOCK.match(text)
        if parts is None or int(parts[1]) > 23 or int(parts[2]) > 59:
            raise forms.ValidationError(
                _("%(field)s is “%(value)s”; allowed is a time of day such as 19:30.")
                % {"field": self.fields["time"].label, "value": text}
            )
        return dt.time(int(parts[1]), int(parts[2]))

    def clean_zones(self) -> list[int]:
        """Names, blocks, or all."""
        return read_zones(self.cleaned_data["zones"], self.grid_zones, str(self.fields["zones"].label))

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        for name in self.needed:
            if data.get(name) in (None, "") and name not in self.errors:
                needed = _("%(field)s is empty; it is needed.") % {"field": self.fields[name].label}
                self.add_error(name, needed)
        return data

    def as_line(self, key: str, started_at: dt.datetime, local_day: dt.date) -> Line | HazardLine:
        """The row as a line of a sheet. Call after is_valid()."""
        raise NotImplementedError

    def place_of(self, field: str) -> str | None:
        """The field of the row at which a refusal of the recording is shown; None is the row itself."""
        known = {"started": "time", "found": "time", "zones": "zones"} | self.field_of
        return known.get(field)


class WorkRow(PaperRow):
    """A flood, snow removed, a patch."""

    line, typed, needed = "line", ("time", "zones", "way", "water", "minutes"), ("way", "minutes")
    field_of = {"amount": "water"}

    way = forms.ChoiceField(label=lazy("Work"), required=False)
    water = QuantityField(label=lazy("Water"), quantity="water", lowest=0, highest=5000, required=False)
    minutes = QuantityField(label=lazy("Minutes"), quantity="minutes", lowest=0, highest=2880, required=False)
    who = forms.ChoiceField(label=lazy("Who"))

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["way"].choices = [("", ""), *ways()]  # type: ignore[attr-defined]

    def as_line(self, key: str, started_at: dt.datetime, local_day: dt.date) -> Line:
        data = self.cleaned_data
        kind, details = details_of(data["way"])
        content = EntryContent(
            started_at=started_at,
            zone_ids=tuple(data["zones"]),
            minutes={self.crew[data["who"]].id: data["minutes"]},
            water_m3=data["water"],
            details=details,
        )
        return Line(key, kind, content, local_day)


class HazardRow(PaperRow):
    """What was found on the ice."""

    line, needed = "hazard", ("kind",)
    typed = ("time", "zones", "kind", "cone_out", "cone_number", "note")
    field_of = {"kind": "kind", "severity": "severity", "cone_number": "cone_number"}

    kind = forms.ChoiceField(
        label=lazy("What is it?"), required=False, choices=[("", ""), *Hazard.Kind.choices]
    )
    severity = forms.ChoiceField(
        label=lazy("How bad?"), choices=Hazard.Severity.choices, initial=Hazard.Severity.TRIP
    )
    cone_out = forms.BooleanField(label=lazy("A cone is out"), required=False)
    cone_number = ConeField(required=False)
    note = forms.CharField(label=lazy("Note"), required=False, max_length=400)

    def as_line(self, key: str, started_at: dt.datetime, local_day: dt.date) -> HazardLine:
        data = self.cleaned_data
        content = HazardContent(
            kind=data["kind"],
            found_at=started_at,
            severity=data["severity"],
            zone_ids=tuple(data["zones"]),
            cone_out=data["cone_out"] or data["cone_number"] is not None,
            note=data["note"],
        )
        return HazardLine(key, content, local_day, data["cone_number"])


class HoleRow(PaperRow):
    """A hole that was drilled, and the ice in it."""

    line, typed, needed = "hole", ("time", "zones", "clear_ice", "white_ice"), ("clear_ice",)

    clear_ice = QuantityField(label=lazy("Clear ice"), quantity="depth", lowest=0, highest=3, required=False)
    white_ice = QuantityField(label=lazy("White ice"), quantity="depth", lowest=0, highest=3, required=False)
    who = forms.ChoiceField(label=lazy("Who"))

    def as_line(self, key: str, started_at: dt.datetime, local_day: dt.date) -> Line:
        data = self.cleaned_data
        ice = {"clear_ice_m": data["clear_ice"], "white_ice_m": data["white_ice"]}
        content = EntryContent(
            started_at=started_at,
            zone_ids=tuple(data["zones"]),
            minutes={self.crew[data["who"]].id: 0.0},  # the paper does not ask how long it took
            details={name: depth for name, depth in ice.items() if depth is not None},
        )
        return Line(key, "drill-hole", content, local_day)
