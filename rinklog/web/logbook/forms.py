"""Forms for recording work: what every kind asks (WorkForm), and what the flood asks besides."""

import datetime as dt
from typing import Any
from uuid import UUID, uuid4

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.crew.models import Person
from rinklog.rink.models import Zone
from rinklog.web.access import At
from rinklog.web.fields import LocalTimeField, QuantityField
from rinklog.work.content import EntryContent
from rinklog.work.kinds import KINDS
from rinklog.work.models import Entry

SKIES = {
    "": "",
    "clear": lazy("clear"),
    "cloudy": lazy("cloudy"),
    "snowing": lazy("snowing"),
    "raining": lazy("raining"),
}


class WorkForm(forms.Form):
    """What every kind of work asks: where, when, who, and how it was."""

    kind: str = ""
    detail_fields: tuple[str, ...] = ()  # form fields that go into details under the same name

    id = forms.UUIDField(widget=forms.HiddenInput)
    sent = forms.CharField(widget=forms.HiddenInput, required=False)
    zones = forms.TypedMultipleChoiceField(coerce=int, required=False, label=lazy("Zones"))
    started = LocalTimeField(label=lazy("Started"))
    ended = LocalTimeField(label=lazy("Ended"), required=False)
    note = forms.CharField(
        label=lazy("Note"), required=False, max_length=4000, widget=forms.Textarea(attrs={"rows": 2})
    )
    lesson = forms.BooleanField(label=lazy("A lesson for the season's review"), required=False)
    seen_air = QuantityField(
        label=lazy("Air temperature"), quantity="temperature", lowest=-60, highest=50, required=False
    )
    seen_wind = QuantityField(label=lazy("Wind"), quantity="speed", lowest=0, highest=75, required=False)
    seen_sky = forms.ChoiceField(label=lazy("Sky"), choices=list(SKIES.items()), required=False)

    def __init__(self, *args: Any, at: At, zones: list[Zone], crew: list[Person], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.at, self.grid_zones, self.crew = at, zones, crew
        self.fields["zones"].choices = [(zone.id, zone.label) for zone in zones]  # type: ignore[attr-defined]
        for field in self.fields.values():
            if isinstance(field, LocalTimeField):
                field.set_zone(at.zone)
        for person in crew:
            self.fields[minutes_name(person)] = QuantityField(
                label=person.name, quantity="minutes", lowest=0, highest=2880, required=False
            )

    @property
    def people(self) -> list[tuple[Person, forms.BoundField]]:
        """Each crew member with the field for their minutes, the one who writes first."""
        rows = [(person, self[minutes_name(person)]) for person in self.crew]
        return sorted(rows, key=lambda row: row[0].id != self.at.person.id)

    def picked_zones(self) -> set[int]:
        """Ids of the zones picked so far, from what was typed or from the defaults."""
        value = self["zones"].value() or []
        return {int(item) for item in value if str(item).isdigit()}

    def details(self) -> dict[str, Any]:
        """The details of this kind, SI."""
        return {name: self.cleaned_data[name] for name in self.detail_fields if self.cleaned_data.get(name)}

    def water_m3(self) -> float | None:
        """Water used [m³]; kinds that take water say how."""
        return None

    def content(self) -> EntryContent:
        """What was typed, as content for the service. Call after is_valid()."""
        data = self.cleaned_data
        minutes = {
            person.id: value for person in self.crew if (value := data.get(minutes_name(person))) is not None
        }
        return EntryContent(
            started_at=data["started"],
            ended_at=data["ended"],
            zone_ids=tuple(data["zones"]),
            minutes=minutes,
            water_m3=self.water_m3(),
            details=self.details(),
            note=data["note"].strip(),
            lesson=data["lesson"],
            seen_air_c=data["seen_air"],
            seen_wind_ms=data["seen_wind"],
            seen_sky=data["seen_sky"],
        )

    @property
    def sent_at(self) -> dt.datetime | None:
        """The device's clock when it sent, if it said so in a readable way."""
        try:
            sent = dt.datetime.fromisoformat(self.cleaned_data.get("sent") or "")
        except ValueError:
            return None
        return sent if sent.tzinfo else None

    @classmethod
    def defaults(cls, at: At, last: Entry | None) -> dict[str, Any]:
        """Smart defaults: now, me with my last minutes, the last zones."""
        start: dict[str, Any] = {"id": uuid4(), "started": at.now.replace(second=0, microsecond=0)}
        mine = 30.0
        if last is not None:
            start["zones"] = [row.zone_id for row in last.zones.all()]
            mine = next((row.minutes for row in last.people.all() if row.person_id == at.person.id), mine)
        start[f"minutes-{at.person.id}"] = mine
        return start


def minutes_name(person: Person) -> str:
    """The form field that holds a person's minutes."""
    return f"minutes-{person.id}"


class FloodForm(WorkForm):
    """Water by amount, by meter readings, or by minutes at a measured hose flow."""

    kind = "flood"
    detail_fields = (
        "by",
        "meter_before_m3",
        "meter_after_m3",
        "hose_minutes",
        "hose_flow_ls",
        "water",
        "tool",
    )

    by = forms.ChoiceField(
        label=lazy("Water by"), choices=list(KINDS["flood"].details["by"].choices.items()), initial="amount"
    )
    amount = QuantityField(label=lazy("Water"), quantity="water", lowest=0, highest=5000, required=False)
    meter_before_m3 = QuantityField(
        label=lazy("Meter before"), quantity="meter", lowest=0, highest=1e8, required=False
    )
    meter_after_m3 = QuantityField(
        label=lazy("Meter after"), quantity="meter", lowest=0, highest=1e8, required=False
    )
    hose_minutes = QuantityField(
        label=lazy("Minutes of water"), quantity="minutes", lowest=0, highest=4320, required=False
    )
    hose_flow_ls = QuantityField(
        label=lazy("Hose flow"), quantity="flow", lowest=0.001, highest=100, required=False
    )
    water = forms.ChoiceField(
        label=lazy("Water is"), choices=list(KINDS["flood"].details["water"].choices.items()), initial="cold"
    )
    tool = forms.ChoiceField(
        label=lazy("With"), choices=list(KINDS["flood"].details["tool"].choices.items()), initial="hose"
    )

    needed = {
        "amount": ("amount",),
        "meter": ("meter_before_m3", "meter_after_m3"),
        "minutes": ("hose_minutes", "hose_flow_ls"),
    }

    def clean(self) -> dict[str, Any]:
        """Ask for just the numbers that the chosen way needs, and drop the others."""
        data = super().clean() or {}
        way = data.get("by", "amount")
        for name in self.needed.get(way, ()):
            if data.get(name) is None and name not in self.errors:
                self.add_error(
                    name, _("%(field)s is empty; it is needed.") % {"field": self.fields[name].label}
                )
        for other in set(sum(self.needed.values(), ())) - set(self.needed.get(way, ())):
            data[other] = None
        before, after = data.get("meter_before_m3"), data.get("meter_after_m3")
        if before is not None and after is not None and after < before:
            self.add_error(
                "meter_after_m3", _("The meter reads less after than before; allowed is the same or more.")
            )
        return data

    def water_m3(self) -> float | None:
        """Water [m³] by the chosen way; None while a number is missing."""
        data = self.cleaned_data
        match data.get("by"):
            case "amount":
                return data.get("amount")
            case "meter" if (
                data.get("meter_after_m3") is not None and data.get("meter_before_m3") is not None
            ):
                return round(data["meter_after_m3"] - data["meter_before_m3"], 9)
            case "minutes" if data.get("hose_minutes") is not None and data.get("hose_flow_ls") is not None:
                return data["hose_minutes"] * 60 * data["hose_flow_ls"] / 1000
        return None

    def area_m2(self) -> float:
        """True area of the picked zones [m²]."""
        picked = self.picked_zones()
        return sum(zone.area_m2 for zone in self.grid_zones if zone.id in picked)

    @classmethod
    def defaults(cls, at: At, last: Entry | None) -> dict[str, Any]:
        """The last way of measuring and the last amounts, from where the meter stood."""
        start = super().defaults(at, last)
        if last is None:
            return start
        details = last.details
        start.update(
            {
                name: details[name]
                for name in ("by", "water", "tool", "hose_minutes", "hose_flow_ls")
                if name in details
            }
        )
        start["meter_before_m3"] = details.get("meter_after_m3")
        if details.get("by") == "amount":
            start["amount"] = last.water_m3
        return start


FORMS: dict[str, type[WorkForm]] = {"flood": FloodForm}


def as_uuid(text: str) -> UUID | None:
    """A UUID out of the address or a form, or None."""
    try:
        return UUID(text)
    except ValueError:
        return None
