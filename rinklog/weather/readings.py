"""What a person read off a thermometer at the rink: an observation like any other, and the first to be believed."""

import datetime as dt
from dataclasses import replace

from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.facts import Refused
from rinklog.rink.models import Rink
from rinklog.weather.hours import VALUE_NAMES, WHY, Hour, screened
from rinklog.weather.humid import dew_point_c
from rinklog.weather.known import A_PERSON
from rinklog.weather.services import store_observations

CLOCK_SLACK = dt.timedelta(minutes=10)
OLDEST = dt.timedelta(days=366)


def record_reading(*, rink: Rink, hour: Hour, by: Person, now: dt.datetime) -> int:
    """Keep a reading; the same time again replaces what it says. Errors: Refused for nothing, for a time to come or
    over a year ago, and for what cannot be."""
    if all(getattr(hour, name) is None for name in VALUE_NAMES):
        raise Refused("air", _("Nothing is given; write down at least one of them."))
    if not now - OLDEST <= hour.at <= now + CLOCK_SLACK:
        sentence = _("Time is %(at)s UTC; allowed is the past year, until now.")
        raise Refused("at", sentence % {"at": f"{hour.at:%Y-%m-%d %H:%M}"})
    if hour.dew_point_c is None:
        hour = replace(hour, dew_point_c=dew_point_c(hour.air_c, hour.humidity_frac))
    if flags := screened([("", hour)]).flags:
        raise Refused(
            FIELDS.get(flags[0].name, "air"), _("It cannot be: %(why)s.") % {"why": _(WHY[flags[0].why])}
        )
    return store_observations(rink=rink, source=A_PERSON, hours=[hour], recorded_at=now, by=by)


FIELDS = {"gust_ms": "gust", "wind_ms": "wind", "snow_m": "snow"}
