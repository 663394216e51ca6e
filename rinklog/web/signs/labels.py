"""What stands on a sign, in words, and the address that its code holds."""

from django.urls import reverse
from django.utils.translation import gettext as _

from rinklog.reports.printed.sign_sheets import Label
from rinklog.rink.models import Sign


def label_of(sign: Sign, site: str) -> Label:
    """The label of a sign; `site` is where phones reach the site, such as https://rink.example."""
    return Label(
        title=title_of(sign),
        kind=kind_word(sign),
        says=does(sign),
        address=site.rstrip("/") + reverse("scan", kwargs={"code": sign.code}),
        rink=sign.rink.name,
    )


def title_of(sign: Sign) -> str:
    """The place as people read it."""
    if sign.kind != Sign.Kind.POST:
        return sign.place
    side, _space, letter = sign.place.partition(" ")
    sides = {"left": _("left"), "right": _("right"), "near": _("near"), "far": _("far")}
    return f"{letter} {sides.get(side, side)}"


def kind_word(sign: Sign) -> str:
    """What it is a sign of."""
    words = {
        Sign.Kind.ZONE: _("Zone"),
        Sign.Kind.POST: _("Board post"),
        Sign.Kind.HOSE: _("Hose"),
        Sign.Kind.CONE: _("Cone"),
    }
    return words[Sign.Kind(sign.kind)]


def does(sign: Sign) -> str:
    """What scanning it does."""
    words = {
        Sign.Kind.ZONE: _("Scan to write down work in this zone"),
        Sign.Kind.POST: _("Scan when something is broken here"),
        Sign.Kind.HOSE: _("Scan to write down a flood with this hose"),
        Sign.Kind.CONE: _("Scan when you put it out or take it in"),
    }
    return words[Sign.Kind(sign.kind)]
