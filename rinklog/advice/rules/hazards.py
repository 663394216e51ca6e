"""Hazards without a cone, and hazards open too long."""

import datetime as dt

from rinklog.advice.items import Act, Item, Urgency
from rinklog.advice.said import count, say, text, word, zones
from rinklog.advice.situation import HazardNow, Situation

NOT_REPAIRED = ("found", "marked", "back-again")
URGENCY = {"danger": Urgency.DANGER, "trip": Urgency.NOW, "nuisance": Urgency.SOON}


def items(now: Situation) -> list[Item]:
    """One item for each hazard without a cone, one for each that nobody has repaired for too long."""
    bare = [hazard for hazard in now.hazards if not hazard.cone_out and hazard.state != "holding"]
    limit = dt.timedelta(days=now.rules["hazard_days"])
    old = [h for h in now.hazards if h.state in NOT_REPAIRED and now.now - h.found_at > limit]
    return [_cone(hazard) for hazard in bare] + [_open_long(hazard, now) for hazard in old]


def _cone(hazard: HazardNow) -> Item:
    return Item(
        f"cone-{hazard.id}",
        URGENCY[hazard.severity],
        say("hazard.cone", **_named(hazard)),
        (say("hazard.severity", severity=word(hazard.severity)),),
        "common practice: mark what cannot be repaired at once",
        Act("open-hazard", "hazard", {"id": hazard.id}),
    )


def _open_long(hazard: HazardNow, now: Situation) -> Item:
    days = (now.now - hazard.found_at) / dt.timedelta(days=1)
    return Item(
        f"open-{hazard.id}",
        Urgency.TONIGHT if hazard.severity == "danger" else Urgency.SOON,
        say("hazard.open", days=count(int(days)), **_named(hazard)),
        (say("hazard.rule", days=count(now.rules["hazard_days"])),),
        "this rink's own rule",
        Act("open-hazard", "hazard", {"id": hazard.id}),
    )


def _named(hazard: HazardNow) -> dict[str, tuple[str, object]]:
    where = zones(hazard.zones) if hazard.zones else text("")
    return {"number": count(hazard.number), "kind": word(hazard.kind), "where": where}
