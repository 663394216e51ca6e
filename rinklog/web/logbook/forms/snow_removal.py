"""The form of a snow removal."""

from django.utils.translation import gettext_lazy as lazy

from rinklog.web.fields import QuantityField
from rinklog.web.logbook.forms.base import WorkForm, chips


class SnowRemovalForm(WorkForm):
    """How deep, what kind of snow, and with what."""

    kind = "snow-removal"
    detail_fields = ("snow_depth_m", "snow", "tools")
    from_last = ("tools",)

    snow_depth_m = QuantityField(
        label=lazy("Snow depth before"), quantity="depth", lowest=0, highest=2, required=False
    )
    snow = chips("snow-removal", "snow")
    tools = chips("snow-removal", "tools", initial=["shovel"])
