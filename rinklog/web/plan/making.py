"""Making shifts by hand, moving them, calling them off, keeping them: whoever runs the crew decides."""

import datetime as dt
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from rinklog.advice import queries as advice
from rinklog.advice.items import Window
from rinklog.crew.rights import Right
from rinklog.facts import Conflict, Refused
from rinklog.plan.models import Shift
from rinklog.plan.queries import shifts as queries
from rinklog.plan.queries.board import standing_places
from rinklog.plan.services import shifts as services
from rinklog.plan.services import windows as services_windows
from rinklog.web.access import At, found, on_rink
from rinklog.web.plan.forms import ReasonForm, ShiftForm, TimeForm
from rinklog.web.plan.shift_views import posted_id, shift_page


@on_rink(Right.RUN_CREW)
def new(request: HttpRequest, at: At) -> HttpResponse:
    """Make a shift by hand."""
    if request.method != "POST":
        window = advised(request.GET.get("window", ""), at)
        initial = ShiftForm.start(at, queries.latest(at.rink), day_asked(request), window)
        return form_page(request, ShiftForm(initial=initial, at=at))
    form = ShiftForm(request.POST, at=at)
    if form.is_valid():
        try:
            made = services.make_shift(
                id=form.cleaned_data["id"],
                rink=at.rink,
                content=form.content(advised(form.cleaned_data["window"], at)),
                by=at.person,
                now=at.now,
            )
        except Refused as refused:
            form.add_error(refused.field if refused.field in form.fields else None, str(refused.sentence))
        except Conflict:
            form.add_error(None, _("This form made another shift already; open it anew for a further one."))
        else:
            return redirect("shift", slug=at.rink.slug, id=made.id)
    return form_page(request, form, status=422)


@on_rink(Right.RUN_CREW)
@require_POST
def from_window(request: HttpRequest, at: At, window: str) -> HttpResponse:
    """Make a shift of an advised window in one tap."""
    try:
        services_windows.shift_from_window(
            id=posted_id(request),
            rink=at.rink,
            window=found(advised(window, at)),
            like=queries.latest(at.rink),
            by=at.person,
            now=at.now,
        )
    except (Refused, Conflict) as error:
        sentence = str(error.sentence) if isinstance(error, Refused) else _("That shift was made already.")
        messages.error(request, sentence)
    return redirect("shift-board", slug=at.rink.slug)


def advised(id: str, at: At) -> Window | None:
    """A window of the latest advice by its id, if it is still one."""
    return advice.window(at.rink, id, at.now) if id else None


def form_page(request: HttpRequest, form: ShiftForm, status: int = 200) -> HttpResponse:
    """The form of a shift."""
    return render(request, "plan/shift_form.html", {"form": form}, status=status)


@on_rink(Right.RUN_CREW)
def move(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Give a shift another time."""
    shift = at.shift(id)
    start = {"starts_at": shift.starts_at, "minutes": shift.minutes}
    form = TimeForm(request.POST, at=at) if request.method == "POST" else TimeForm(initial=start, at=at)
    if request.method == "POST" and form.is_valid():
        try:
            services.move(shift=shift, by=at.person, now=at.now, **form.cleaned_data)
        except Refused as refused:
            form.add_error(refused.field if refused.field in form.fields else None, str(refused.sentence))
        else:
            return redirect("shift", slug=at.rink.slug, id=id)
    status = 422 if request.method == "POST" else 200
    return render(request, "plan/shift_move.html", {"form": form, "shift": shift}, status=status)


@on_rink(Right.LOG)
@require_POST
def call_off(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Call a shift off: whoever runs the crew, and who leads it."""
    shift, form = decided_by(at, id), ReasonForm(request.POST)
    if not form.is_valid():
        return shift_page(request, at, shift, status=422, reason_errors=form.errors.get("reason"))
    services.call_off(shift=shift, reason=form.cleaned_data["reason"], by=at.person, now=at.now)
    return redirect("shift", slug=at.rink.slug, id=id)


@on_rink(Right.LOG)
@require_POST
def keep(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Keep a shift that the forecast questions: whoever runs the crew, and who leads it."""
    try:
        services.keep(shift=decided_by(at, id), by=at.person, now=at.now)
    except Refused as refused:
        return shift_page(request, at, at.shift(id), refused=str(refused.sentence))
    return redirect("shift", slug=at.rink.slug, id=id)


@on_rink(Right.RUN_CREW)
@require_POST
def allow_alone(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Answer with one's name for one person alone on the ice after dark."""
    services.allow_alone(shift=at.shift(id), by=at.person, now=at.now)
    return redirect("shift", slug=at.rink.slug, id=id)


def day_asked(request: HttpRequest) -> dt.date | None:
    """The day in the address, if there is one."""
    try:
        return dt.date.fromisoformat(request.GET.get("day", ""))
    except ValueError:
        return None


def decided_by(at: At, id: UUID) -> Shift:
    """A shift that this person decides on: they run the crew, or lead it; else 404."""
    shift = at.shift(id)
    leads = any(one.leads and one.person_id == at.person.id for one in standing_places(shift))
    return found(shift if leads or at.may(Right.RUN_CREW) else None)
