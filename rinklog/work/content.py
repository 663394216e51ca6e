"""What a person says about one piece of work, before it is a row: plain values, SI, comparable."""

import datetime as dt
from dataclasses import asdict, dataclass, field
from typing import Any
from uuid import UUID

from rinklog.facts import fingerprint_of


@dataclass(frozen=True)
class EntryContent:
    """The content of an entry. Two posts with equal content are the same post."""

    started_at: dt.datetime
    ended_at: dt.datetime | None = None
    zone_ids: tuple[int, ...] = ()
    conditions: dict[int, str] = field(default_factory=dict)  # zone id → condition (inspection)
    minutes: dict[UUID, float] = field(default_factory=dict)  # person id → minutes
    water_m3: float | None = None
    details: dict[str, Any] = field(default_factory=dict)
    hazard_ids: tuple[UUID, ...] = ()
    holding: dict[UUID, str] = field(
        default_factory=dict
    )  # hazard id → "holding" or "back-again" (inspection)
    note: str = ""
    lesson: bool = False
    seen_air_c: float | None = None
    seen_wind_ms: float | None = None
    seen_sky: str = ""

    def fingerprint(self, kind: str) -> str:
        """SHA-256 over the kind and the content in one canonical form."""
        return fingerprint_of({"kind": kind, **asdict(self)})
