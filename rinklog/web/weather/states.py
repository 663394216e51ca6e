"""What is the matter with the weather: no place, nothing known, an old forecast, a service that does not answer."""

import datetime as dt
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from rinklog.rink.models import Rink
from rinklog.weather.models import ForecastRun, ProviderState
from rinklog.web.weather.words import source_name

OLD_AFTER = dt.timedelta(hours=12)
HOUR = dt.timedelta(hours=1)


@dataclass(frozen=True)
class State:
    """One sentence about what is missing, and the page on which a keeper mends it."""

    sentence: str
    mend: str = ""  # the name of an address
    mend_words: Any = ""


def states(
    *, rink: Rink, known: int, run: ForecastRun | None, sources: list[ProviderState], now: dt.datetime
) -> list[State]:
    """Everything that a reader should know before believing the picture; nothing when all is well."""
    found = []
    if rink.latitude is None:
        said = _("The rink has no position yet: no forecast can be asked for and no sunrise be worked out.")
        found.append(State(said, "place", _("Set the position")))
    if not known:
        said = _("No weather is known for these days: nothing was asked, brought in or read.")
        found.append(State(said, "weather-sources", _("Choose weather sources")))
    elif run is None:
        said = _("There is no forecast: only what was observed is shown.")
        found.append(State(said, "weather-sources", _("Choose weather sources")))
    if run is not None and now - run.made_at >= OLD_AFTER:
        said = _("The newest forecast is %(n)d hours old. It is shown because nothing better is known.")
        found.append(State(said % {"n": (now - run.made_at) // HOUR}))
    return found + [silent(one) for one in sources if one.is_on and one.failures]


def silent(one: ProviderState) -> State:
    """A service that does not answer as it should."""
    said = _("%(name)s gave no good answer: %(problem)s What it last gave is kept and shown.") % {
        "name": source_name(one.provider),
        "problem": one.problem.rstrip(".") + "." if one.problem else "",
    }
    return State(said, "weather-sources", _("Weather sources"))
