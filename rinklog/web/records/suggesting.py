"""Reasons to close and the last look at the ice, in words, beside the form. They fill in "closed", never "open"."""

import datetime as dt
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from rinklog.advice.closing import Reason
from rinklog.advice.grading import Look
from rinklog.advice.opening import last_look, reasons_to_close
from rinklog.dates import written
from rinklog.records.models import Opening
from rinklog.records.queries import grades
from rinklog.rink.models import Rink
from rinklog.web.access import At
from rinklog.web.measures import show
from rinklog.web.middleware import current_units

MOST_ZONES = 8


@dataclass(frozen=True)
class Suggestion:
    """One reason to close: its key in the address, the sentence, and the few words that would stand on the page."""

    key: str
    sentence: str
    reason: str


def suggestions(at: At) -> list[Suggestion]:
    """What speaks for closing now, in this person's words and units."""
    return [worded(one, at) for one in reasons_to_close(at.rink, at.now)]


def worded(reason: Reason, at: At) -> Suggestion:
    """A reason as a person reads it."""
    zones = " ".join(reason.zones[:MOST_ZONES]) + (" …" if len(reason.zones) > MOST_ZONES else "")
    told = {
        "zones": zones,
        "depth": _shown(reason.amount, "coat"),
        "ice": _shown(reason.amount, "depth"),
        "least": _shown(reason.limit, "depth"),
        "air": _shown(reason.amount, "temperature"),
        "limit": _shown(reason.limit, "temperature"),
        "hours": round(reason.amount),
        "when": written((reason.at or at.now).astimezone(at.zone), "D j M H:i"),
    }
    sentence, short = words()[reason.key]
    return Suggestion(reason.key, sentence % told, short)


def words() -> dict[str, tuple[str, str]]:
    """The sentence of each reason, and the words that a closing would give."""
    return {
        "wet": (_("By the estimate up to %(depth)s of water or slush lies on %(zones)s."), _("wet coat")),
        "thin": (
            _("By the estimate %(zones)s is down to %(ice)s; people skate here from %(least)s."),
            _("thin ice"),
        ),
        "warm": (_("The air is %(air)s; this rink closes above %(limit)s."), _("too warm")),
        "cold": (_("The air is %(air)s; this rink closes below %(limit)s."), _("too cold")),
        "thaw": (_("A thaw is forecast from %(when)s: %(hours)d hours above freezing."), _("thaw")),
    }


def _shown(value: float, quantity: str) -> str:
    return show(value, quantity, current_units())


def closing(at: At, key: str) -> dict[str, Any]:
    """What a tap on a suggestion fills in; nothing for a reason that no longer speaks."""
    found = next((one for one in suggestions(at) if one.key == key), None)
    return {"state": Opening.State.CLOSED, "reason": found.reason} if found else {}


@dataclass(frozen=True)
class Proposal:
    """A grade that the last look at the ice would give by the rink's own words, and what it rests on."""

    word: str
    at: dt.datetime
    flawed_percent: int
    snow: bool
    shut: bool
    drilled: str


def proposal(rink: Rink, now: dt.datetime) -> Proposal | None:
    """The grade by the published criteria, while the rink still uses as many words; None when nobody looked today."""
    look: Look | None = last_look(rink, now)
    known = grades(rink)
    if look is None or len(known) <= look.grade:
        return None
    drilled = "" if look.thinnest_m is None else _shown(look.thinnest_m, "depth")
    word = known[look.grade].word
    return Proposal(word, look.at, round(look.flawed_frac * 100), look.snow, look.shut, drilled)
