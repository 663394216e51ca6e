"""Estimates as JSON and back, every float exact."""

from __future__ import annotations

import datetime as dt
from dataclasses import asdict
from typing import Any

from rinklog.ice.bands import Band
from rinklog.ice.summing import Estimate, OutlookHour, ZoneIce


def estimate_to_json(estimate: Estimate) -> dict[str, Any]:
    """An estimate as JSON values."""
    said = asdict(estimate)
    return _texts(said | {"zones": list(said["zones"].values())})


def estimate_from_json(said: dict[str, Any]) -> Estimate:
    """The estimate that estimate_to_json wrote."""
    zones = [_zone(one) for one in said["zones"]]
    times = {name: _time(said[name]) for name in ("made_at", "at", "forecast_made_at")}
    gaps = [(_time(first), _time(past)) for first, past in said["gaps"]]
    return Estimate(**(said | times | {"zones": {one.zone_id: one for one in zones}, "gaps": gaps}))


def hours_to_json(hours: list[OutlookHour]) -> list[dict[str, Any]]:
    """The outlook as JSON values."""
    return [_texts(asdict(one)) for one in hours]


def hours_from_json(said: list[dict[str, Any]]) -> list[OutlookHour]:
    """The outlook that hours_to_json wrote."""
    names = ("air_c", "wind_ms", "thinnest_m", "wettest_m")
    return [
        OutlookHour(**(one | {name: Band(**one[name]) for name in names} | {"at": _time(one["at"])}))
        for one in said
    ]


def _zone(said: dict[str, Any]) -> ZoneIce:
    bands = {name: Band(**said[name]) for name in ("thickness_m", "wet_top_m", "snow_m")}
    return ZoneIce(**(said | bands | {"frozen_since": _time(said["frozen_since"])}))


def _texts(value: Any) -> Any:
    if isinstance(value, dt.datetime):
        return value.isoformat()
    if isinstance(value, dict):
        return {key: _texts(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_texts(one) for one in value]
    return value


def _time(text: str | None) -> Any:
    return dt.datetime.fromisoformat(text) if text else None
