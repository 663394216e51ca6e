"""What a keeper says of a rink's weather sources: who is asked, in which order, for which station."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from django.conf import settings
from django.db import transaction
from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.facts import Refused
from rinklog.rink.models import Rink
from rinklog.weather.models import ProviderState, WeatherSetup
from rinklog.weather.providers import metar_reports
from rinklog.weather.providers.registry import PROVIDERS


@dataclass(frozen=True)
class Wish:
    """The whole choice: providers that are switched on in their order, and what they need to know."""

    providers: Sequence[str]
    contact: str = ""
    altitude_m: float | None = None
    metar_station: str = ""


@transaction.atomic
def choose_sources(*, rink: Rink, wish: Wish, by: Person, now: dt.datetime) -> WeatherSetup:
    """Keep the choice. A source that is switched on anew, or asked for something else, starts without a past.

    Errors: Refused for an unknown provider, a station that is no ICAO code, or a provider that wants a contact.
    """
    _check(wish)
    old = WeatherSetup.objects.filter(rink=rink).first()
    values = {
        "contact": wish.contact,
        "altitude_m": wish.altitude_m,
        "metar_station": wish.metar_station,
        "by": by,
        "changed_at": now,
    }
    setup, _made = WeatherSetup.objects.update_or_create(rink=rink, defaults=values)
    on = [*wish.providers, *([metar_reports.SLUG] if wish.metar_station else [])]
    afresh = old is None or (old.contact, old.altitude_m) != (wish.contact, wish.altitude_m)
    moved = old is not None and old.metar_station != wish.metar_station
    for slug in (*PROVIDERS, metar_reports.SLUG):
        turn = on.index(slug) if slug in on else len(on)
        state, made = ProviderState.objects.get_or_create(
            rink=rink, provider=slug, defaults={"is_on": slug in on, "turn": turn}
        )
        begins = slug in on and (not state.is_on or afresh or (moved and slug == metar_reports.SLUG))
        if not made:
            changes = {"is_on": slug in on, "turn": turn} | (AFRESH if begins else {})
            ProviderState.objects.filter(id=state.id).update(**changes)
    return setup


AFRESH: dict[str, object] = {
    "asked_at": None,
    "expires_at": None,
    "rest_until": None,
    "failures": 0,
    "problem": "",
    "etag": "",
    "last_modified": "",
    "found_path": "",
}


def _check(wish: Wish) -> None:
    known = ", ".join(PROVIDERS)
    for slug in wish.providers:
        if slug not in PROVIDERS:
            sentence = _("“%(value)s” is no weather service known here; allowed: %(known)s.")
            raise Refused("providers", sentence % {"value": slug[:40], "known": known})
    if wish.metar_station and not metar_reports.STATION.fullmatch(wish.metar_station):
        sentence = _("Station is “%(value)s”; allowed: the four letters of an airport, such as ENGM.")
        raise Refused("metar_station", sentence % {"value": wish.metar_station[:20]})
    asking = [PROVIDERS[slug].name for slug in wish.providers if PROVIDERS[slug].needs_contact]
    if asking and not (wish.contact or settings.WEATHER_CONTACT):
        sentence = _("%(names)s want to know whom to write to: give an e-mail or web address as the contact.")
        raise Refused("contact", sentence % {"names": ", ".join(asking)})
