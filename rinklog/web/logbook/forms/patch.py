"""The form of a patch."""

from typing import Any

from django.utils.translation import gettext_lazy as lazy

from rinklog.web.fields import QuantityField
from rinklog.web.logbook.forms.base import chips
from rinklog.web.logbook.forms.repair import RepairForm
from rinklog.work.kinds.patch import SCRAPE
from rinklog.work.models import Entry


class PatchForm(RepairForm):
    """How it was patched, and with how much water if it was measured."""

    kind = "patch"
    detail_fields = ("method",)
    from_last = ("method",)
    zones_from_last = False

    method = chips("patch", "method", initial="slush-pack")
    amount = QuantityField(label=lazy("Water"), quantity="water", lowest=0, highest=50, required=False)

    def clean(self) -> dict[str, Any]:
        """A scrape hides the water field: what stayed in it does not count."""
        data = super().clean() or {}
        if data.get("method") == SCRAPE:
            data["amount"] = None
            self.errors.pop("amount", None)
        return data

    def water_m3(self) -> float | None:
        return self.cleaned_data.get("amount")

    @classmethod
    def from_entry(cls, entry: Entry) -> dict[str, Any]:
        return super().from_entry(entry) | {"amount": entry.water_m3}
