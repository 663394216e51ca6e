"""Forms of the rink's set-up: its place, its size and grid, its zones, its hoses, its seasons."""

import functools
import zoneinfo
from typing import Any
from uuid import uuid4

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.geometry.grid import Grid as Plan
from rinklog.rink.models import PhaseChange, Zone
from rinklog.rink.services import Divided, Position, RinkSize
from rinklog.web.fields import QuantityField, ZonesField, say_range


@functools.cache
def time_zones() -> list[str]:
    """Every time zone of the tz database that names a place, and UTC."""
    return sorted(name for name in zoneinfo.available_timezones() if "/" in name or name == "UTC")


class PlaceForm(forms.Form):
    """Names, time zone, and where the rink lies."""

    name = forms.CharField(label=lazy("Name of the rink"), max_length=120)
    place = forms.CharField(label=lazy("Town or place"), max_length=120, required=False)
    time_zone = forms.CharField(
        label=lazy("Time zone"), widget=forms.TextInput(attrs={"list": "time-zones", "autocomplete": "off"})
    )
    latitude = QuantityField(
        label=lazy("Latitude, degrees north"), quantity="number", lowest=-90, highest=90, required=False
    )
    longitude = QuantityField(
        label=lazy("Longitude, degrees east"), quantity="number", lowest=-180, highest=180, required=False
    )
    bearing = QuantityField(
        label=lazy("The length points to, degrees from north"),
        quantity="number",
        lowest=0,
        highest=360,
        required=False,
    )

    def clean_time_zone(self) -> str:
        zone = self.cleaned_data["time_zone"].strip().replace(" ", "_")
        known = {name.casefold(): name for name in time_zones()}
        if zone.casefold() not in known:
            raise forms.ValidationError(
                _("Time zone is “%(value)s”; allowed is one from the list, such as Europe/Oslo.")
                % {"value": self.cleaned_data["time_zone"]}
            )
        return known[zone.casefold()]

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        for one, other in (("latitude", "longitude"), ("longitude", "latitude")):
            missing = data.get(one) is None and one not in self.errors
            if missing and data.get(other) is not None:
                self.add_error(one, _("Latitude and longitude go together: give both or neither."))
        return data

    def position(self) -> Position:
        """Where it lies. Call after is_valid()."""
        data = self.cleaned_data
        return Position(data["latitude"], data["longitude"], data["bearing"])


class GridForm(forms.Form):
    """Size, corners, and how the sheet is divided; rows and columns may be left to the size."""

    length = QuantityField(label=lazy("Length"), quantity="length", lowest=3, highest=200)
    width = QuantityField(label=lazy("Width"), quantity="length", lowest=3, highest=200)
    corner = QuantityField(
        label=lazy("Corner radius"), quantity="length", lowest=0, highest=100, required=False
    )
    rows = forms.IntegerField(
        label=lazy("Rows along the length (empty: from the size)"), min_value=1, max_value=40, required=False
    )
    columns = forms.IntegerField(
        label=lazy("Columns across the width (empty: from the size)"),
        min_value=1,
        max_value=40,
        required=False,
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("rows", "columns"):
            say_range(self.fields[name])

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        length, width, corner = data.get("length"), data.get("width"), data.get("corner") or 0.0
        if length and width and corner > min(length, width) / 2:
            self.add_error(
                "corner",
                _("Corner radius is “%(value)s”; allowed is at most half of the shorter side.")
                % {"value": self.data.get(self.add_prefix("corner"), "")},
            )
        return data

    def divided(self) -> Divided:
        """Size and grid. Call after is_valid()."""
        data = self.cleaned_data
        size = RinkSize(data["length"], data["width"], data["corner"] or 0.0)
        usual = Plan.for_size(size.length_m, size.width_m, size.corner_m)
        return Divided(size, data["rows"] or usual.rows, data["columns"] or usual.columns)


class NewRinkForm(PlaceForm, GridForm):
    """All that a rink needs to begin."""

    id = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)
    starts_on = forms.DateField(
        label=lazy("The season starts on"), widget=forms.DateInput(attrs={"type": "date"})
    )


