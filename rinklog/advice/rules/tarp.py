"""A tarp day tomorrow: a dark cover over bumps and ridges, where and for how long."""

from rinklog.advice.items import Act, Item, Urgency
from rinklog.advice.said import depth, moment, say, zones
from rinklog.advice.situation import HazardNow, Situation

STANDS_UP = ("bump", "ridge")
LEAST_MELT_M = 0.002  # less is not worth carrying a cover; common practice, no source


def items(now: Situation) -> list[Item]:
    """Where something stands up and tomorrow's sun can take it down."""
    bumps = [hazard for hazard in now.hazards if hazard.kind in STANDS_UP and hazard.state != "holding"]
    if now.tarp is None or now.tarp.melt_m < LEAST_MELT_M or not bumps:
        return []
    worst = max(bumps, key=_weight)
    return [
        Item(
            "tarp",
            Urgency.SOON,
            say(
                "tarp.tomorrow",
                zones=zones(sorted({label for hazard in bumps for label in hazard.zones})),
                lay=moment(now.tarp.lay_at),
                lift=moment(now.tarp.lift_at),
                melt=depth(now.tarp.melt_m),
            ),
            (say("tarp.lift-in-time"),),
            "energy balance of a dark cover in the forecast sun",
            Act("log-tarp", "record", {"kind": "tarp-melt"}, {"hazard": worst.id}),
        )
    ]


def _weight(hazard: HazardNow) -> int:
    return ("nuisance", "trip", "danger").index(hazard.severity)
