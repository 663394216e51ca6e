"""From ids and SI to words: the one place, given how the reader wants numbers shown."""

from collections.abc import Callable
from typing import Any

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.advice.said import Said
from rinklog.advice.sentences import SENTENCES
from rinklog.work.models import Hazard

Show = Callable[[str, Any], str]
"""Shows a value of a quantity: "depth", "temperature", "moment", … to text."""

# Zones named one by one up to here; more are counted.
NAMED_ZONES = 6

# What so few members can tell: k of n says (k + 1)/(n + 2), and all of 20 is 0.95 (Laplace's rule of succession).
SURE_FRAC = 0.95

WORDS: dict[str, Promise | str] = {
    "machines": lazy("machines"),
    "scraper": lazy("a scraper or a brush"),
    "spoils-wind": lazy("wind on the wet coat"),
    "spoils-snow": lazy("snow on the wet coat"),
    "spoils-rain": lazy("rain on the coat"),
    "spoils-sun": lazy("sun on the wet coat"),
    "spoils-cold": lazy("cold that cracks it and freezes hoses"),
    "slush-pack": lazy("Slush pack"),
    "bucket-pour": lazy("Bucket pour"),
    "hot-water-pour": lazy("Hot-water pour"),
    "scrape": lazy("Scrape"),
    "torch-repair": lazy("Torch repair"),
    "tarp-melt": lazy("Tarp melt"),
    "snow-removal": lazy("Snow removal"),
    "flood": lazy("Flood"),
}


def wording(said: Said, show: Show) -> str:
    """One sentence as the reader reads it."""
    values = {name: _shown(quantity, value, show) for name, (quantity, value) in said.values.items()}
    return str(SENTENCES[said.id]) % values


def word_of(key: str) -> str:
    """A word of the trade by its key."""
    if key in WORDS:
        return str(WORDS[key])
    for choices in (Hazard.Kind, Hazard.Severity):
        if key in choices.values:
            return str(choices(key).label)
    return key


def zone_names(labels: list[str]) -> str:
    """Zones by name, or how many more there are."""
    if not labels:
        return _("no zone")
    if len(labels) <= NAMED_ZONES:
        return ", ".join(labels)
    first = ", ".join(labels[: NAMED_ZONES - 1])
    return _("%(first)s and %(more)d more zones") % {"first": first, "more": len(labels) - NAMED_ZONES + 1}


def chance_text(share: float) -> str:
    """A share of forecasts; twenty members that agree are not certainty, and it is not called so."""
    if share > SURE_FRAC:
        return _("over %(percent)d %%") % {"percent": round(100 * SURE_FRAC)}
    if share < 1 - SURE_FRAC - 1e-9:
        return _("under %(percent)d %%") % {"percent": round(100 * (1 - SURE_FRAC))}
    return _("%(percent)d %%") % {"percent": round(100 * share)}


def _shown(quantity: str, value: Any, show: Show) -> str:
    if quantity == "word":
        return word_of(value)
    if quantity == "zones":
        return zone_names(list(value))
    if quantity == "text":
        return str(value)
    if quantity == "chance":
        return chance_text(value)
    if quantity == "factor":
        return f"{value:.2f}"
    return show(quantity, value)
