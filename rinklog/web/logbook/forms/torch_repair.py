"""The form of a torch repair: never alone, and the safety points read once a season."""

from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.crew.safety import has_read
from rinklog.web.fields import QuantityField
from rinklog.web.logbook.forms.base import chips
from rinklog.web.logbook.forms.repair import RepairForm
from rinklog.work.kinds import KINDS
from rinklog.work.models import Entry


class TorchRepairForm(RepairForm):
    """Flame, fuel, and who else was there."""

    kind = "torch-repair"
    detail_fields = ("flame_minutes", "fuel", "fuel_kg", "second_person")
    from_last = ("fuel",)
    zones_from_last = False

    flame_minutes = QuantityField(label=lazy("Minutes of flame"), quantity="minutes", lowest=0.1, highest=600)
    fuel = chips("torch-repair", "fuel", initial="propane")
    fuel_kg = QuantityField(label=lazy("Fuel used"), quantity="mass", lowest=0, highest=100, required=False)
    second = forms.ChoiceField(label=lazy("Second person present"), required=False, widget=forms.RadioSelect)
    second_name = forms.CharField(label=lazy("Name of the other person"), required=False, max_length=120)
    safety_read = forms.BooleanField(label=lazy("I have read these points for this season"), required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        others = [(person.name, person.name) for person in self.crew if person.id != self.at.person.id]
        self.fields["second"].choices = [*others, ("", lazy("somebody else"))]  # type: ignore[attr-defined]
        if has_read(self.at.person, self.at.season, KINDS[self.kind].safety_topic):
            del self.fields["safety_read"]

    def clean(self) -> dict[str, Any]:
        """Two people, not one twice; and the safety points read."""
        data = super().clean() or {}
        data["second_person"] = data.get("second") or (data.get("second_name") or "").strip()
        if not data["second_person"] and "second" not in self.errors:
            self.add_error(
                "second", _("Second person present is empty; a torch is never used by one person alone.")
            )
        elif data["second_person"].casefold() in (self.at.person.name.casefold(), self.at.person.login):
            self.add_error("second_name", _("You are the first person; name the second one."))
        if "safety_read" in self.fields and not data.get("safety_read"):
            self.add_error("safety_read", _("The safety points are not ticked; read them and tick the box."))
        return data

    @classmethod
    def from_entry(cls, entry: Entry) -> dict[str, Any]:
        name = entry.details.get("second_person", "")
        return super().from_entry(entry) | {"second": name, "second_name": name}
