"""Forms of the snow fences."""

from typing import Any
from uuid import uuid4

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.site.models import Exposure, SnowFence
from rinklog.site.services.fences import FenceContent
from rinklog.web.fields import QuantityField
from rinklog.web.plan.recurring_form import DateField
from rinklog.web.records.taking import OneOf
from rinklog.web.site.forms import WordedForm

DIRECTIONS = (
    lazy("north"), lazy("north-east"), lazy("east"), lazy("south-east"),
    lazy("south"), lazy("south-west"), lazy("west"), lazy("north-west"),
)  # fmt: skip


def sector_names() -> list[str]:
    """The eight directions in words, from north clockwise."""
    return [str(one) for one in DIRECTIONS]


class ExposureForm(WordedForm):
    """What lies upwind: one `fetch_…` for every direction."""

    snow_water = QuantityField(
        label=lazy("A winter's snow, as water"), quantity="rain", lowest=0, highest=2000, required=False
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for place, words in enumerate(DIRECTIONS):
            self.fields[f"fetch_{place}"] = QuantityField(
                label=_("Open ground to the %(direction)s") % {"direction": words},
                quantity="length",
                lowest=0,
                highest=20_000,
                required=False,
            )

    @classmethod
    def start(cls, said: Exposure | None) -> dict[str, Any]:
        """What the form shows first."""
        if said is None:
            return {}
        return {f"fetch_{place}": far for place, far in enumerate(said.fetches_m)} | {
            "snow_water": said.snow_water_mm
        }

    def fetches_m(self) -> list[float | None]:
        """What was said, from north clockwise. Call after is_valid()."""
        return [self.cleaned_data[f"fetch_{place}"] for place in range(8)]


class FenceForm(WordedForm):
    """One fence."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    name = forms.CharField(label=lazy("Name"), max_length=60)
    wind = OneOf(
        label=lazy("Across the wind from"), choices=[(str(45 * n), d) for n, d in enumerate(DIRECTIONS)]
    )
    height = QuantityField(label=lazy("Height"), quantity="length", lowest=0.3, highest=6)
    build = OneOf(label=lazy("Built of"), choices=SnowFence.Build.choices)
    length = QuantityField(label=lazy("Length"), quantity="length", lowest=1, highest=2000)
    setback = QuantityField(
        label=lazy("From the fence to the boards"), quantity="length", lowest=0, highest=500
    )

    @classmethod
    def start(cls, fence: SnowFence | None) -> dict[str, Any]:
        """What the form shows first."""
        if fence is None:
            return {"id": uuid4(), "build": SnowFence.Build.POROUS}
        return {
            "id": fence.id, "name": fence.name, "wind": f"{fence.wind_from_deg:g}", "height": fence.height_m,
            "build": fence.build, "length": fence.length_m, "setback": fence.setback_m,
        }  # fmt: skip

    def content(self) -> FenceContent:
        """What was said. Call after is_valid()."""
        data = self.cleaned_data
        return FenceContent(
            data["name"], float(data["wind"]), data["height"], data["length"], data["setback"], data["build"]
        )


class LookForm(WordedForm):
    """The drift behind a fence."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    on = DateField(label=lazy("Seen on"))
    reach = QuantityField(label=lazy("It reaches behind the fence"), quantity="length", lowest=0, highest=500)
    depth = QuantityField(label=lazy("At its deepest"), quantity="length", lowest=0, highest=10)
    note = forms.CharField(label=lazy("Note"), required=False, max_length=400)