class PickedZonesForm(forms.Form):
    """What holds for all picked zones; what is left empty stays as it is."""

    zones = ZonesField(label=lazy("Zones"))
    depth = QuantityField(
        label=lazy("Depth of water here, when full"), quantity="depth", lowest=0, highest=3, required=False
    )
    sun = forms.ChoiceField(label=lazy("Sunshine"), required=False)
    wears = forms.ChoiceField(label=lazy("Wears sooner than the rest"), required=False)
    low_spot = forms.ChoiceField(label=lazy("Low spot"), required=False)

    def __init__(self, *args: Any, zones: list[Zone], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        stays = [("", _("leave as it is"))]
        yes_no = [*stays, ("yes", _("yes")), ("no", _("no"))]
        choices = {
            "zones": [(zone.id, zone.label) for zone in zones],
            "sun": [*stays, *Zone.Sun.choices],
            "wears": yes_no,
            "low_spot": yes_no,
        }
        for name, pairs in choices.items():
            self.fields[name].choices = pairs  # type: ignore[attr-defined]
        self.fields["zones"].error_messages["required"] = _("Zones: pick at least one.")

    def known(self) -> dict[int, dict[str, Any]]:
        """What was said of each picked zone. Call after is_valid()."""
        data, said = self.cleaned_data, {}
        if data["depth"] is not None:
            said["depth_m"] = data["depth"]
        if data["sun"]:
            said["sun"] = data["sun"]
        said |= {name: data[name] == "yes" for name in ("wears", "low_spot") if data[name]}
        return {zone: dict(said) for zone in data["zones"]}


class ZoneForm(forms.Form):
    """One line of the survey's table."""

    depth = QuantityField(label=lazy("Depth"), quantity="depth", lowest=0, highest=3, required=False)
    sun = forms.ChoiceField(label=lazy("Sunshine"), choices=Zone.Sun.choices)
    wears = forms.BooleanField(label=lazy("Wears"), required=False)
    low_spot = forms.BooleanField(label=lazy("Low spot"), required=False)

    def __init__(self, data: Any, *, zone: Zone) -> None:
        start = {"depth": zone.depth_m, "sun": zone.sun, "wears": zone.wears, "low_spot": zone.low_spot}
        super().__init__(data, prefix=f"zone-{zone.id}", initial=start)
        self.zone = zone
        self.fields["depth"].label = _("Depth in %(zone)s") % {"zone": zone.label}
        for name in self.fields:
            self.fields[name].widget.attrs["aria-label"] = f"{self.fields[name].label}, {zone.label}"

    def known(self) -> dict[str, Any]:
        """What was said of the zone. Call after is_valid()."""
        data = self.cleaned_data
        return {"depth_m": data["depth"], **{name: data[name] for name in ("sun", "wears", "low_spot")}}


class LowSpotsForm(forms.Form):
    """Which zones lie low."""

    zones = ZonesField(required=False, label=lazy("Low spots"))

    def __init__(self, *args: Any, zones: list[Zone], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["zones"].choices = [(zone.id, zone.label) for zone in zones]  # type: ignore[attr-defined]


class BucketForm(forms.Form):
    """How long a hose took to fill a bucket."""

    id = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)
    hose = forms.CharField(label=lazy("Which hose and tap"), max_length=60, required=False)
    water = QuantityField(label=lazy("Water in the bucket"), quantity="water", lowest=0.001, highest=5)
    seconds = QuantityField(label=lazy("Seconds to fill it"), quantity="number", lowest=1, highest=7200)


class PhaseForm(forms.Form):
    """The season enters a phase."""

    id = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)
    phase = forms.ChoiceField(label=lazy("Phase"), choices=PhaseChange.Phase.choices)
    on = forms.DateField(label=lazy("From"), widget=forms.DateInput(attrs={"type": "date"}))
    note = forms.CharField(label=lazy("Why"), max_length=400, required=False)


class CloseForm(forms.Form):
    """The last day of the season, and when the next one begins, if it is opened at once."""

    ends_on = forms.DateField(
        label=lazy("Last day of this season"),
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
    )
    next_starts_on = forms.DateField(
        label=lazy("First day of the next season (empty: open it later)"),
        required=False,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
    )


class NextSeasonForm(GridForm):
    """The next season, on the same grid or on a new one."""

    starts_on = forms.DateField(label=lazy("Starts on"), widget=forms.DateInput(attrs={"type": "date"}))
    name = forms.CharField(label=lazy("Name (empty: the two years)"), max_length=40, required=False)
    grid = forms.ChoiceField(
        label=lazy("Grid"),
        choices=[("same", lazy("the same size and grid")), ("new", lazy("a new size or grid, as below"))],
    )
    field_order = ["starts_on", "name", "grid", "length", "width", "corner", "rows", "columns"]


class RuleForm(forms.Form):
    """The value of one rule of practice."""

    def __init__(self, *args: Any, rule: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["value"] = QuantityField(
            label=rule.title, quantity=rule.quantity, lowest=rule.lowest, highest=rule.highest
        )
