"""How you are told: mail, push to this browser, quiet hours; and a trial message."""

from typing import cast
from uuid import UUID, uuid4

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from rinklog.crew.models import Person
from rinklog.crew.queries import rinks_of
from rinklog.crew.rights import Right
from rinklog.facts import Refused
from rinklog.telling import queries, services
from rinklog.telling.kinds import KINDS
from rinklog.telling.vapid import public_key
from rinklog.web.access import At, found, on_rink, signed_in
from rinklog.web.inbox.forms import WishesForm
from rinklog.web.panels import posted


@signed_in
def telling(request: HttpRequest) -> HttpResponse:
    """Show and take how somebody wants to be told."""
    person = cast(Person, request.user)
    wishes = queries.wishes_of(person)
    initial = {name: getattr(wishes, name) for name in WishesForm.base_fields}
    form = WishesForm(posted(request), initial=initial)
    status = 200
    if request.method == "POST":
        if form.is_valid():
            services.wish(person=person, wanted=form.wanted(origin_of(request)))
            messages.success(request, _("Saved."))
            return redirect("telling")
        status = 422
    context = {
        "form": form,
        "mail_is_set_up": queries.mail_is_set_up(),
        "devices": queries.devices_of(person),
        "push_key": public_key(),
        "members": rinks_of(person),
        "urgent": [kind for kind in KINDS.values() if kind.urgent and not kind.wakes],
        "waking": [kind for kind in KINDS.values() if kind.wakes],
    }
    return render(request, "inbox/telling.html", context, status=status)


def origin_of(request: HttpRequest) -> str:
    """Where this browser reaches the site: the beginning of every link in a mail."""
    return request.build_absolute_uri("/").rstrip("/")[:200]


@signed_in
@require_POST
def add_device(request: HttpRequest) -> HttpResponse:
    """Take this browser's push address; the script shows the sentence when it is refused."""
    values = {name: request.POST.get(name, "") for name in ("endpoint", "p256dh", "auth", "name")}
    try:
        services.add_device(person=cast(Person, request.user), now=timezone.now(), **values)
    except Refused as refused:
        return JsonResponse({"sentence": str(refused.sentence)}, status=422)
    return JsonResponse({})


@signed_in
@require_POST
def remove_device(request: HttpRequest, id: UUID) -> HttpResponse:
    """Forget a browser."""
    device = found(queries.device(cast(Person, request.user), id))
    services.remove_device(device=device, now=timezone.now())
    messages.success(request, _("That device gets no more push messages."))
    return redirect("telling")


@on_rink(Right.SEE)
@require_POST
def trial(request: HttpRequest, at: At) -> HttpResponse:
    """Tell oneself something, by every way one has chosen."""
    services.tell(
        rink=at.rink,
        people=[at.person],
        kind="trial",
        text=_("This is how a message from %(rink)s reaches you.") % {"rink": at.rink.name},
        url="",
        key=f"trial {uuid4()}",
        now=at.now,
    )
    return redirect("inbox", slug=at.rink.slug)
