"""Writing down work: the form of each kind, and the amendment of an entry."""

from collections.abc import Callable
from uuid import UUID, uuid4

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from rinklog.advice.services import keep_predictions
from rinklog.crew.rights import Right
from rinklog.crew.safety import read_safety
from rinklog.facts import Conflict, Refused
from rinklog.photos.models import Photo
from rinklog.web.access import At, on_rink
from rinklog.web.logbook.asked import as_uuid
from rinklog.web.logbook.facts import facts
from rinklog.web.logbook.filling import amending_form, fresh_form, half_done_form, posted_form
from rinklog.web.logbook.forms import WorkForm
from rinklog.web.logbook.showing import coat_context, form_context
from rinklog.web.panels import reply
from rinklog.web.photos.intake import take_all
from rinklog.web.photos.strip import empty_strip
from rinklog.web.photos.views import say_refusals
from rinklog.work import services
from rinklog.work.kinds import KINDS
from rinklog.work.log_queries import revisions
from rinklog.work.models import Entry, Kind

STEPS = ("pick", "mark")  # buttons that change the form without saving it
Save = Callable[[WorkForm, At], services.Recorded]


@on_rink(Right.LOG)
def record(request: HttpRequest, at: At, kind: str) -> HttpResponse:
    """Show and take the form of one kind of work."""
    if request.method != "POST":
        asked = as_uuid(request.GET.get("hazard", ""))
        return form_page(request, at, fresh_form(at, kind, request.GET, at.hazard(asked) if asked else None))
    if any(step in request.POST for step in STEPS):
        return form_page(request, at, half_done_form(at, kind, request.POST))
    return take(request, at, posted_form(at, kind, request.POST), save_new)


@on_rink(Right.LOG)
def amend(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Show and take the form of an amendment: filled as the entry was, on its own grid, with a reason."""
    amended = at.own_entry(id)
    if request.method != "POST":
        if amended.state != Entry.State.STANDING:
            return redirect("entry", slug=at.rink.slug, id=amended.root_id)
        return form_page(request, at, amending_form(at, amended), amended=amended)
    if any(step in request.POST for step in STEPS):
        form = half_done_form(at, amended.kind, request.POST, amended)
        return form_page(request, at, form, amended=amended)
    form = posted_form(at, amended.kind, request.POST, amended)
    return take(request, at, form, lambda form, at: save_amendment(form, at, amended), amended)


@on_rink(Right.LOG)
def coat(request: HttpRequest, at: At) -> HttpResponse:
    """The coat that the flood being typed would make: water over the area of the picked zones."""
    form = posted_form(at, "flood", request.POST)
    return render(request, "logbook/_coat.html", coat_context(at, form))


def take(
    request: HttpRequest, at: At, form: WorkForm, save: Save, amended: Entry | None = None
) -> HttpResponse:
    """Save what was sent: the entry's page, the form again (422), or both texts side by side (409)."""
    try:
        saved = save(form, at) if form.is_valid() else None
    except Conflict as conflict:
        return conflict_page(request, at, form, conflict.existing, amended)
    except Refused as refused:
        form.add_error(refused.field if refused.field in form.fields else None, str(refused.sentence))
        saved = None
    if saved is None:
        return form_page(request, at, form, status=422, amended=amended)
    root = saved.entry.root_id
    if form.kind == Kind.FLOOD:  # what was advised of it is kept at once, not at the next full hour
        keep_predictions(rink=at.rink, now=at.now, root=root)
    say_refusals(request, take_all(request, at, Photo.Subject.ENTRY, root, root))
    return redirect("entry", slug=at.rink.slug, id=root)


def save_new(form: WorkForm, at: At) -> services.Recorded:
    """Record what a valid form holds."""
    content = form.content()
    note_safety(form, at)
    day = content.started_at.astimezone(at.zone).date()
    return services.record_entry(
        id=form.cleaned_data["id"],
        rink=at.rink,
        kind=form.kind,
        content=content,
        by=at.person,
        now=at.now,
        local_day=day,
        sent_at=form.sent_at,
        season=at.season if at.season.starts_on <= day <= at.today else None,
        zones=form.grid_zones,
    )


def save_amendment(form: WorkForm, at: At, amended: Entry) -> services.Recorded:
    """Record a valid form as an amendment."""
    content = form.content()
    note_safety(form, at)
    return services.amend_entry(
        id=form.cleaned_data["id"],
        entry=amended,
        content=content,
        reason=form.cleaned_data["reason"],
        by=at.person,
        now=at.now,
        local_day=content.started_at.astimezone(at.zone).date(),
        sent_at=form.sent_at,
    )


def note_safety(form: WorkForm, at: At) -> None:
    """Keep that the safety points were read, when the form asked for it."""
    if form.cleaned_data.get("safety_read"):
        read_safety(by=at.person, season=at.season, topic=KINDS[form.kind].safety_topic, now=at.now)


def form_page(
    request: HttpRequest, at: At, form: WorkForm, status: int = 200, amended: Entry | None = None
) -> HttpResponse:
    """The form on a page of its own, or by itself for htmx."""
    context = form_context(at, form) | {"amended": amended}
    id = as_uuid(str(form["id"].value()))
    if amended is None and id is not None:  # photos of an amended entry are added on its own page
        context["strip"] = empty_strip(Photo.Subject.ENTRY, id, moments=KINDS[form.kind].repairs)
    return reply(request, "logbook/record.html", "logbook/_form.html", context, status=status)


def current_text(entry: Entry) -> Entry:
    """The same revision with its zones and people at hand."""
    return next(one for one in revisions(entry.root_id) if one.id == entry.id)


def conflict_page(
    request: HttpRequest, at: At, form: WorkForm, existing: Entry | None, amended: Entry | None
) -> HttpResponse:
    """Both texts: the one that is recorded, and the one just sent, ready to be sent as something of its own."""
    goes_on = amended is not None and existing is not None and existing.state == Entry.State.STANDING
    context = form_context(at, form) | {
        "existing": existing,
        "existing_facts": facts(current_text(existing), at.zone) if existing else {},
        "amended": existing if goes_on else None,
        "new_id": uuid4(),
    }
    return render(request, "logbook/conflict.html", context, status=409)
