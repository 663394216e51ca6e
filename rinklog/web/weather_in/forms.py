"""Forms of the weather's ways in: the sources, a file, a reading."""

import datetime as dt
from typing import Any
from uuid import uuid4
from zoneinfo import ZoneInfo

from django import forms
from django.conf import settings
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.weather.formats.registry import FORMATS
from rinklog.weather.hours import Hour
from rinklog.weather.models import ProviderState, WeatherSetup
from rinklog.weather.providers.registry import PROVIDERS
from rinklog.weather.sources import Wish
from rinklog.web.fields import LocalTimeField, QuantityField

NOT_LISTED = {"invalid_choice": lazy("“%(value)s” is not in the list; choose one of it.")}


class SourcesForm(forms.Form):
    """Who is asked in which turn, and what they need to know: one `turn_…` for every provider."""

    contact = forms.CharField(
        label=lazy("Contact: an e-mail or web address"),
        max_length=120,
        required=False,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    altitude = QuantityField(
        label=lazy("Height above the sea, if known"),
        quantity="length",
        lowest=-430,
        highest=6000,
        required=False,
    )
    station = forms.CharField(
        label=lazy("Airport that reports near the rink: its four letters"),
        max_length=20,
        required=False,
        widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "characters"}),
    )

    def __init__(
        self, data: Any, *, setup: WeatherSetup | None, sources: list[ProviderState], **kwargs: Any
    ) -> None:
        initial: dict[str, Any] = {"contact": settings.WEATHER_CONTACT}
        if setup:
            initial = {
                "contact": setup.contact,
                "altitude": setup.altitude_m,
                "station": setup.metar_station,
            }
        super().__init__(data, initial=initial, **kwargs)
        turns = [("", _("not asked")), ("1", _("asked first"))]
        turns += [(str(n), _("asked in turn %(n)d") % {"n": n}) for n in range(2, len(PROVIDERS) + 1)]
        on = [source.provider for source in sources if source.is_on and source.provider in PROVIDERS]
        for slug, provider in PROVIDERS.items():
            self.fields[f"turn_{slug}"] = forms.ChoiceField(
                label=provider.name,
                choices=turns,
                required=False,
                error_messages=NOT_LISTED,
                initial=str(on.index(slug) + 1) if slug in on else "",
            )

    def clean_station(self) -> str:
        return str(self.cleaned_data["station"]).strip().upper()

    def turns(self) -> list[forms.BoundField]:
        """The fields of the providers."""
        return [self[f"turn_{slug}"] for slug in PROVIDERS]

    def wish(self) -> Wish:
        """The choice. Call after is_valid()."""
        data = self.cleaned_data
        chosen = [(turn, slug) for slug in PROVIDERS if (turn := data[f"turn_{slug}"])]
        chosen.sort(key=lambda one: int(one[0]))
        return Wish([slug for _, slug in chosen], data["contact"].strip(), data["altitude"], data["station"])


class WeatherFileForm(forms.Form):
    """A weather file; its id is in the served form, so that sending it twice is one file."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    file = forms.FileField(
        label=lazy("Weather file"),
        widget=forms.FileInput(attrs={"accept": ".csv,.txt,.epw,.gz,text/csv"}),
        error_messages={
            "required": lazy("No file is chosen; choose a file with hours of weather."),
            "empty": lazy("The file is empty; choose a file with hours of weather."),
        },
    )
    format = forms.ChoiceField(label=lazy("Its form"), required=False, error_messages=NOT_LISTED)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("initial", {"id": uuid4()})
        super().__init__(*args, **kwargs)
        known = [(slug, format.name) for slug, format in FORMATS.items()]
        self.fields["format"].choices = [("", _("found out from the file")), *known]  # type: ignore[attr-defined]


WINDS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")
SKIES = (
    (0.0, lazy("clear")),
    (0.25, lazy("a few clouds")),
    (0.6, lazy("half covered")),
    (1.0, lazy("overcast")),
)


class ReadingForm(forms.Form):
    """What a person reads at the rink. Everything but the time may be left out."""

    at = LocalTimeField(label=lazy("Time"))
    air = QuantityField(label=lazy("Air"), quantity="temperature", lowest=-60, highest=45, required=False)
    wind = QuantityField(label=lazy("Wind"), quantity="speed", lowest=0, highest=60, required=False)
    gust = QuantityField(label=lazy("Gusts"), quantity="speed", lowest=0, highest=90, required=False)
    wind_from = forms.ChoiceField(label=lazy("Wind from"), required=False, error_messages=NOT_LISTED)
    humidity = QuantityField(
        label=lazy("Humidity, per cent"), quantity="number", lowest=1, highest=100, required=False
    )
    sky = forms.ChoiceField(label=lazy("Sky"), required=False, error_messages=NOT_LISTED)
    snow = QuantityField(
        label=lazy("Snow lying beside the rink"), quantity="depth", lowest=0, highest=5, required=False
    )

    def __init__(self, data: Any, *, zone: ZoneInfo, now: dt.datetime) -> None:
        super().__init__(data, initial={"at": now})
        self.fields["at"].set_zone(zone)  # type: ignore[attr-defined]
        winds = [(str(45 * n), _(name)) for n, name in enumerate(WINDS)]
        self.fields["wind_from"].choices = [("", "–"), *winds]  # type: ignore[attr-defined]
        skies = [(str(share), name) for share, name in SKIES]
        self.fields["sky"].choices = [("", "–"), *skies]  # type: ignore[attr-defined]

    def hour(self) -> Hour:
        """The reading. Call after is_valid()."""
        data = self.cleaned_data
        humidity = data["humidity"]
        return Hour(
            at=data["at"],
            air_c=data["air"],
            wind_ms=data["wind"],
            gust_ms=data["gust"],
            wind_from_deg=float(data["wind_from"]) if data["wind_from"] else None,
            humidity_frac=None if humidity is None else humidity / 100,
            cloud_frac=float(data["sky"]) if data["sky"] else None,
            snow_m=data["snow"],
        )
