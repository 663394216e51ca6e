"""A form filled by one tap from somewhere else: what the address asks for, as far as it makes sense."""

import datetime as dt
from typing import Any
from uuid import UUID

from django.http import QueryDict

from rinklog.advice import queries as advice
from rinklog.advice.items import Window
from rinklog.rink.queries import zones
from rinklog.rink.sign_queries import flow_of_hose
from rinklog.web.access import At
from rinklog.work.kinds import KINDS
from rinklog.work.kinds.base import Choice

NEAR = dt.timedelta(
    hours=1
)  # a window that begins within an hour is begun as said; one further off is begun now


def asked_for(at: At, kind: str, query: QueryDict) -> dict[str, Any]:
    """First values for a form: ?zones=, ?method=, for a flood ?window= of the advice or ?hose=. Nonsense is left out."""
    asked: dict[str, Any] = {}
    if "window" in query and kind == "flood":
        window = advice.window(at.rink, str(query["window"]), at.now)
        asked |= _of_window(at, window) if window else {}
    if "hose" in query and kind == "flood":
        flow = flow_of_hose(at.rink, str(query["hose"]))
        asked |= {"by": "minutes", "hose_flow_ls": flow} if flow else {}
    picked = {int(one) for one in query.getlist("zones") if one.isdigit()}
    if on_grid := [zone.id for zone in zones(at.season.grid) if zone.id in picked]:
        asked["zones"] = on_grid
    method = KINDS[kind].details.get("method")
    if isinstance(method, Choice) and query.get("method") in method.choices:
        asked["method"] = query["method"]
    return asked


def _of_window(at: At, window: Window) -> dict[str, Any]:
    """A flood as advised: its start, its zones, and the water that makes its coat over them."""
    there = [zone for zone in zones(at.season.grid) if zone.id in window.zone_ids]
    area_m2 = sum(zone.area_m2 for zone in there)
    # Up to the full minute: a flood is never said to have begun before the advice that led to it.
    soonest = at.now.replace(second=0, microsecond=0) + dt.timedelta(minutes=1)
    near = window.starts_at - at.now <= NEAR
    return {
        "zones": [zone.id for zone in there],
        "by": "amount",
        "amount": window.coat_mm / 1000 * area_m2,
        "started": max(window.starts_at, soonest) if near else soonest,
    }


def as_uuid(text: str) -> UUID | None:
    """A UUID out of the address, or None."""
    try:
        return UUID(text)
    except ValueError:
        return None
