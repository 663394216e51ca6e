"""Snow fences: what the wind brings, what a fence holds, where it must stand, and did it work."""

import math
from dataclasses import dataclass
from typing import Any
from uuid import UUID, uuid4

import numpy as np
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from rinklog.crew.rights import Right
from rinklog.facts import Conflict, Refused
from rinklog.geometry import fence as formulas
from rinklog.geometry.blown import Sector, overlap_m
from rinklog.geometry.fence_profile import profile_m
from rinklog.site.models import SnowFence
from rinklog.site.queries import fences as queries
from rinklog.site.queries.fences import Held, Record
from rinklog.site.services import fences as services
from rinklog.web.access import At, on_rink
from rinklog.web.panels import posted
from rinklog.web.site.fence_forms import ExposureForm, FenceForm, LookForm, sector_names

ROSE = 100.0
WIDE, HIGH, GROUND = 340.0, 110.0, 92.0
LEAST_TM = 0.05


@dataclass(frozen=True)
class Wedge:
    """One direction of the rose."""

    name: str
    sector: Sector
    points: str
    label_x: float
    label_y: float
    height_m: float | None

    @property
    def grows(self) -> bool:
        """Whether anything comes from there."""
        return self.sector.comes_tm > 0


@dataclass(frozen=True)
class Profile:
    """A fence with its full drift and the boards, in drawing units; the height is drawn five times too large."""

    snow: str
    fence_x: float
    fence_top: float
    rink_x: float
    ticks: list[tuple[float, int]]


@on_rink(Right.SEE)
def fences(request: HttpRequest, at: At) -> HttpResponse:
    """The record, the fences, and what was seen."""
    return fence_page(request, at, {})


def fence_page(request: HttpRequest, at: At, looks: dict[UUID, LookForm], status: int = 200) -> HttpResponse:
    """The page; `looks` has a form that was refused, by fence."""
    found = queries.record(at.rink, at.now)
    held = queries.held(at.rink, at.season, found)
    drifts = queries.drifts_of(at.season)
    crossed = {drift.id for one in held for drift in one.drifts}
    context = {
        "record": found,
        "wedges": wedges(found),
        "held": [
            (one, profile(one), looks.get(one.fence.id) or LookForm(initial={"id": uuid4(), "on": at.today}))
            for one in held
        ],
        "exposure": queries.exposure(at.rink),
        "drifts": drifts,
        "past": [one for one in drifts if one.id not in crossed],
        "wanted": wanted(found, at),
    }
    return render(request, "site/fences.html", context, status=status)


def wanted(found: Record, at: At) -> dict[str, Any] | None:
    """The fence that would hold what the worst direction brings; None while nothing comes."""
    worst = found.worst
    if worst is None or worst.comes_tm < LEAST_TM:
        return None
    height = float(formulas.height_m(worst.comes_tm))
    setback = float(formulas.setback_m(height))
    side = max(at.season.grid.length_m, at.season.grid.width_m)
    return {
        "name": sector_names()[found.sectors.index(worst)],
        "comes_tm": worst.comes_tm,
        "height_m": height,
        "setback_m": setback,
        "gap_m": formulas.GAP_FRAC * height,
        "length_m": side + 2 * overlap_m(setback),
    }


def wedges(found: Record) -> list[Wedge]:
    """The rose: each direction as far out as it brings snow."""
    most = max((one.comes_tm for one in found.sectors), default=0.0)
    made = []
    for place, (name, one) in enumerate(zip(sector_names(), found.sectors, strict=True)):
        far = ROSE * 0.8 * one.comes_tm / most if most > 0 else 0.0
        arc = [(math.radians(45 * place + turn)) for turn in (-20, -10, 0, 10, 20)]
        points = " ".join(f"{far * math.sin(a):.1f},{-far * math.cos(a):.1f}" for a in arc)
        middle = math.radians(45 * place)
        height = float(formulas.height_m(one.comes_tm)) if one.comes_tm >= LEAST_TM else None
        made.append(
            Wedge(
                name,
                one,
                f"0,0 {points}",
                round(ROSE * 0.92 * math.sin(middle), 1),
                round(-ROSE * 0.92 * math.cos(middle), 1),
                height,
            )
        )
    return made


