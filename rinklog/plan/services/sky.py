"""The storm watch and the leak, told to whoever is on duty: each turning once, each look at the ice once."""

import datetime as dt
from functools import partial
from zoneinfo import ZoneInfo

from django.utils import formats
from django.utils.translation import gettext as _

from rinklog import units
from rinklog.advice.fill.leak import Missing
from rinklog.advice.fill.reading import FillFacts, fill_facts
from rinklog.advice.fill.storm import WIND, Turning
from rinklog.crew.models import Person
from rinklog.plan.addresses import first_fill_path
from rinklog.plan.queries.duty import on_duty
from rinklog.plan.saying import say
from rinklog.plan.words import when
from rinklog.rink.models import Rink
from rinklog.unit_words import symbol_of

# Who comes on up to this long after it turns is told as well: they go out into what it left.
AFTER = dt.timedelta(hours=12)


def watch_sky(*, rink: Rink, now: dt.datetime) -> int:
    """Tell the people on duty what turns in the forecast, and a leak; safe to repeat. Returns how many there are."""
    facts = fill_facts(rink, now)
    if facts is None or not facts.watched:
        return 0
    turning = facts.turning
    for one in turning:
        for person in on_duty(rink, now, one.at + AFTER):
            words = partial(storm_words, one, person, facts.zone)
            _say(rink, person, "storm-watch", words, f"{one.key} {facts.season.id}", now)
    gone = facts.missing
    leaks = gone is not None and gone.suspected
    if gone is not None and leaks:
        for person in on_duty(rink, now, now + AFTER):
            _say(rink, person, "leak", partial(leak_words, gone, person), _leak_key(facts), now)
    return len(turning) + leaks


def _say(rink: Rink, person: Person, kind: str, text: partial[str], key: str, now: dt.datetime) -> None:
    say(rink=rink, people=[person], kind=kind, text=text, url=first_fill_path(rink), key=key, now=now)


def _leak_key(facts: FillFacts) -> str:
    return f"leak {facts.holes[0].root_id}"


def storm_words(turning: Turning, person: Person, zone: ZoneInfo) -> str:
    """What turns, how bad, from when, and what to do, in a person's units."""
    told = {"when": when(turning.at, zone)}
    if turning.what == WIND:
        told["wind"] = measured(turning.amount, person.speed_unit, 0)
        return (
            _(
                "Wind turns in the forecast: gusts up to %(wind)s from %(when)s. Fasten the liner, or put off laying it. "
                "Nobody goes out alone."
            )
            % told
        )
    told["snow"] = measured(turning.amount / 1000, person.depth_unit, 1 if person.depth_unit == "mm" else 2)
    return (
        _(
            "Snow turns in the forecast: up to %(snow)s as water in 12 hours, from %(when)s. What falls into a fill that "
            "is not closed turns to slush. Nobody goes out alone."
        )
        % told
    )


def leak_words(gone: Missing, person: Person) -> str:
    """How much went in, how much is there, and where to look, in a person's units."""
    unit = "gal" if person.water_unit == "gal" else "m3"
    digits = 0 if unit == "gal" else 1
    return _(
        "A leak is suspected: %(water_in)s went in, the last holes say that %(there)s is there. Look along the boards "
        "and the low corner, and keep people off: ice with no water beneath breaks."
    ) % {
        "water_in": measured(gone.water_in_m3, unit, digits),
        "there": measured(gone.there_m3, unit, digits),
    }


def measured(value_si: float, unit: str, digits: int) -> str:
    """A number with its unit in the language of the moment."""
    number = round(units.from_si(value_si, unit), digits) + 0.0
    shown = formats.number_format(number, decimal_pos=digits, force_grouping=True)
    return f"{shown} {symbol_of(unit)}"
