"""Forms of what people may do, when they can come, teams and holidays."""

import datetime as dt
from typing import Any
from uuid import uuid4
from zoneinfo import ZoneInfo, available_timezones

from django import forms
from django.utils.dates import WEEKDAYS
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.crew.models import Person
from rinklog.plan.models import Availability, PermissionKind, Team
from rinklog.plan.rules.availability import Line
from rinklog.plan.services.shifts import MINUTES
from rinklog.web.access import At
from rinklog.web.fields import LocalTimeField, say_range
from rinklog.web.plan.recurring_form import DateField
from rinklog.web.records.taking import OneOf, word_refusals

DAYS = [(str(number), WEEKDAYS[number]) for number in range(7)]


def time_field(label: Any, required: bool = False) -> forms.TimeField:
    """A time of day."""
    widget = forms.TimeInput(attrs={"type": "time"}, format="%H:%M")
    field = forms.TimeField(label=label, required=required, widget=widget)
    sentence = _("%(field)s: allowed is a time such as 20:00.") % {"field": label}
    field.error_messages |= {"invalid": sentence, "required": sentence}
    return field


class PermissionForm(forms.Form):
    """Who may do what, from when to when."""

    person = OneOf(label=lazy("Person"))
    what = OneOf(label=lazy("May use, has"), choices=PermissionKind.choices)
    since = DateField(label=lazy("Since"))
    until = DateField(label=lazy("Until, with that day"), required=False)
    note = forms.CharField(label=lazy("Note"), required=False, max_length=200)

    def __init__(self, *args: Any, crew: list[Person], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["person"].choices = [(str(one.id), one.name) for one in crew]  # type: ignore[attr-defined]
        for field in self.fields.values():
            word_refusals(field)


class AvailabilityForm(forms.Form):
    """When I can come, cannot, or would rather (not)."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    sort = OneOf(label=lazy("I"), choices=Availability.Sort.choices)
    weekday = OneOf(label=lazy("On"), choices=[("", lazy("not every week")), *DAYS], required=False)
    from_time = time_field(lazy("From"))
    to_time = time_field(lazy("To (may be past midnight)"))
    starts_at = LocalTimeField(label=lazy("Away from"), required=False)
    ends_at = LocalTimeField(label=lazy("Away to"), required=False)
    zone = forms.CharField(label=lazy("Time zone of these times"), max_length=60)

    def __init__(self, *args: Any, at: At, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        said = self.data.get("zone", "") if self.is_bound else at.rink.time_zone
        zone = ZoneInfo(said) if said in available_timezones() else at.zone
        for field in self.fields.values():
            word_refusals(field)
            if isinstance(field, LocalTimeField):
                field.set_zone(zone)

    @classmethod
    def start(cls, at: At) -> dict[str, Any]:
        """What the empty form shows."""
        return {"id": uuid4(), "zone": at.rink.time_zone, "sort": Availability.Sort.AWAY}

    def clean_zone(self) -> str:
        """A zone that the world knows."""
        zone: str = self.cleaned_data["zone"].strip()
        if zone not in available_timezones():
            raise forms.ValidationError(
                _("Time zone is “%(value)s”; allowed is a name such as Europe/Oslo.") % {"value": zone}
            )
        return zone

    def line(self) -> Line:
        """What was said. Call after is_valid()."""
        data = self.cleaned_data
        if data["weekday"] != "":
            return Line(data["sort"], data["zone"], int(data["weekday"]), data["from_time"], data["to_time"])
        return Line(data["sort"], data["zone"], starts_at=data["starts_at"], ends_at=data["ends_at"])


class TeamForm(forms.Form):
    """The team of a weekday."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    name = forms.CharField(label=lazy("Name"), max_length=60)
    weekday = OneOf(label=lazy("Evening of"), choices=DAYS)
    starts_at = time_field(lazy("Starts"), required=True)
    minutes = forms.IntegerField(label=lazy("Expected minutes"), min_value=MINUTES[0], max_value=MINUTES[1])
    leader = OneOf(label=lazy("Leader: reminded, and calls it off when it is not cold"))
    people = forms.MultipleChoiceField(
        label=lazy("People"), required=False, widget=forms.CheckboxSelectMultiple
    )

    def __init__(self, *args: Any, crew: list[Person], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.crew = {str(one.id): one for one in crew}
        for name in ("leader", "people"):
            self.fields[name].choices = [(id, one.name) for id, one in self.crew.items()]  # type: ignore[attr-defined]
        for field in self.fields.values():
            word_refusals(field)
        say_range(self.fields["minutes"])

    @classmethod
    def start(cls, team: Team | None) -> dict[str, Any]:
        """What the form shows first."""
        if team is None:
            return {"id": uuid4(), "starts_at": dt.time(20), "minutes": 120}
        start = {name: getattr(team, name) for name in ("id", "name", "weekday", "starts_at", "minutes")}
        people = [str(one.id) for one in team.people.all()]
        return start | {"leader": str(team.leader_id), "people": people}

    def values(self) -> dict[str, Any]:
        """What was said, for the service. Call after is_valid()."""
        data = dict(self.cleaned_data)
        people = [self.crew[id] for id in data["people"]]
        return data | {"leader": self.crew[data["leader"]], "people": people, "weekday": int(data["weekday"])}


class HolidayForm(forms.Form):
    """Days, one a line, each with a name if it has one."""

    days = forms.CharField(
        label=lazy("Days, one a line"),
        required=False,
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 8, "placeholder": "2026-12-26"}),
    )

    def clean_days(self) -> dict[dt.date, str]:
        """Each day with its name."""
        found = {}
        for text in filter(None, map(str.strip, self.cleaned_data["days"].splitlines())):
            day, _space, name = text.partition(" ")
            try:
                found[dt.date.fromisoformat(day)] = name.strip()
            except ValueError:
                raise forms.ValidationError(
                    _(
                        "Days: “%(value)s” does not begin with a date; allowed is such as 2026-12-26 Boxing Day."
                    )
                    % {"value": text}
                ) from None
        return found
