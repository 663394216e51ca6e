"""The first fill and the thaw: when to start, calm to lay a liner, hours of hose, the first day it carries, leaks."""

import datetime as dt
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from rinklog.advice.fill.first_carry import Carries, first_carry
from rinklog.advice.fill.leak import LEAST_MISSING_M
from rinklog.advice.fill.liner import LAYING_HOURS, calm_stretches
from rinklog.advice.fill.reading import FillFacts, fill_facts
from rinklog.advice.fill.start_run import PUBLISHED, WET_DAY_MM, Run, best_run, own_rule
from rinklog.advice.fill.thaw import Thaw, outlook
from rinklog.clock import first_showing
from rinklog.crew.rights import Right
from rinklog.ice.forcing import Place, prepare
from rinklog.ice.queries import latest_estimate
from rinklog.web.access import At, found, on_rink

DEEP_M = 0.5  # a keeper with more than about this at the boards is told to have them checked
LEAST_DEPTH_M = 0.005  # shallower is a coat, not a fill
NOON = dt.time(12)


@on_rink(Right.SEE)
@require_safe
def first_fill(request: HttpRequest, at: At) -> HttpResponse:
    """Everything about the first fill; the first day it carries is worked out when somebody asks for it."""
    facts = found(fill_facts(at.rink, at.now))
    runs = runs_of(facts)
    starts_at = start_of(facts, runs[0])
    asked = "carries" in request.GET
    context: dict[str, Any] = {
        "facts": facts,
        "runs": runs,
        "starts_at": starts_at,
        "wet_mm": WET_DAY_MM,
        "calm": calm_stretches(facts.ahead, facts.zone, facts.rules["liner_wind_ms"])[:4],
        "laying_hours": LAYING_HOURS,
        "deepest_m": max((zone.depth_m or 0.0 for zone in facts.zones), default=0.0),
        "deep_m": DEEP_M,
        "asked": asked,
        "carries": carries_of(facts, starts_at) if asked else None,
        "wanted_m": facts.rules["skate_thickness_m"],
        "least_missing_m": LEAST_MISSING_M,
        **thaw_of(facts),
    }
    return render(request, "setup/first_fill.html", context)


def runs_of(facts: FillFacts) -> list[Run]:
    """The run of cold days by this rink's own rule, then by the published ones."""
    own = own_rule(facts.rules["start_night_c"], round(facts.rules["start_nights"]))
    return [best_run(facts.days, criterion) for criterion in (own, *PUBLISHED)]


def start_of(facts: FillFacts, run: Run) -> dt.datetime:
    """When water would be in: noon of the run's first day, or now where it has begun or is not long enough."""
    noon = first_showing(run.days[0].on, NOON, facts.zone) if run.enough else facts.now
    return max(noon, facts.now).replace(minute=0, second=0, microsecond=0)


def carries_of(facts: FillFacts, starts_at: dt.datetime) -> Carries | None:
    """The first day it carries; None where depth, position or weather is missing."""
    rink, depths = facts.rink, [zone.depth_m or 0.0 for zone in facts.zones]
    ahead = [one for one in facts.hours if one.hour.at >= starts_at and one.hour.air_c is not None]
    wet = [depth for depth in depths if depth >= LEAST_DEPTH_M]
    if not wet or not ahead or rink.latitude is None or rink.longitude is None:
        return None
    known = prepare(facts.hours, Place(rink.latitude, rink.longitude), starts_at)
    made_at = known.forecast_made_at or facts.now
    lead_h = max((starts_at - made_at) / dt.timedelta(hours=1), 0.0)
    return first_carry(known.plain(), starts_at, wet, facts.rules["skate_thickness_m"], lead_h=lead_h)


def thaw_of(facts: FillFacts) -> dict[str, Any]:
    """The thinnest ice there is thought to be, and what the forecast would take of it by degree-days."""
    estimate = latest_estimate(facts.rink)
    if estimate is None or not estimate.zones or not facts.ahead:
        return {"thinnest_m": None, "thaw": None}
    thinnest_m = min(zone.thickness_m.middle for zone in estimate.zones.values())
    thaw: Thaw = outlook(facts.ahead, thinnest_m, facts.rules["skate_thickness_m"])
    return {"thinnest_m": thinnest_m, "thaw": thaw, "estimate": estimate}
