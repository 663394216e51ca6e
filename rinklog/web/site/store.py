"""The store: what lies where, in which state, and what to buy."""

from itertools import groupby
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from rinklog.crew.rights import Right
from rinklog.facts import Conflict, Refused
from rinklog.photos.models import Photo
from rinklog.photos.queries import photos_of
from rinklog.rink.queries import seasons
from rinklog.site.models import StoredItem
from rinklog.site.queries import store as queries
from rinklog.site.services import store as services
from rinklog.site.things import Thing
from rinklog.web.access import At, on_rink
from rinklog.web.panels import posted
from rinklog.web.photos.strip import strip
from rinklog.web.site.list_forms import ItemForm


@on_rink(Right.SEE)
def whole(request: HttpRequest, at: At) -> HttpResponse:
    """Everything by kind, with a photo of what has one; what to buy; how long the liners lasted."""
    items = list(queries.items(at.rink))
    shown: dict[UUID, Photo] = {}
    for photo in photos_of(at.rink, Photo.Subject.ITEM, [one.id for one in items]):
        if photo.state == Photo.State.READY:
            shown.setdefault(photo.subject_id, photo)
    groups = [
        (Thing(thing).label, [(one, shown.get(one.id)) for one in some])
        for thing, some in groupby(items, key=lambda one: one.thing)
    ]
    context = {
        "groups": groups,
        "to_buy": [one for one in items if one.buy],
        "liners": queries.liners(items, seasons(at.rink), at.today),
        "enough": queries.ENOUGH_LINERS,
    }
    return render(request, "site/store.html", context)


@on_rink(Right.LOG)
def new(request: HttpRequest, at: At) -> HttpResponse:
    """Write a thing down."""
    return edit(request, at, None)


@on_rink(Right.LOG)
def change(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Count a thing again, or say what became of it."""
    return edit(request, at, at.stored_item(id))


def edit(request: HttpRequest, at: At, item: StoredItem | None) -> HttpResponse:
    """Show and take the form."""
    form = ItemForm(posted(request), initial=ItemForm.start(item))
    asked = request.method == "POST"
    if asked and form.is_valid():
        try:
            kept = services.keep_item(
                id=item.id if item else form.cleaned_data["id"],
                rink=at.rink,
                content=form.content(),
                by=at.person,
                now=at.now,
                today=at.today,
            )
        except Refused as refused:
            form.add_error(refused.field, str(refused.sentence))
        except Conflict:
            form.add_error(None, _("This form was used on another rink; open it anew."))
        else:
            if item is None:  # its photos come next
                return redirect("stored-item", slug=at.rink.slug, id=kept.id)
            return redirect("store", slug=at.rink.slug)
    context = {"form": form, "item": item, "strip": strip(at, Photo.Subject.ITEM, item.id) if item else None}
    return render(request, "site/item.html", context, status=422 if asked else 200)


@on_rink(Right.RUN_CREW)
@require_POST
def remove(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Drop a line that was a mistake."""
    services.remove_item(item=at.stored_item(id))
    return redirect("store", slug=at.rink.slug)
