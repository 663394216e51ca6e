"""The rules of advice, one file each. A rule looks at a Situation and returns items; it writes and asks nothing."""

from collections.abc import Callable

from rinklog.advice.items import Item
from rinklog.advice.rules import (
    drill_questions,
    flood,
    hazards,
    leak,
    machines,
    snow,
    snow_left_on,
    tarp,
    thaw,
    thickness_check,
    wear,
    wet_coat,
)
from rinklog.advice.situation import Situation

Rule = Callable[[Situation], list[Item]]
RULES: tuple[Rule, ...] = (
    wet_coat.items,
    hazards.items,
    leak.items,
    snow_left_on.items,
    snow.items,
    flood.items,
    thaw.items,
    thickness_check.items,
    machines.items,
    wear.items,
    tarp.items,
    drill_questions.items,
)


def advice(situation: Situation) -> list[Item]:
    """Everything the rules have to say, the most urgent first; equals keep the order of RULES."""
    found = [item for rule in RULES for item in rule(situation)]
    return sorted(found, key=lambda item: -item.urgency)
