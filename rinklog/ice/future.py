"""The stored ensemble at the moment of the estimate, for whoever marches on from it (the window search)."""

from __future__ import annotations

from dataclasses import dataclass

from rinklog.ice.models import Outlook
from rinklog.ice.state import State, unpacked
from rinklog.physics.column import Column
from rinklog.physics.column.state import Floats
from rinklog.rink.models import Rink


@dataclass(frozen=True)
class Members:
    """The ensemble: column zones by members with members fastest, weights (zones, members) that sum to 1 in a zone,
    factors of exchange (on the wind) and sunlight (on the sun) of the same shape, zone ids in order."""

    column: Column
    weights: Floats
    zone_ids: list[int]
    exchange: Floats
    sunlight: Floats


def ensemble_now(rink: Rink) -> Members | None:
    """The stored ensemble with its factors; None while there is no estimate. One question."""
    row = Outlook.objects.filter(rink=rink).only("members", "made_at", "estimate").first()
    if row is None or row.members is None or row.estimate is None:
        return None
    state: State = unpacked(bytes(row.members), row.made_at)
    zone_ids = [one["zone_id"] for one in row.estimate["zones"]]
    return Members(state.column, state.weights, zone_ids, state.exchange, state.sunlight)


def members_now(rink: Rink) -> tuple[Column, Floats, list[int]] | None:
    """Column, weights (zones, members) and zone ids of the stored ensemble; None while there is no estimate."""
    found = ensemble_now(rink)
    return None if found is None else (found.column, found.weights, found.zone_ids)
