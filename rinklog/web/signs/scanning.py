"""What a scanned sign opens: the form with the place filled in, or one sentence that says why not."""

from typing import cast
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from rinklog.crew.models import Person
from rinklog.crew.rights import Right
from rinklog.rink.models import Sign, Zone
from rinklog.rink.sign_places import zone_of
from rinklog.web.access import At, found, on_rink, sign_for, signed_in
from rinklog.web.errors import page as error_page
from rinklog.web.signs.ahead import ahead
from rinklog.web.signs.labels import kind_word, title_of
from rinklog.work.cones import HIGHEST, hazard_of_cone
from rinklog.work.hazard_queries import shown
from rinklog.work.kinds import KINDS


@signed_in
@require_safe
def scan(request: HttpRequest, code: str) -> HttpResponse:
    """A sign's short address: on to where its place is filled in."""
    sign = sign_for(cast(Person, request.user), code)
    if sign is None:
        sentence = _("No sign of your rinks has the code “%(code)s”: type it again as it stands on the sign.")
        return error_page(request, 404, sentence % {"code": code[:20]})
    if sign.retired_at is not None:
        sentence = _("The sign %(sign)s was retired by the keeper: write it down from the rink page instead.")
        return error_page(request, 410, sentence % {"sign": named(sign)})
    return redirect(where_to(sign))


def named(sign: Sign) -> str:
    """The sign in words."""
    return f"{kind_word(sign)} {title_of(sign)}"


def where_to(sign: Sign) -> str:
    """The address inside the rink that a standing sign leads to."""
    slug = {"slug": sign.rink.slug}
    if sign.kind == Sign.Kind.CONE:
        return reverse("cone", kwargs=slug | {"number": sign.place})
    if sign.kind == Sign.Kind.HOSE:
        flood = reverse("record", kwargs=slug | {"kind": "flood"})
        return f"{flood}?{urlencode({'hose': sign.place})}"
    return reverse("spot", kwargs=slug | {"id": sign.id})


@on_rink(Right.SEE)
@require_safe
def spot(request: HttpRequest, at: At, id: object) -> HttpResponse:
    """What can be written down at a zone or a board post: each form with its zone picked."""
    sign = at.sign(id)  # type: ignore[arg-type]
    zone = zone_of(sign, at.season.grid)
    if zone is None:
        sentence = _(
            "The sign %(sign)s was made for another division of the rink: ask the keeper to print it anew."
        )
        return error_page(request, 410, sentence % {"sign": named(sign)})
    if sign.kind == Sign.Kind.POST and at.may(Right.LOG):
        new = reverse("hazard-new", kwargs={"slug": at.rink.slug})
        return redirect(f"{new}?{urlencode({'zones': zone.id, 'kind': 'board'})}")
    return spot_page(request, at, zone, named(sign))


@on_rink(Right.LOG)
@require_safe
def here(request: HttpRequest, at: At) -> HttpResponse:
    """The same for ?zones=: phones keep it without a zone, and name the one whose sign was scanned without a signal."""
    asked = request.GET.get("zones", "")
    zone = next((zone for zone in at.season.grid.zones.all() if str(zone.id) == asked), None)
    return spot_page(request, at, zone, _("Zone") + f" {zone.label}" if zone else _("Write down work"))


def spot_page(request: HttpRequest, at: At, zone: Zone | None, title: str) -> HttpResponse:
    """Every form for a zone, and the open hazards in it."""
    hazards = shown(at.rink) if zone else []
    context = {
        "sign": title,
        "zone": zone,
        "kinds": KINDS.values(),
        "hazards": [one for one in hazards if zone in one.zones.all()],
    }
    return render(request, "signs/spot.html", context)


@on_rink(Right.LOG)
@require_safe
def codes(request: HttpRequest, at: At) -> JsonResponse:
    """Where each sign leads, for phones to keep."""
    return JsonResponse(ahead(at))


@on_rink(Right.SEE)
@require_safe
def cone(request: HttpRequest, at: At, number: str) -> HttpResponse:
    """A numbered cone: its hazard while it stands at one, else where it may be put."""
    known = number.isdecimal() and 1 <= int(number) <= HIGHEST
    hazard = hazard_of_cone(at.rink, found(int(number) if known else None))
    if hazard is not None:
        return redirect("hazard", slug=at.rink.slug, id=hazard.id)
    bare = [hazard for hazard in shown(at.rink) if not hazard.cone_out]
    if not bare and at.may(Right.LOG):
        new = reverse("hazard-new", kwargs={"slug": at.rink.slug})
        return redirect(f"{new}?cone={number}")
    return render(request, "signs/cone.html", {"number": number, "bare": bare})
