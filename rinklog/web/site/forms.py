"""Forms of the site: the survey, a layout, the materials."""

from typing import Any
from uuid import uuid4

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.geometry.levels import UNITS_M, read_levels
from rinklog.geometry.sheet import Lay
from rinklog.geometry.site import Kit
from rinklog.geometry.standing import SiteError
from rinklog.site.models import Layout, Materials, Survey
from rinklog.site.queries.ground import gust_of, kit_of, middle_of
from rinklog.units import UnitError
from rinklog.web import measures
from rinklog.web.fields import QuantityField
from rinklog.web.middleware import current_units
from rinklog.web.plan.recurring_form import DateField
from rinklog.web.records.taking import OneOf, word_refusals
from rinklog.web.site.sentences import said

MOST_BYTES = 1_000_000
CORNERS = ("near_left", "near_right", "far_left", "far_right")


class WordedForm(forms.Form):
    """A form whose fields refuse by their name."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for field in self.fields.values():
            word_refusals(field)


class SurveyForm(WordedForm):
    """Heights of the ground: a grid typed or in a file, or four corners."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    measured_on = DateField(label=lazy("Measured on"))
    length = QuantityField(
        label=lazy("Length of the surveyed ground"), quantity="length", lowest=2, highest=500
    )
    width = QuantityField(
        label=lazy("Width of the surveyed ground"), quantity="length", lowest=2, highest=500
    )
    unit = OneOf(label=lazy("Unit of the heights"), choices=[(one, one) for one in UNITS_M])
    downwards = forms.BooleanField(
        label=lazy("The numbers grow downwards: measured from a string or a level line"), required=False
    )
    near_left = forms.CharField(label=lazy("Near left corner"), required=False, max_length=20)
    near_right = forms.CharField(label=lazy("Near right corner"), required=False, max_length=20)
    far_left = forms.CharField(label=lazy("Far left corner"), required=False, max_length=20)
    far_right = forms.CharField(label=lazy("Far right corner"), required=False, max_length=20)
    levels = forms.CharField(
        label=lazy("Heights, each line from the left to the right side, the near end first"),
        required=False,
        max_length=200_000,
        widget=forms.Textarea(attrs={"rows": 6}),
    )
    file = forms.FileField(label=lazy("CSV file"), required=False, allow_empty_file=True)
    note = forms.CharField(label=lazy("Note"), required=False, max_length=400)

    @classmethod
    def start(cls, size_m: tuple[float, float], today: Any, last: Survey | None) -> dict[str, Any]:
        """What the empty form shows: the field of the last survey, or the rink."""
        length, width = (last.length_m, last.width_m) if last else size_m
        return {"id": uuid4(), "measured_on": today, "length": length, "width": width, "unit": "m"}

    def clean(self) -> dict[str, Any]:
        """Read the heights whichever way they came."""
        data = super().clean() or {}
        if self.errors:
            return data
        ways = [name for name in ("levels", "file") if data.get(name)]
        typed = [name for name in CORNERS if data.get(name, "").strip()]
        if typed and ways or len(ways) > 1:
            raise forms.ValidationError(
                _("Heights came in two ways; allowed is one: corners, lines or a file.")
            )
        try:
            levels = self._levels(data, ways[0] if ways else "corners", typed)
        except SiteError as error:
            field = ways[0] if ways else "near_left"
            self.add_error(field, said(error))
            return data
        sign = -1.0 if data["downwards"] else 1.0
        data["levels_m"] = [[sign * level for level in row] for row in levels]
        return data

    def _levels(self, data: dict[str, Any], way: str, typed: list[str]) -> list[list[float]]:
        if way == "levels":
            return read_levels(data["levels"], data["unit"])
        if way == "file":
            return read_levels(text_of(data["file"]), data["unit"])
        if not typed:
            raise forms.ValidationError(_("No heights came; type four corners or lines, or pick a CSV file."))
        if len(typed) < 4:
            left_out = next(name for name in CORNERS if name not in typed)
            raise forms.ValidationError(
                _("%(field)s is empty; a plane needs all four corners.")
                % {"field": self.fields[left_out].label}
            )
        near_left, near_right, far_left, far_right = (data[name].replace(",", ".") for name in CORNERS)
        return read_levels(f"{near_left};{near_right}\n{far_left};{far_right}", data["unit"])


def text_of(file: Any) -> str:
    """The text of a small file. Errors: ValidationError for one that is too large or no text."""
    if file.size > MOST_BYTES:
        raise forms.ValidationError(
            _("CSV file: “%(name)s” has %(size)d bytes; allowed are %(most)d.")
            % {"name": file.name, "size": file.size, "most": MOST_BYTES}
        )
    try:
        text = file.read().decode("utf-8-sig")
    except UnicodeDecodeError:
        text = "\0"
    if "\0" in text:
        raise forms.ValidationError(
            _("CSV file: “%(name)s” is no text in UTF-8; allowed is a CSV file of heights.")
            % {"name": file.name}
        )
    return str(text)


