"""What the page lists: items of advice and windows to flood in. Plain values that go through JSON and back."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field
from enum import IntEnum
from typing import Any

from rinklog.advice.said import Said


class Urgency(IntEnum):
    """How soon, and how much hangs on it; items are shown from the top down."""

    DANGER = 90  # somebody can be hurt
    NOW = 70  # within hours, or it is lost
    TONIGHT = 50
    SOON = 30  # tomorrow or within days
    KNOW = 10


@dataclass(frozen=True)
class Act:
    """One tap from the advice to the form or page that does it: an address by name, and how it is filled."""

    label: str  # key in sentences.ACTS
    url_name: str
    kwargs: dict[str, str] = field(default_factory=dict)
    query: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Item:
    """One piece of advice: what, why, and who says so."""

    key: str
    urgency: int
    say: Said
    why: tuple[Said, ...] = ()
    source: str = ""
    act: Act | None = None

    def to_json(self) -> dict[str, Any]:
        """Plain values for a JSON column."""
        return {
            "key": self.key,
            "urgency": int(self.urgency),
            "say": self.say.to_json(),
            "why": [one.to_json() for one in self.why],
            "source": self.source,
            "act": vars(self.act) if self.act else None,
        }

    @classmethod
    def from_json(cls, kept: dict[str, Any]) -> Item:
        """What to_json wrote."""
        return cls(
            kept["key"],
            kept["urgency"],
            Said.from_json(kept["say"]),
            tuple(Said.from_json(one) for one in kept["why"]),
            kept["source"],
            Act(**kept["act"]) if kept["act"] else None,
        )


@dataclass(frozen=True)
class FrozenBy:
    """When a coat is frozen through: in 10, 50 and 90 % of the forecasts; None where the forecast ends first."""

    low: dt.datetime | None
    middle: dt.datetime | None
    high: dt.datetime | None


@dataclass(frozen=True)
class Window:
    """A time to flood: from when, how thick, frozen by when, how likely in time, and what could spoil it."""

    id: str
    starts_at: dt.datetime
    coat_mm: float
    frozen_by: FrozenBy
    chance: float  # frozen by `deadline`
    deadline: dt.datetime
    spoilers: tuple[str, ...] = ()  # keys of sentences.SPOILERS
    zone_ids: tuple[int, ...] = ()
    score: float = 0.0  # expected ice in time [mm], less for spoilers
    factor: float = 1.0  # the correction learned from earlier floods that is in these hours
    pour_h_per_mm: float = 0.0  # how long the hose runs for a millimetre of coat; it is in these hours
    # Hours by coat, so that a flood of another coat can be judged: coat [mm], low, middle, high [h], chance.
    curve: tuple[tuple[float, float | None, float | None, float | None, float], ...] = ()

    @property
    def pour_h(self) -> float:
        """How long the hose runs for this coat [h]; 0 where its flow is not known."""
        return self.coat_mm * self.pour_h_per_mm

    def to_json(self) -> dict[str, Any]:
        """Plain values for a JSON column."""
        kept = {**vars(self), "starts_at": _text(self.starts_at), "deadline": _text(self.deadline)}
        kept["frozen_by"] = [_text(one) for one in vars(self.frozen_by).values()]
        return kept | {name: list(kept[name]) for name in ("spoilers", "zone_ids", "curve")}

    @classmethod
    def from_json(cls, kept: dict[str, Any]) -> Window:
        """What to_json wrote."""
        return cls(
            **{
                **kept,
                "starts_at": dt.datetime.fromisoformat(kept["starts_at"]),
                "deadline": dt.datetime.fromisoformat(kept["deadline"]),
                "frozen_by": FrozenBy(*(_moment(one) for one in kept["frozen_by"])),
                "spoilers": tuple(kept["spoilers"]),
                "zone_ids": tuple(kept["zone_ids"]),
                "curve": tuple(tuple(row) for row in kept["curve"]),
            }
        )


def _text(when: dt.datetime | None) -> str | None:
    return None if when is None else when.astimezone(dt.UTC).isoformat()


def _moment(text: str | None) -> dt.datetime | None:
    return None if text is None else dt.datetime.fromisoformat(text)
