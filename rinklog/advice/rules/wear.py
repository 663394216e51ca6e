"""Zones that wear: goal mouths, behind the nets, at the benches. They want a pour of their own."""

import datetime as dt

from rinklog.advice.items import Act, Item, Urgency
from rinklog.advice.said import count, moment, say, zones
from rinklog.advice.situation import Situation


def items(now: Situation) -> list[Item]:
    """The zones whose last water is older than the rule, while people skate."""
    if now.phase != "skating":
        return []
    every = dt.timedelta(days=now.rules["wear_days"])
    due = [z for z in now.zones if z.wears and (z.poured_at is None or now.now - z.poured_at > every)]
    if not due:
        return []
    poured = [zone.poured_at for zone in due if zone.poured_at]
    why = [say("wear.last", at=moment(min(poured)))] if len(poured) == len(due) else [say("wear.never")]
    return [
        Item(
            "wear",
            Urgency.SOON,
            say("wear.due", zones=zones(zone.label for zone in due), days=count(now.rules["wear_days"])),
            tuple(why),
            "Ontario Court of Appeal 1995 (an arena): worn areas not flooded separately were negligence",
            Act("log-pour", "record", {"kind": "patch"}, {"zones": [zone.id for zone in due]}),
        )
    ]