class LayoutForm(WordedForm):
    """Where the sheet lies on the surveyed ground, and what is levelled."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    name = forms.CharField(label=lazy("Name"), max_length=60)
    x = QuantityField(
        label=lazy("Middle of the rink, from the near edge of the survey"),
        quantity="length",
        lowest=0,
        highest=500,
    )
    y = QuantityField(
        label=lazy("Middle of the rink, from its left edge"), quantity="length", lowest=0, highest=500
    )
    turn = QuantityField(
        label=lazy("Turned to the right, in degrees"), quantity="number", lowest=-180, highest=180
    )
    lower = QuantityField(label=lazy("Taken off the highest ground"), quantity="depth", lowest=0, highest=2)
    raised = QuantityField(label=lazy("Filled up on the lowest"), quantity="depth", lowest=0, highest=2)

    @classmethod
    def start(cls, survey: Survey, layout: Layout | None) -> dict[str, Any]:
        """What the form shows first: the middle of the field, or the layout that is changed."""
        if layout is None:
            lay = middle_of(survey)
            return {"id": uuid4(), "x": lay.x_m, "y": lay.y_m, "turn": 0.0, "lower": 0.0, "raised": 0.0}
        return {
            "id": layout.id, "name": layout.name, "x": layout.x_m, "y": layout.y_m, "turn": layout.turn_deg,
            "lower": layout.lower_m, "raised": layout.raise_m,
        }  # fmt: skip

    def lay(self) -> Lay:
        """What was said. Call after is_valid()."""
        data = self.cleaned_data
        return Lay(data["x"], data["y"], data["turn"], data["lower"], data["raised"])


class LengthsField(forms.CharField):
    """Several lengths, split by semicolons or spaces, each in the person's unit unless it says another."""

    def prepare_value(self, value: Any) -> Any:
        """Show metres in the person's unit."""
        if isinstance(value, list | tuple):
            return "; ".join(measures.plain(float(one), "length", current_units()) for one in value)
        return value

    @property
    def unit(self) -> str:
        """The person's unit, to stand beside the field."""
        return measures.unit_text("length", current_units())

    def clean(self, value: Any) -> tuple[float, ...]:
        """Read them into metres."""
        found = []
        for one in filter(None, (part.strip() for part in str(super().clean(value) or "").split(";"))):
            try:
                found.append(measures.read(one, "length", current_units()))
            except UnitError:
                raise forms.ValidationError(
                    _(
                        "%(field)s: “%(value)s” is no length; allowed are lengths split by semicolons, such as 5; 20."
                    )
                    % {"field": self.label, "value": one}
                ) from None
        return tuple(found)


class MaterialsForm(WordedForm):
    """What the rink is built with."""

    cover = QuantityField(
        label=lazy("Least depth of water, at the highest ground"), quantity="depth", lowest=0, highest=1
    )
    board = QuantityField(label=lazy("Height of the boards"), quantity="length", lowest=0.05, highest=2)
    board_length = QuantityField(label=lazy("Length of one board"), quantity="length", lowest=0.5, highest=12)
    stake_gap = QuantityField(
        label=lazy("Farthest from one stake to the next"), quantity="length", lowest=0.2, highest=5
    )
    overlap = QuantityField(label=lazy("Liner over the boards"), quantity="length", lowest=0, highest=2)
    net = QuantityField(
        label=lazy("Height of the nets behind the ends, 0 for none"), quantity="length", lowest=0, highest=6
    )
    net_length = QuantityField(label=lazy("Length of one net"), quantity="length", lowest=1, highest=100)
    lines_at = LengthsField(
        label=lazy("Rope light across the ice, from the near end"), required=False, max_length=300
    )
    circle_radii = LengthsField(
        label=lazy("Rope light in circles, by their radius"), required=False, max_length=300
    )
    reel = QuantityField(label=lazy("Rope light on one reel"), quantity="length", lowest=1, highest=500)
    gust = QuantityField(label=lazy("Gust to build for"), quantity="speed", lowest=5, highest=60)

    @classmethod
    def start(cls, found: Materials | None) -> dict[str, Any]:
        """What the form shows first."""
        kit = kit_of(found)
        return {
            "cover": kit.cover_m, "board": kit.board_m, "board_length": kit.board_length_m,
            "stake_gap": kit.stake_gap_m, "overlap": kit.overlap_m, "net": kit.net_m, "net_length": kit.net_length_m,
            "reel": kit.reel_m, "lines_at": list(kit.lines_at_m), "circle_radii": list(kit.circle_radii_m),
            "gust": gust_of(found),
        }  # fmt: skip

    def kit(self) -> Kit:
        """What was said. Call after is_valid()."""
        data = self.cleaned_data
        return Kit(
            cover_m=data["cover"], board_m=data["board"], board_length_m=data["board_length"],
            stake_gap_m=data["stake_gap"], overlap_m=data["overlap"], net_m=data["net"],
            net_length_m=data["net_length"], reel_m=data["reel"], lines_at_m=data["lines_at"],
            circle_radii_m=data["circle_radii"],
        )  # fmt: skip


class SquareForm(WordedForm):
    """Two measured diagonals."""

    first = QuantityField(
        label=lazy("Near left to far right corner"), quantity="length", lowest=1, highest=300
    )
    second = QuantityField(
        label=lazy("Near right to far left corner"), quantity="length", lowest=1, highest=300
    )
