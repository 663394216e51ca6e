"""What every form of work asks: where, when, who, and how it was."""

import datetime as dt
from typing import Any, ClassVar
from uuid import UUID, uuid4

from django import forms
from django.utils.translation import gettext_lazy as lazy

from rinklog.crew.models import Person
from rinklog.rink.models import Grid, Zone
from rinklog.web.access import At
from rinklog.web.fields import LocalTimeField, QuantityField, ZonesField
from rinklog.work.content import EntryContent
from rinklog.work.kinds import KINDS
from rinklog.work.kinds.base import Choice
from rinklog.work.models import Entry, Hazard

SKIES = {
    "": lazy("not noted"),
    "clear": lazy("clear"),
    "cloudy": lazy("cloudy"),
    "snowing": lazy("snowing"),
    "raining": lazy("raining"),
}
USUAL_MINUTES = 30.0


def chips(kind: str, key: str, **kwargs: Any) -> forms.ChoiceField:
    """A field of large buttons for a Choice detail of a kind."""
    detail = KINDS[kind].details[key]
    assert isinstance(detail, Choice)
    return chips_of(detail, **kwargs)


def chips_of(detail: Choice, **kwargs: Any) -> forms.ChoiceField:
    """A field of large buttons for a Choice: one of them, or as many as fit."""
    choices = list(detail.choices.items())
    kwargs = {"label": detail.title, "required": detail.required} | kwargs
    if detail.many:
        return forms.MultipleChoiceField(choices=choices, widget=forms.CheckboxSelectMultiple, **kwargs)
    return forms.ChoiceField(choices=choices, widget=forms.RadioSelect, **kwargs)


class WorkForm(forms.Form):
    """What every kind of work asks."""

    kind: ClassVar[str] = ""
    detail_fields: ClassVar[tuple[str, ...]] = ()  # form fields that are details under the same name
    from_last: ClassVar[tuple[str, ...]] = ()  # details that are likely to be as they were last time
    zones_from_last: ClassVar[bool] = True

    id = forms.UUIDField(widget=forms.HiddenInput)
    sent = forms.CharField(widget=forms.HiddenInput, required=False)
    zones = ZonesField(required=False, label=lazy("Zones"))
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

    def __init__(
        self,
        *args: Any,
        at: At,
        grid: Grid,
        zones: list[Zone],
        crew: list[Person],
        hazards: list[Hazard],
        amending: bool = False,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.at, self.grid, self.grid_zones, self.crew, self.hazard_list = at, grid, zones, crew, hazards
        self.fields["zones"].choices = [(zone.id, zone.label) for zone in zones]  # type: ignore[attr-defined]
        if amending:
            self.fields["reason"] = forms.CharField(
                label=lazy("Why it is amended"), required=False, max_length=400
            )
        for field in self.fields.values():
            if isinstance(field, LocalTimeField):
                field.set_zone(at.zone)
        for person in crew:
            self.fields[minutes_name(person.id)] = QuantityField(
                label=person.name, quantity="minutes", lowest=0, highest=2880, required=False
            )

    @property
    def people(self) -> list[tuple[Person, forms.BoundField]]:
        """Each crew member with the field for their minutes, the one who writes first."""
        rows = [(person, self[minutes_name(person.id)]) for person in self.crew]
        return sorted(rows, key=lambda row: row[0].id != self.at.person.id)

    @property
    def others_helped(self) -> bool:
        """Whether somebody else has minutes already: their fields are shown at once."""
        return any(field.value() for person, field in self.people if person.id != self.at.person.id)

    def picked_zones(self) -> set[int]:
        """Ids of the zones picked so far, from what was typed or from the defaults."""
        value = self["zones"].value() or []
        return {int(item) for item in value if str(item).isdigit()}

    def details(self) -> dict[str, Any]:
        """The details of this kind, SI."""
        data = self.cleaned_data
        return {name: data[name] for name in self.detail_fields if data.get(name) not in (None, "", [])}

    def water_m3(self) -> float | None:
        """Water used [m³]; kinds that take water say how."""
        return None

    def more_content(self) -> dict[str, Any]:
        """What else of the content this kind fills: hazards, judgements, conditions."""
        return {}

    def minutes(self) -> dict[UUID, float]:
        """Minutes by person; the writer's are the time from start to end when left empty."""
        data = self.cleaned_data
        given = {person.id: data.get(minutes_name(person.id)) for person in self.crew}
        me = self.at.person.id
        if given.get(me) is None and data["ended"] is not None and data["ended"] >= data["started"]:
            given[me] = (data["ended"] - data["started"]).total_seconds() / 60
        return {person: value for person, value in given.items() if value is not None}

    def content(self) -> EntryContent:
        """What was typed, as content for the service. Call after is_valid()."""
        data = self.cleaned_data
        return EntryContent(
            started_at=data["started"],
            ended_at=data["ended"],
            zone_ids=tuple(data["zones"]),
            minutes=self.minutes(),
            water_m3=self.water_m3(),
            details=self.details(),
            note=data["note"].strip(),
            lesson=data["lesson"],
            seen_air_c=data["seen_air"],
            seen_wind_ms=data["seen_wind"],
            seen_sky=data["seen_sky"],
            **self.more_content(),
        )

    @property
    def sent_at(self) -> dt.datetime | None:
        """The device's clock when it sent, if it said so in a readable way."""
        try:
            sent = dt.datetime.fromisoformat(self.cleaned_data.get("sent") or "")
        except ValueError:
            return None
        return sent if sent.tzinfo else None

    def mark(self, typed: dict[str, Any]) -> dict[str, Any]:
        """Take in a step on the way that is not saved yet; most kinds have none."""
        return typed

    @classmethod
    def defaults(cls, at: At, last: Entry | None) -> dict[str, Any]:
        """Smart defaults: now, me with my last minutes, the last zones and the last choices."""
        start: dict[str, Any] = {"id": uuid4(), "started": at.now.replace(second=0, microsecond=0)}
        mine = USUAL_MINUTES
        if last is not None:
            if cls.zones_from_last:
                start["zones"] = [row.zone_id for row in last.zones.all()]
            mine = next((row.minutes for row in last.people.all() if row.person_id == at.person.id), mine)
            start |= {name: last.details[name] for name in cls.from_last if name in last.details}
        start[minutes_name(at.person.id)] = mine
        return start

    @classmethod
    def from_entry(cls, entry: Entry) -> dict[str, Any]:
        """The form as it was filled for an entry, to amend it."""
        return {
            "id": uuid4(),
            "zones": [row.zone_id for row in entry.zones.all()],
            "started": entry.started_at,
            "ended": entry.ended_at,
            "note": entry.note,
            "lesson": entry.lesson,
            "seen_air": entry.seen_air_c,
            "seen_wind": entry.seen_wind_ms,
            "seen_sky": entry.seen_sky,
            **{minutes_name(row.person_id): row.minutes for row in entry.people.all()},
            **{name: entry.details[name] for name in cls.detail_fields if name in entry.details},
        }


def minutes_name(person_id: UUID) -> str:
    """The form field that holds a person's minutes."""
    return f"minutes-{person_id}"
