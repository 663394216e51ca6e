"""Flood tonight, from when and how thick; or not tonight, and why. Physics decides; a published rule that says
otherwise stands beside it with its source."""

from rinklog.advice.items import Act, Item, Urgency, Window
from rinklog.advice.said import Said, air, chance, coat, hours, moment, rain, say, speed, text, water, word
from rinklog.advice.situation import HourAhead, NightFault, Situation
from rinklog.clock import local

MPL_WARMEST_C = -5.0  # Minneapolis parks 2020-21: best from -5 °C
EAG_COLD_C, EAG_MINUTES = -12.0, (10, 15)  # Eagan MN 2019: minutes between coats "in deep cold"
FLOODED_PHASES = ("building", "skating")


def items(now: Situation) -> list[Item]:
    """The best window of tonight, or the reason for none and the next one; the later ones are on the page's list."""
    if now.phase not in FLOODED_PHASES or not now.ahead:
        return []
    window = now.window_tonight
    if window is not None:
        return [_flood(now, window)]
    return [_not_tonight(now)] if now.fault or now.windows else []


def _flood(now: Situation, window: Window) -> Item:
    soon = (window.starts_at - now.now).total_seconds() <= 6 * 3600
    return Item(
        "flood",
        Urgency.NOW if soon else Urgency.TONIGHT,
        say(
            "flood.tonight",
            starts=moment(window.starts_at),
            coat=coat(window.coat_mm),
            frozen=moment(window.frozen_by.middle or window.deadline),
            chance=chance(window.chance),
            deadline=moment(window.deadline),
        ),
        tuple(reasons(now, window)),
        "the ice estimate and the forecast; " + _phase_source(now.phase),
        Act("log-flood", "record", {"kind": "flood"}, {"window": window.id}),
    )


def _phase_source(phase: str) -> str:
    if phase == "building":
        return "Montreal guide: while building flood the low spots only"
    return "Norwegian Skating Assoc., Mankato MN: thin coats"


def reasons(now: Situation, window: Window) -> list[Said]:
    """What the window rests on: the band, the spoilers, the correction, and rules that say otherwise."""
    found = []
    low, high = window.frozen_by.low, window.frozen_by.high
    if low and high:
        found.append(say("flood.band", low=moment(low), high=moment(high)))
    if not now.ice_known:
        found.append(say("flood.ice-assumed"))
    found.append(_hose(now, window))
    found += [say("flood.spoiler", what=word(f"spoils-{one}")) for one in window.spoilers]
    if abs(window.factor - 1) >= 0.01:
        found.append(say("flood.corrected", factor=("factor", window.factor)))
    return found + disagreements(now, window)


def _hose(now: Situation, window: Window) -> Said:
    """How long the hose runs for the coat, and how much water that is."""
    if not window.pour_h or not now.hose_m3s:
        return say("flood.hose-unknown")
    return say("flood.hose", hours=hours(window.pour_h), water=water(window.pour_h * 3600 * now.hose_m3s))


def disagreements(now: Situation, window: Window) -> list[Said]:
    """Published rules of thumb that say otherwise than the physics, each with its source."""
    wet = wet_hours(now, window)
    if not wet:
        return []
    at_start = wet[0].air_c
    found = []
    if at_start > now.rules["flood_warmest_c"]:
        found.append(
            say("flood.too-warm-by-rule", air=air(at_start), limit=air(now.rules["flood_warmest_c"]))
        )
        if at_start <= MPL_WARMEST_C:
            found.append(say("flood.warm-enough-elsewhere", limit=air(MPL_WARMEST_C)))
    if at_start < now.rules["flood_coldest_c"]:
        found.append(
            say("flood.too-cold-by-rule", air=air(at_start), limit=air(now.rules["flood_coldest_c"]))
        )
    if at_start <= EAG_COLD_C and window.frozen_by.middle:
        need_h = (window.frozen_by.middle - window.starts_at).total_seconds() / 3600 - window.pour_h
        if need_h > EAG_MINUTES[1] / 60:
            found.append(say("flood.minutes-by-rule", hours=hours(need_h), coat=coat(window.coat_mm)))
    return found


def wet_hours(now: Situation, window: Window) -> list[HourAhead]:
    """The hours in which the coat lies wet."""
    end = window.frozen_by.high or window.deadline
    return [hour for hour in now.ahead if window.starts_at <= hour.at < end] or [
        hour for hour in now.ahead if hour.at <= window.starts_at
    ][-1:]


def _not_tonight(now: Situation) -> Item:
    fault = now.fault
    why = [_reason(now, fault)] if fault else []
    why += _rule_would_flood(now, fault)
    if now.windows:
        following = now.windows[0]
        why.append(
            say("flood.next", starts=moment(following.starts_at), coat=coat(following.coat_mm),
                chance=chance(following.chance))
        )  # fmt: skip
    else:
        why.append(say("flood.none-in-sight"))
    return Item("not-tonight", Urgency.TONIGHT, say("flood.not-tonight"), tuple(why), _source(fault))


def _source(fault: NightFault | None) -> str:
    if fault and fault.reason in ("snow", "rain"):
        return "Quebec towns: not in any snowfall; rain over 10 mm harms"
    return "the ice estimate and the forecast"


def _reason(now: Situation, fault: NightFault) -> Said:
    if fault.reason == "warm":
        return say(
            "flood.not-warm",
            coat=coat(fault.coat_mm),
            chance=chance(fault.chance),
            wanted=chance(now.rules["flood_chance_frac"]),
            deadline=("count", int(now.rules["opens_hour"])),
            air=air(fault.air_c),
        )
    if fault.reason == "mild":
        return say("flood.not-mild", air=air(fault.air_c), limit=air(now.rules["flood_never_c"]))
    if fault.reason == "wind":
        return say("flood.not-wind", wind=speed(fault.amount), limit=speed(now.rules["flood_windy_ms"]))
    if fault.reason in ("snow", "rain"):
        return say(f"flood.not-{fault.reason}", water=rain(fault.amount), starts=moment(fault.starts_at))
    return say(f"flood.not-{fault.reason}")


def _rule_would_flood(now: Situation, fault: NightFault | None) -> list[Said]:
    """The rule of thumb, where it would flood and the physics would not."""
    if fault is None or fault.reason != "warm" or fault.air_c > now.rules["flood_warmest_c"]:
        return []
    at = text(f"{local(fault.starts_at, now.zone):%H:%M}")
    return [say("flood.rule-would", air=air(fault.air_c), limit=air(now.rules["flood_warmest_c"]), at=at)]
