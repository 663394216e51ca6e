"""Whether it is dark at a rink: then nobody is alone on the ice."""

import datetime as dt
from zoneinfo import ZoneInfo

from rinklog.physics.sun import position

CIVIL_TWILIGHT_DEG = -6.0
"""Height of the sun at which civil twilight ends: lamps are needed below it. Definition, US Naval Observatory."""
DARK_HOURS = (16, 8)
"""Without a position it counts as dark from 16:00 to 8:00 on the rink's clock. Common practice, no source."""


def is_dark(at: dt.datetime, zone: ZoneInfo, latitude: float | None, longitude: float | None) -> bool:
    """Whether the sun is below civil twilight. Arguments: at [aware], zone, position [°]."""
    if latitude is None or longitude is None:
        hour = at.astimezone(zone).hour
        return hour >= DARK_HOURS[0] or hour < DARK_HOURS[1]
    return float(position(at.timestamp(), latitude, longitude).elevation_deg) < CIVIL_TWILIGHT_DEG
