"""The one shopping list: what the chosen layout needs, less what lies in store, and what the water costs."""

from dataclasses import dataclass

from rinklog.geometry.site import Kit, SitePlan
from rinklog.site.things import Thing


@dataclass(frozen=True)
class Need:
    """One line: how much of what is needed, how much of it is there. Counts, or metres or cubic metres by `unit`."""

    thing: str
    needed: float
    unit: str = ""
    long_m: float | None = None
    wide_m: float | None = None
    there: float = 0.0

    @property
    def to_buy(self) -> float:
        """What is missing."""
        return max(0.0, self.needed - self.there)

    @property
    def title(self) -> str:
        """What it is, in words."""
        return str(Thing(self.thing).label)


def needs(plan: SitePlan, kit: Kit, there: dict[str, float]) -> list[Need]:
    """What a plan needs, in the order it is built.

    Arguments: plan; kit; there, what is in store in a usable state, by thing. Returns: needs above nothing.
    """
    parts = plan.parts
    found = [
        Need(Thing.BOARD, parts.boards, long_m=kit.board_length_m, wide_m=kit.board_m),
        Need(Thing.BENT_BOARD, parts.bent_boards, long_m=kit.board_length_m, wide_m=kit.board_m),
        Need(Thing.BRACKET, parts.brackets),
        Need(Thing.STAKE, parts.stakes),
        Need(Thing.LINER, 1, long_m=plan.liner.cut_length_m, wide_m=plan.liner.cut_width_m),
        Need(Thing.ROPE_LIGHT, parts.reels, long_m=kit.reel_m),
        Need(Thing.NET, parts.nets, long_m=kit.net_length_m, wide_m=kit.net_m),
        Need(Thing.WATER, plan.standing.volume_m3, unit="m3"),
    ]
    return [
        Need(
            one.thing,
            one.needed,
            one.unit,
            one.long_m,
            one.wide_m,
            min(there.get(one.thing, 0.0), one.needed),
        )
        for one in found
        if one.needed > 0
    ]
