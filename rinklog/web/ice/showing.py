"""What every page that shows the estimate needs: the estimate, what is missing, the rules its steps follow."""

import datetime as dt
from typing import Any

from django.utils.translation import gettext as _

from rinklog.ice import queries
from rinklog.ice.models import Outlook
from rinklog.ice.plain import estimate_from_json
from rinklog.ice.summing import Estimate
from rinklog.rink.queries import rules
from rinklog.web.access import At
from rinklog.web.rinkmap.ice_layers import Rules
from rinklog.web.weather.words import source_name

STALE_AFTER = dt.timedelta(hours=3)


def ice_context(at: At) -> dict[str, Any]:
    """The stored estimate with its age, or the sentence that says what is missing."""
    row = queries.stored(at.rink)
    estimate = estimate_from_json(row.estimate) if row and row.estimate else None
    values = {one.rule.key: one.value for one in rules(at.rink)}
    return {
        "estimate": estimate,
        "weather_from": source_name(estimate.weather_source) if estimate else "",
        "old": estimate is not None and at.now - estimate.at > STALE_AFTER,
        "why_none": why_none(row) if estimate is None else "",
        "replaying": row is not None and row.reached_at is not None,
        "reached_at": row.reached_at if row else None,
        "rules": Rules(values["skate_thickness_m"], values["machine_thickness_m"], values["snow_clear_m"]),
    }


def why_none(row: Outlook | None) -> str:
    """What is missing for an estimate, and where it is put right."""
    if row is None:
        return _("The estimate has not been made yet; it follows within minutes of the first weather.")
    missing = Outlook.Missing
    return {
        missing.POSITION: _(
            "No estimate: the rink has no position, so sun and weather are not known. A keeper sets it in the set-up."
        ),
        missing.WEATHER: _(
            "No estimate: no weather is known since the first water. A keeper chooses a weather source."
        ),
        missing.WATER: _(
            "No estimate: no water is on the rink yet. It begins with the building phase or the first flood."
        ),
        missing.OVER: _("No estimate: the season is over."),
    }.get(missing(row.missing), _("The estimate is being made."))


def thinnest(estimate: Estimate | None) -> Any:
    """The zone whose low end is thinnest; None without an estimate."""
    if estimate is None or not estimate.zones:
        return None
    return min(estimate.zones.values(), key=lambda one: (one.thickness_m.low, one.zone_id))
