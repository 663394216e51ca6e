"""On the shift: hand-over, who is on the ice, one tap on and one tap off."""

from typing import Any
from uuid import UUID, uuid4

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_POST

from rinklog.crew.rights import Right
from rinklog.facts import Conflict, Refused
from rinklog.plan.models import Shift
from rinklog.plan.queries import hand_over as queries
from rinklog.plan.queries import on_ice as ice_queries
from rinklog.plan.queries.cold import coldest
from rinklog.plan.queries.shifts import places_ahead
from rinklog.plan.rules.dark import is_dark
from rinklog.plan.services import hand_over as services
from rinklog.plan.services import on_ice as ice_services
from rinklog.plan.services.hand_over import Words
from rinklog.web.access import At, on_rink
from rinklog.web.plan.shift_views import posted_id
from rinklog.web.records.taking import word_refusals
from rinklog.work.models import Hazard


class HandOverForm(forms.Form):
    """What only a person knows."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    hose = forms.CharField(label=lazy("Where the hose lies, drained or not"), required=False, max_length=200)
    machines = forms.CharField(label=lazy("Machines: what does not work"), required=False, max_length=400)
    note = forms.CharField(
        label=lazy("What else the next ones must know"),
        required=False,
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 3}),
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for field in self.fields.values():
            word_refusals(field)


@on_rink(Right.SEE)
def hand_overs(request: HttpRequest, at: At) -> HttpResponse:
    """Every hand-over, the latest first."""
    rows = [
        (one, at.person.id in {read.person_id for read in one.read.all()})
        for one in queries.hand_overs(at.rink)[:40]
    ]
    return render(request, "plan/hand_overs.html", {"rows": rows})


@on_rink(Right.SEE)
def hand_over(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """One hand-over, and who has read it."""
    one = at.hand_over(id)
    context = facts_shown(one.facts) | {
        "hand_over": one,
        "readers": one.read.all(),
        "has_read": at.person.id in {read.person_id for read in one.read.all()},
    }
    return render(request, "plan/hand_over.html", context)


@on_rink(Right.LOG)
def new(request: HttpRequest, at: At) -> HttpResponse:
    """Hand over: the log says what it can, a person the rest."""
    shift = my_shift(at)
    form = HandOverForm(request.POST if request.method == "POST" else None, initial={"id": uuid4()})
    if request.method == "POST" and form.is_valid():
        data = dict(form.cleaned_data)
        id = data.pop("id")
        try:
            made = services.hand_over(
                id=id, rink=at.rink, shift=shift, words=Words(**data), by=at.person, now=at.now
            )
        except Conflict:
            form.add_error(None, _("This form handed over already; open it anew to write another one."))
        else:
            return redirect("hand-over", slug=at.rink.slug, id=made.id)
    facts = queries.facts_now(at.rink, shift, at.now)
    context = facts_shown(facts) | {"form": form, "shift": shift}
    return render(request, "plan/hand_over_form.html", context, status=422 if form.errors else 200)


@on_rink(Right.LOG)
@require_POST
def read(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """I have read it."""
    services.confirm_read(hand_over=at.hand_over(id), by=at.person, now=at.now)
    return redirect("hand-over", slug=at.rink.slug, id=id)


@on_rink(Right.SEE)
def on_ice(request: HttpRequest, at: At) -> HttpResponse:
    """Who is on the ice, how cold it is for people, and the two taps."""
    return ice_page(request, at)


@on_rink(Right.LOG)
@require_POST
def go_on(request: HttpRequest, at: At) -> HttpResponse:
    """I go on the ice."""
    try:
        ice_services.go_on(
            id=posted_id(request),
            rink=at.rink,
            person=at.person,
            by=at.person,
            now=at.now,
            shift=my_shift(at),
        )
    except Refused as refused:
        return ice_page(request, at, refused=str(refused.sentence))
    return redirect("on-ice", slug=at.rink.slug)


@on_rink(Right.LOG)
@require_POST
def come_off(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Somebody is off the ice: noted by themselves or by whoever sees it."""
    ice_services.come_off(stay=at.stay_on_ice(id), by=at.person, now=at.now)
    return redirect("on-ice", slug=at.rink.slug)


def ice_page(request: HttpRequest, at: At, refused: str = "") -> HttpResponse:
    """The page of who is on the ice."""
    stays = list(ice_queries.on_ice_now(at.rink))
    mine = next((stay for stay in stays if stay.person_id == at.person.id), None)
    dark = is_dark(at.now, at.zone, at.rink.latitude, at.rink.longitude)
    shift = my_shift(at)
    until = max([ice_services.USUAL_STAY + at.now, *(stay.off_by for stay in stays)])
    context = {
        "stays": stays,
        "mine": mine,
        "dark": dark,
        "alone": dark and len(stays) == 1,
        "shift": shift,
        "new_id": uuid4(),
        "cold": coldest(at.rink, at.now, until),
        "refused": refused,
    }
    return render(request, "plan/on_ice.html", context, status=409 if refused else 200)


def my_shift(at: At) -> Shift | None:
    """The shift that I am on now, or that begins within the hour."""
    soon = at.now + ice_services.USUAL_STAY / 2
    place = next(
        (one for one in places_ahead(at.person, at.now, at.rink) if one.shift.starts_at <= soon), None
    )
    return place.shift if place else None


def facts_shown(facts: dict[str, Any]) -> dict[str, Any]:
    """What the log said, for a page."""
    kinds, severities = dict(Hazard.Kind.choices), dict(Hazard.Severity.choices)
    hazards = [
        one
        | {
            "kind_name": kinds.get(one["kind"], one["kind"]),
            "severity_name": severities.get(one["severity"], ""),
        }
        for one in facts.get("hazards", [])
    ]
    return {"facts": facts, "hazard_lines": hazards}
