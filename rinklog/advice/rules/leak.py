"""Water that went in and is not there: a leak is suspected aloud."""

from rinklog.advice.items import Act, Item, Urgency
from rinklog.advice.said import depth, say, water
from rinklog.advice.situation import Situation


def items(now: Situation) -> list[Item]:
    """One item while the last holes say that more is missing than a reading can be wrong by."""
    gone = now.missing
    if gone is None or not gone.suspected:
        return []
    said = say(
        "leak.suspected",
        water_in=water(gone.water_in_m3),
        there=water(gone.there_m3),
        level=depth(gone.level_m),
    )
    act = Act("open-fill", "first-fill")
    source = "water written down against the latest drill holes; common practice, no source"
    return [Item("leak", Urgency.DANGER, said, (say("leak.look"), say("leak.keep-off")), source, act)]