def profile(one: Held) -> Profile:
    """The full drift behind a fence, and where the boards stand."""
    height, setback = one.fence.height_m, one.fence.setback_m
    reach = float(formulas.drift_m(height)[0])
    across = max(reach, setback) * 1.08
    scale, up = (WIDE - 40) / across, 70 / max(height, one.depth_m)
    behind = np.linspace(0, reach, 60)
    deep = profile_m(height, behind)
    line = " ".join(f"{20 + x * scale:.1f},{GROUND - y * up:.1f}" for x, y in zip(behind, deep, strict=True))
    step = max(5, 5 * math.ceil(across / 25))
    ticks = [(round(20 + m * scale, 1), m) for m in range(0, int(across) + 1, step)]
    return Profile(
        f"20,{GROUND} {line} {20 + reach * scale:.1f},{GROUND}",
        20.0,
        round(GROUND - height * up, 1),
        round(20 + setback * scale, 1),
        ticks,
    )


@on_rink(Right.KEEP)
def upwind(request: HttpRequest, at: At) -> HttpResponse:
    """Say what lies upwind."""
    form = ExposureForm(posted(request), initial=ExposureForm.start(queries.exposure(at.rink)))
    if request.method == "POST" and form.is_valid():
        services.keep_exposure(
            rink=at.rink, fetches_m=form.fetches_m(), snow_water_mm=form.cleaned_data["snow_water"]
        )
        return redirect("fences", slug=at.rink.slug)
    return render(
        request, "site/upwind.html", {"form": form}, status=422 if request.method == "POST" else 200
    )


@on_rink(Right.KEEP)
def new(request: HttpRequest, at: At) -> HttpResponse:
    """Write a fence down."""
    return edit(request, at, None)


@on_rink(Right.KEEP)
def change(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Change a fence."""
    return edit(request, at, at.snow_fence(id))


def edit(request: HttpRequest, at: At, fence: SnowFence | None) -> HttpResponse:
    """Show and take the form."""
    form = FenceForm(posted(request), initial=FenceForm.start(fence))
    asked = request.method == "POST"
    if asked and form.is_valid():
        id = fence.id if fence else form.cleaned_data["id"]
        try:
            services.keep_fence(id=id, rink=at.rink, content=form.content(), by=at.person, now=at.now)
        except Refused as refused:
            form.add_error(refused.field, str(refused.sentence))
        except Conflict:
            form.add_error(None, _("This form was used on another rink; open it anew."))
        else:
            return redirect("fences", slug=at.rink.slug)
    return render(request, "site/fence.html", {"form": form, "fence": fence}, status=422 if asked else 200)


@on_rink(Right.KEEP)
@require_POST
def remove(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Drop a fence."""
    services.remove_fence(fence=at.snow_fence(id))
    return redirect("fences", slug=at.rink.slug)


@on_rink(Right.LOG)
@require_POST
def look(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Note the drift behind a fence."""
    fence = at.snow_fence(id)
    form = LookForm(request.POST)
    if form.is_valid():
        data = form.cleaned_data
        try:
            services.look_at_fence(
                id=data["id"],
                fence=fence,
                on=data["on"],
                reach_m=data["reach"],
                depth_m=data["depth"],
                note=data["note"],
                by=at.person,
                now=at.now,
                today=at.today,
            )
        except Refused as refused:
            form.add_error(refused.field, str(refused.sentence))
        except Conflict:
            form.add_error(
                None, _("This was noted before with other numbers; open the page anew to note both.")
            )
        else:
            return redirect("fences", slug=at.rink.slug)
    return fence_page(request, at, {fence.id: form}, status=422)
