"""The crew of a rink: who is on it, invitations, roles, leaving."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST

from rinklog.crew import queries, services, ways_in
from rinklog.crew.models import Invitation
from rinklog.crew.rights import Right, may_invite
from rinklog.crew.tokens import code_of, matches, token_of
from rinklog.facts import Refused
from rinklog.plan.services.places import hand_back_all
from rinklog.web.access import At, on_rink
from rinklog.web.crew.forms import InviteForm, RoleForm
from rinklog.web.panels import posted


@on_rink(Right.RUN_CREW)
def crew(request: HttpRequest, at: At) -> HttpResponse:
    """Who is on the crew, as what, since when; and the invitations that are open."""
    members = list(queries.members(at.rink))
    context = {
        "members": members,
        "count": len(members),
        "invitations": queries.open_invitations(at.rink, at.role, at.now),
    }
    return render(request, "crew/crew.html", context)


@on_rink(Right.RUN_CREW)
def invite(request: HttpRequest, at: At) -> HttpResponse:
    """Make an invitation."""
    form = InviteForm(posted(request), role=at.role)
    if request.method == "POST" and form.is_valid():
        try:
            made = ways_in.invite(rink=at.rink, by=at.person, now=at.now, **form.cleaned_data)
        except Refused as refused:
            form.add_error("role", str(refused.sentence))
        else:
            return redirect("invitation", slug=at.rink.slug, id=made.id)
    return render(
        request, "crew/invite.html", {"form": form}, status=422 if request.method == "POST" else 200
    )


@on_rink(Right.RUN_CREW)
@never_cache
def invitation(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """The link and the code of an open invitation."""
    found = invitation_here(at, id)
    usable = found in queries.open_invitations(at.rink, at.role, at.now)
    context: dict[str, Any] = {"invitation": found, "usable": usable}
    if usable and matches(token_of(found.id), found.token_hash):
        link = request.build_absolute_uri(reverse("join-link", args=[token_of(found.id)]))
        context |= {
            "link": link,
            "code": code_of(found.id),
            "typed_at": request.build_absolute_uri(reverse("join")),
        }
    return render(request, "crew/invitation.html", context)


@on_rink(Right.RUN_CREW)
@require_POST
def withdraw(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Close an invitation."""
    ways_in.withdraw_invitation(invitation=invitation_here(at, id), now=at.now)
    messages.success(request, _("The invitation is withdrawn."))
    return redirect("crew", slug=at.rink.slug)


def invitation_here(at: At, id: UUID) -> Invitation:
    """An invitation of this rink that this person may hand out, or 404."""
    found = at.invitation(id)
    if not may_invite(at.role, found.role):
        raise Http404
    return found


@on_rink(Right.KEEP)
def member(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """One member: change the role, let them choose a new password, take them off the crew."""
    shown = at.member(id)
    form = RoleForm(posted(request), initial={"role": shown.role})
    status = 200
    if request.method == "POST":
        status = 422
        if form.is_valid():
            try:
                services.change_role(member=shown, role=form.cleaned_data["role"], by=at.person, now=at.now)
            except Refused as refused:
                form.add_error("role", str(refused.sentence))
            else:
                return redirect("crew", slug=at.rink.slug)
    context = {"member": shown, "form": form, "may_reset": queries.may_reset(at.person, shown.person)}
    return render(request, "crew/member.html", context, status=status)


@on_rink(Right.KEEP)
@require_POST
def remove(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Take somebody off the crew."""
    return end_membership(request, at, id, to="crew")


@on_rink(Right.SEE)
@require_POST
def leave(request: HttpRequest, at: At) -> HttpResponse:
    """Leave the crew oneself."""
    return end_membership(request, at, at.person.id, to="front")


def end_membership(request: HttpRequest, at: At, id: UUID, to: str) -> HttpResponse:
    """End a membership and say so, or say why not."""
    member = at.member(id)
    try:
        services.end_membership(member=member, by=at.person, now=at.now)
        hand_back_all(rink_id=at.rink.id, person=member.person, now=at.now)
    except Refused as refused:
        return render(request, "crew/refused.html", {"sentence": refused.sentence}, status=409)
    messages.success(
        request,
        _("%(name)s is off the crew of %(rink)s.") % {"name": member.person.name, "rink": at.rink.name},
    )
    return redirect(to, slug=at.rink.slug) if to == "crew" else redirect(to)


@on_rink(Right.KEEP)
@require_POST
@never_cache
def make_reset(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Make the one-time link for a new password, and show it once."""
    person = at.member(id).person
    try:
        token = ways_in.make_reset(person=person, by=at.person, now=at.now)
    except Refused as refused:
        return render(request, "crew/refused.html", {"sentence": refused.sentence}, status=409)
    link = request.build_absolute_uri(reverse("reset", args=[token]))
    return render(request, "crew/reset_link.html", {"person": person, "link": link})
