"""Where each standing sign leads while there is no signal: to a page that phones keep, with the place after the “#”.

A kept page was made before anybody scanned, so its script puts in what stands there, by the names of the form's own
fields (static/js/outbox/forms.js). What the site itself understands stands before it, should the signal be back by then.
"""

from typing import Any
from urllib.parse import urlencode

from django.urls import reverse

from rinklog.rink.models import Sign
from rinklog.rink.sign_places import zones_of
from rinklog.rink.sign_queries import flows_of_hoses, signs
from rinklog.web import measures
from rinklog.web.access import At
from rinklog.web.middleware import current_units
from rinklog.web.signs.labels import kind_word, title_of
from rinklog.work.cones import hazards_by_cone
from rinklog.work.models import Hazard


def ahead(at: At) -> dict[str, str]:
    """Addresses by code, for the signs that stand on the grid of now."""
    standing = signs(at.rink)
    zones, flows, cones = (
        zones_of(standing, at.season.grid),
        flows_of_hoses(at.rink),
        hazards_by_cone(at.rink),
    )
    found = {}
    for sign in standing:
        if sign.kind == Sign.Kind.CONE:
            found[sign.code] = of_cone(at, sign, cones.get(int(sign.place)))
        elif sign.kind == Sign.Kind.HOSE:
            found[sign.code] = of_hose(at, sign, flows.get(sign.place))
        elif zone := zones.get(sign.id):
            found[sign.code] = of_zone(at, sign, zone.id)
    return found


def of_zone(at: At, sign: Sign, zone: int) -> str:
    """A zone: what can be written down there. A board post: the hazard form for boards."""
    if sign.kind == Sign.Kind.POST:
        place = {"zones": zone, "kind": Hazard.Kind.BOARD}
        return address(at, "hazard-new", place, place)
    return address(
        at, "here", {"zones": zone}, {"zones": zone, "sign": f"{kind_word(sign)} {title_of(sign)}"}
    )


def of_hose(at: At, sign: Sign, flow_ls: float | None) -> str:
    """The flood form, by minutes at the hose's own flow where that was measured [l/s]."""
    shown = (
        {"by": "minutes", "hose_flow_ls": measures.plain(flow_ls, "flow", current_units())} if flow_ls else {}
    )
    return address(at, "record", {"hose": sign.place}, shown, kind="flood")


def of_cone(at: At, sign: Sign, hazard: Hazard | None) -> str:
    """The hazard that the cone stands at, or the form to put it out."""
    if hazard is not None:
        return address(at, "hazard", {}, {}, id=hazard.id)
    return address(at, "hazard-new", {"cone": sign.place}, {"cone_out": "on", "cone_number": sign.place})


def address(at: At, name: str, asked: dict[str, Any], filled: dict[str, Any], **way: Any) -> str:
    """A page of the rink: what the site is asked for, and what a kept page fills in itself."""
    path = reverse(name, kwargs={"slug": at.rink.slug, **way})
    return path + (f"?{urlencode(asked)}" if asked else "") + (f"#{urlencode(filled)}" if filled else "")
