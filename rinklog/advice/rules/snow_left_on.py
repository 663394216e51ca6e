"""Snow that is better left on: it takes the freezing rain, and comes off with it."""

from rinklog.advice.items import Item, Urgency
from rinklog.advice.said import air, depth, moment, rain, say
from rinklog.advice.situation import HourAhead, Situation

LEAST_SNOW_M = 0.005
AHEAD_H = 18
# A forecast gives no kind of rain: rain in air this near to freezing falls on ice that is colder. From memory.
FREEZING_AIR_C = (-3.0, 2.0)
LEAST_RAIN_MM = 0.5


def items(now: Situation) -> list[Item]:
    """Leave it on until the rain is over, and say from when to when."""
    wet = freezing_rain(now)
    if not shields(now):
        return []
    snow_m = max(zone.snow_m.middle for zone in now.zones if zone.snow_m)
    return [
        Item(
            "snow-left-on",
            Urgency.TONIGHT,
            say(
                "snow.leave",
                snow=depth(snow_m),
                rain=rain(sum(hour.rain_mm for hour in wet)),
                starts=moment(wet[0].at),
            ),
            (say("snow.leave-air", low=air(min(h.air_c for h in wet)), high=air(max(h.air_c for h in wet))),),
            "Lynwood Village, Ottawa: leave wet snow on before freezing rain, it shields the ice",
        )
    ]


def freezing_rain(now: Situation) -> list[HourAhead]:
    """The hours ahead with rain in air near freezing."""
    low, high = FREEZING_AIR_C
    return [hour for hour in now.within(AHEAD_H) if hour.rain_mm > 0.05 and low <= hour.air_c <= high]


def shields(now: Situation) -> bool:
    """Whether there is snow on the ice and freezing rain to come."""
    rain_mm = sum(hour.rain_mm for hour in freezing_rain(now))
    return rain_mm >= LEAST_RAIN_MM and any(z.snow_m and z.snow_m.middle >= LEAST_SNOW_M for z in now.zones)
