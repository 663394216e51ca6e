"""What is asked about a hazard, and what may be said of it later."""

from typing import Any
from uuid import uuid4

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext_lazy as lazy

from rinklog.rink.models import Grid
from rinklog.rink.queries import zones
from rinklog.web.access import At
from rinklog.web.fields import ConeField, LocalTimeField, QuantityField, ZonesField, sent_moment
from rinklog.work.cones import HIGHEST
from rinklog.work.hazards import HazardContent
from rinklog.work.models import Hazard

WINDS = {
    "": "",
    "0": lazy("north"),
    "45": lazy("north-east"),
    "90": lazy("east"),
    "135": lazy("south-east"),
    "180": lazy("south"),
    "225": lazy("south-west"),
    "270": lazy("west"),
    "315": lazy("north-west"),
}


def cone_in(query: QueryDict) -> int | None:
    """The numbered cone that a scanned sign brings along, or None."""
    asked = str(query.get("cone", ""))
    return int(asked) if asked.isdecimal() and 1 <= int(asked) <= HIGHEST else None


class HazardForm(forms.Form):
    """Where, what, how bad, cone or not: everything else has a default."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    sent = forms.CharField(widget=forms.HiddenInput, required=False)
    x_m = forms.FloatField(widget=forms.HiddenInput, required=False)
    y_m = forms.FloatField(widget=forms.HiddenInput, required=False)
    zones = ZonesField(required=False, label=lazy("Where? Tap the map"))
    kind = forms.ChoiceField(choices=Hazard.Kind.choices, label=lazy("What is it?"))
    severity = forms.ChoiceField(choices=Hazard.Severity.choices, label=lazy("How bad?"))
    cone_out = forms.BooleanField(required=False, label=lazy("A cone is out"))
    cone_number = ConeField(required=False)
    drift_depth = QuantityField(
        label=lazy("Depth of the drift"), quantity="depth", lowest=0.001, highest=10, required=False
    )
    wind_from = forms.ChoiceField(choices=list(WINDS.items()), required=False, label=lazy("Wind from"))
    found = LocalTimeField(label=lazy("Found"))
    note = forms.CharField(
        label=lazy("Note"), required=False, max_length=4000, widget=forms.Textarea(attrs={"rows": 2})
    )

    def __init__(self, *args: Any, at: At, grid: Grid, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.at, self.grid = at, grid
        self.fields["zones"].choices = [(zone.id, zone.label) for zone in zones(grid)]  # type: ignore[attr-defined]
        self.fields["found"].set_zone(at.zone)  # type: ignore[attr-defined]

    def picked_zones(self) -> set[int]:
        """Ids of the zones picked so far."""
        return {int(item) for item in self["zones"].value() or [] if str(item).isdigit()}

    def content(self) -> HazardContent:
        """What was typed, as content for the service. Call after is_valid()."""
        data = self.cleaned_data
        drift = data["kind"] == Hazard.Kind.DRIFT
        return HazardContent(
            kind=data["kind"],
            found_at=data["found"],
            severity=data["severity"],
            x_m=data["x_m"],
            y_m=data["y_m"],
            zone_ids=tuple(data["zones"]),
            cone_out=data["cone_out"] or data["cone_number"] is not None,
            note=data["note"],
            drift_depth_m=data["drift_depth"] if drift else None,
            wind_from_deg=float(data["wind_from"]) if drift and data["wind_from"] else None,
        )

    @property
    def sent_at(self) -> Any:
        """The device's clock when it sent, if it said so in a readable way."""
        return sent_moment(self.cleaned_data.get("sent"))

    @classmethod
    def defaults(cls, at: At, kind: str, query: QueryDict) -> dict[str, Any]:
        """Smart defaults: now, the kind this person put up last, the middle severity; a sign's place and cone win."""
        now = at.now.replace(second=0, microsecond=0)
        start: dict[str, Any] = {"id": uuid4(), "found": now, "kind": kind, "severity": Hazard.Severity.TRIP}
        if query.get("kind") in Hazard.Kind.values:
            start["kind"] = str(query["kind"])
        if number := cone_in(query):
            start |= {"cone_out": True, "cone_number": number}
        return start | {"zones": [int(zone) for zone in query.getlist("zones") if zone.isdecimal()]}


SAYABLE = (
    (Hazard.State.MARKED, lazy("Cone put out")),
    (Hazard.State.UNDER_REPAIR, lazy("Being repaired")),
    (Hazard.State.HOLDING, lazy("Repair holds")),
    (Hazard.State.BACK_AGAIN, lazy("Back again")),
    (Hazard.State.CLOSED, lazy("Close it")),
)


class SayForm(forms.Form):
    """What happened to a hazard: the button pressed is the state."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    state = forms.ChoiceField(choices=SAYABLE)
    cone = forms.ChoiceField(
        required=False,
        label=lazy("Cone"),
        choices=[("", lazy("as it was")), ("out", lazy("is out now")), ("in", lazy("is taken in"))],
    )
    cone_number = ConeField(required=False)
    said_at = LocalTimeField(label=lazy("When"), required=False)
    note = forms.CharField(label=lazy("Note"), required=False, max_length=400)

    def __init__(self, *args: Any, at: At, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["said_at"].set_zone(at.zone)  # type: ignore[attr-defined]

    @property
    def cone_out(self) -> bool | None:
        """Whether the cone is out now; None leaves it as it was. A number says that one stands there."""
        if self.cleaned_data["cone_number"] is not None and not self.cleaned_data["cone"]:
            return True
        return {"out": True, "in": False}.get(self.cleaned_data["cone"])
