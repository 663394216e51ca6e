"""Tonight: what to do, in order of urgency, and how good that advice has been. Everything is read as it was stored."""

import datetime as dt
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_POST

from rinklog.advice import queries
from rinklog.advice.queries import Tonight
from rinklog.advice.tasks import ask_afresh
from rinklog.crew.rights import Right
from rinklog.ice.queries import stored
from rinklog.weather.queries import sources
from rinklog.web.access import At, on_rink
from rinklog.web.tonight.record import record_panel
from rinklog.web.tonight.showing import evening_line, item_line, repair_card, shower, window_line
from rinklog.web.weather.states import silent
from rinklog.web.weather.words import source_name
from rinklog.work.queries import open_hazards

OLD_FORECAST = dt.timedelta(hours=12)
MISSING = {
    "season": lazy("No season has begun, so there is nothing to advise. The keeper begins one in Set-up."),
    "position": lazy(
        "The rink has no position, so no forecast can be asked for. The keeper gives it one in Set-up; until then "
        "only what the log tells is here."
    ),
    "weather": lazy("No forecast is known now, so nothing is said of floods, snow or thaw."),
}
NO_ICE = {
    "position": lazy("There is no ice estimate: the rink has no position."),
    "weather": lazy("There is no ice estimate: no weather is known."),
    "water": lazy("There is no ice estimate: no water is on the rink yet."),
    "over": lazy("There is no ice estimate: the season is over."),
    "none-yet": lazy("There is no ice estimate yet."),
}


@on_rink(Right.SEE)
def tonight(request: HttpRequest, at: At) -> HttpResponse:
    """What to do tonight and why, from stored advice."""
    found = queries.tonight(at.rink, at.now)
    return render(request, "tonight/tonight.html", _context(at, found) if found else _waiting(at))


def _waiting(at: At) -> dict[str, Any]:
    """Before the first advice: how far the season has been worked through."""
    row = stored(at.rink)
    return {"found": None, "reached_at": row.reached_at if row else None}


@on_rink(Right.LOG)
@require_POST
def again(request: HttpRequest, at: At) -> HttpResponse:
    """Ask for fresh advice; it comes in the background."""
    ask_afresh(at.rink, at.now)
    messages.success(request, _("Fresh advice is being made; look again in a minute."))
    return redirect("tonight", slug=at.rink.slug)


def _context(at: At, found: Tonight) -> dict[str, Any]:
    show = shower(at)
    told = found.told
    score, floods = queries.record(at.rink)
    hazards = {str(hazard.id): hazard for hazard in open_hazards(at.rink)} if found.repairs else {}
    return {
        "found": found,
        "items": [item_line(item, at, show) for item in found.items],
        "windows": [window_line(window, at, show) for window in found.windows],
        "repairs": [
            repair_card(hazards[id], ways, at, show)
            for id, ways in found.repairs.items()
            if id in hazards and ways
        ],
        "evening": evening_line(found.evening, show),
        "missing": MISSING.get(told.get("missing", "")),
        "no_ice": NO_ICE.get(told.get("ice_missing", "")) if told.get("missing") != "position" else None,
        "ages": _ages(told, at),
        "silent": [silent(one).sentence for one in sources(at.rink) if one.is_on and one.failures],
        "newer": queries.is_newer(at.rink, found.made_at),
        "record": record_panel(score, floods, told.get("factor", 1.0), told.get("spoke", 0), at, show),
    }


def _ages(told: dict[str, Any], at: At) -> dict[str, Any]:
    """When the sources are from, and whether the forecast is old."""
    times = {
        name: dt.datetime.fromisoformat(told[name]) if told.get(name) else None
        for name in ("forecast_made_at", "observed_at", "estimate_at")
    }
    made = times["forecast_made_at"]
    return times | {
        "source": source_name(told.get("source", "")),
        "old": made is not None and at.now - made > OLD_FORECAST,
    }
