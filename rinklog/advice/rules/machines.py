"""Machines on the ice: barred until enough holes are measured, every one thick enough, none of them outdated."""

import datetime as dt

from rinklog.advice.items import Act, Item, Urgency
from rinklog.advice.said import Said, count, depth, say, text
from rinklog.advice.situation import HoleNow, Situation
from rinklog.rink.machine_rule import MachineRule

COUNTS_FOR = dt.timedelta(days=7)  # older holes count no more; common practice, no source
SOURCE = "Naperville Park District IL, Maintenance guidelines (2023 plan): 10 cm in 3 to 4 drill holes"


def items(now: Situation) -> list[Item]:
    """Barred, and what is missing; or met, which is still for a person to decide."""
    if now.phase not in ("building", "skating"):
        return []
    rule = MachineRule(round(now.rules["machine_holes"]), now.rules["machine_thickness_m"])
    holes = counting(now)
    thin = [hole for hole in holes if not rule.met_by([hole.counted_m] * rule.holes)]
    need = say("machines.rule", holes=count(rule.holes), least=depth(rule.least_m))
    if rule.met_by([hole.counted_m for hole in holes]):
        thinnest = min(hole.counted_m for hole in holes)
        met = say("machines.met", holes=count(len(holes)), thinnest=depth(thinnest))
        return [Item("machines-met", Urgency.KNOW, met, (need, say("machines.person")), SOURCE)]
    act = Act("log-hole", "record", {"kind": "drill-hole"})
    return [Item("machines-barred", Urgency.SOON, _barred(rule, holes, thin), (need,), SOURCE, act)]


def counting(now: Situation) -> list[HoleNow]:
    """The holes that count: drilled lately, and not before it was warm."""
    warm = [h.at for h in now.hours if h.at <= now.now and h.air_c > now.rules["recheck_c"]]
    since = max(now.now - COUNTS_FOR, max(warm, default=now.now - COUNTS_FOR))
    return [hole for hole in now.holes if hole.at >= since]


def _barred(rule: MachineRule, holes: list[HoleNow], thin: list[HoleNow]) -> Said:
    if thin:
        worst = min(thin, key=lambda hole: hole.counted_m)
        return say("machines.thin", thinnest=depth(worst.counted_m), zone=text(worst.zone))
    if not holes:
        return say("machines.none", wanted=count(rule.holes))
    return say("machines.few", holes=count(len(holes)), wanted=count(rule.holes))
