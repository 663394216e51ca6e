"""In which language and units a stranger reads: as they ask in the address, else as their browser says."""

from dataclasses import dataclass, replace

from django.conf import settings
from django.http import QueryDict
from django.utils.translation import gettext as _

from rinklog.web.languages import language_of, wishes_of
from rinklog.web.measures import METRIC, US, Units

UNITS: dict[str, Units] = {"metric": METRIC, "us": US}
# Where US customary units are read: CLDR's measurementSystem "US", and the territories of the United States. From memory.
US_REGIONS = {"us", "pr", "gu", "vi", "as", "mp", "um", "lr"}


@dataclass(frozen=True)
class Reading:
    """A language of this site and the name of a system of units."""

    language: str
    units: str


class Unreadable(Exception):
    """What was asked for in the address is not to be had; the text is a sentence for the reader."""


def reading_of(accept_language: str, query: QueryDict) -> Reading:
    """How to show the page. Raises Unreadable."""
    wishes = wishes_of(accept_language)
    reading = Reading(language_of(wishes), units_of(wishes))
    if units := query.get("units"):
        if units not in UNITS:
            raise Unreadable(
                _("Units is “%(value)s”; allowed are %(allowed)s.")
                % {"value": units[:40], "allowed": ", ".join(UNITS)}
            )
        reading = replace(reading, units=units)
    if language := query.get("lang"):
        known = dict(settings.LANGUAGES)
        if language not in known:
            raise Unreadable(
                _("Language is “%(value)s”; allowed are %(allowed)s.")
                % {"value": language[:40], "allowed": ", ".join(known)}
            )
        reading = replace(reading, language=language)
    return reading


def units_of(wishes: list[str]) -> str:
    """US units when the reader's first region is one that reads them; metric for everybody else."""
    for wish in wishes:
        _language, _dash, region = wish.rpartition("-")
        if len(region) == 2 and _language:
            return "us" if region in US_REGIONS else "metric"
    return "metric"
