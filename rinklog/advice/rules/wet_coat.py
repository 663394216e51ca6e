"""A coat that still lies wet: keep people off, until about when."""

from rinklog.advice.items import Item, Urgency
from rinklog.advice.said import count, depth, moment, say, zones
from rinklog.advice.situation import Situation

WET_M = 0.0005  # as much as a thin coat; less dries as frost


def items(now: Situation) -> list[Item]:
    """The zones where half of the estimates say there is liquid or slush on the ice."""
    wet = [zone for zone in now.zones if zone.wet_m and zone.wet_m.middle >= WET_M]
    if not wet or now.phase not in ("building", "skating"):
        return []
    ends = [now.wet_until.get(zone.id) for zone in wet]
    known = [end for end in ends if end is not None]
    until = say("wet.until", at=moment(max(known))) if len(known) == len(wet) else say("wet.not-in-sight")
    deepest = max(zone.wet_m.middle for zone in wet if zone.wet_m)
    said = say("wet.keep-off", zones=zones(z.label for z in wet), many=count(len(wet)), depth=depth(deepest))
    return [Item("wet-coat", Urgency.DANGER, said, (until, say("wet.look")), "the ice estimate")]
