"""The form of a drill hole: one zone, and what the hole shows."""

from django.utils.translation import gettext_lazy as lazy

from rinklog.web.fields import QuantityField
from rinklog.web.logbook.forms.base import WorkForm


class DrillHoleForm(WorkForm):
    """Clear ice, white ice on it, water below."""

    kind = "drill-hole"
    detail_fields = ("clear_ice_m", "white_ice_m", "water_below_m")
    zones_from_last = False

    clear_ice_m = QuantityField(label=lazy("Clear ice"), quantity="depth", lowest=0, highest=3)
    white_ice_m = QuantityField(
        label=lazy("White ice"), quantity="depth", lowest=0, highest=3, required=False
    )
    water_below_m = QuantityField(
        label=lazy("Water below"), quantity="depth", lowest=0, highest=50, required=False
    )
