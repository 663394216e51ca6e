"""Advice in the reader's words and units: sentences, windows, repairs, and how good it has been."""

import datetime as dt
from collections.abc import Callable
from typing import Any
from urllib.parse import urlencode

from django.urls import NoReverseMatch, reverse
from django.utils import formats
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.advice.items import Act, Item, Urgency, Window
from rinklog.advice.repair import Way
from rinklog.advice.said import Said
from rinklog.advice.sentences import ACTS
from rinklog.advice.wording import chance_text, word_of, wording
from rinklog.dates import written
from rinklog.web import measures
from rinklog.web.access import At
from rinklog.web.logbook.cautions import CAUTIONS
from rinklog.web.middleware import current_units
from rinklog.work.models import Hazard

LEVELS = (
    (Urgency.DANGER, "danger", lazy("Keep people safe")),
    (Urgency.NOW, "now", lazy("Now")),
    (Urgency.TONIGHT, "tonight", lazy("Today")),
    (Urgency.SOON, "soon", lazy("Soon")),
    (Urgency.KNOW, "know", lazy("Good to know")),
)
SOON_HOURS = 12  # a time nearer than this is said without its day
TOOLS = {
    "slush-pack": lazy("bucket, wet snow, trowel or scraper"),
    "bucket-pour": lazy("bucket of cold water"),
    "hot-water-pour": lazy("bucket of hot water"),
    "scrape": lazy("sharp scraper or spud"),
    "torch-repair": lazy("torch, extinguisher, two trained adults"),
    "tarp-melt": lazy("dark cover and weights"),
    "snow-removal": lazy("shovel or blower"),
}
FROSTBITE = {
    "low": lazy("low risk of frostbite"),
    "10-30 min": lazy("bare skin can freeze in 10 to 30 minutes"),
    "5-10 min": lazy("bare skin can freeze in 5 to 10 minutes"),
    "2-5 min": lazy("bare skin can freeze in 2 to 5 minutes"),
    "under 2 min": lazy("bare skin can freeze in less than 2 minutes"),
}
Show = Callable[[str, Any], str]


def shower(at: At) -> Show:
    """Shows any value of the advice to this reader, times on the rink's clock."""
    units = current_units()

    def show(quantity: str, value: Any) -> str:
        if quantity == "moment":
            return moment(dt.datetime.fromisoformat(value), at)
        if quantity == "time":
            return duration(float(value))
        if quantity == "count":
            return measures.show(float(value), "number", units)
        if quantity == "rain":
            quantity = "coat"
        if quantity == "depth" and float(value) < 0.02:
            quantity = "coat"  # one digit more where it is little
        return measures.show(float(value), quantity, units)

    return show


def moment(when: dt.datetime, at: At) -> str:
    """A time on the rink's clock, with its day unless it is near."""
    near = abs(when - at.now) <= dt.timedelta(hours=SOON_HOURS)
    return written(when.astimezone(at.zone), "H:i" if near else "D H:i")


def duration(hours: float) -> str:
    """A length of time in minutes or hours."""
    if hours < 1:
        return _("%(n)d min") % {"n": max(5, round(hours * 12) * 5)}
    digits = 0 if hours >= 10 or abs(hours - round(hours)) < 0.05 else 1
    return _("%(n)s h") % {"n": formats.number_format(round(hours, digits), decimal_pos=digits)}


def item_line(item: Item, at: At, show: Show) -> dict[str, Any]:
    """One piece of advice as the page shows it."""
    level, label = next((name, words) for least, name, words in LEVELS if item.urgency >= least)
    return {
        "key": item.key,
        "level": level,
        "label": label,
        "sentence": wording(item.say, show),
        "why": [wording(one, show) for one in item.why],
        "source": item.source,
        "act": act_link(item.act, at),
    }


def act_link(act: Act | None, at: At) -> dict[str, str] | None:
    """Where one tap leads, or None where that address does not exist."""
    if act is None:
        return None
    try:
        path = reverse(act.url_name, kwargs={"slug": at.rink.slug, **act.kwargs})
    except NoReverseMatch:
        return None
    query = urlencode(act.query, doseq=True)
    return {"label": str(ACTS[act.label]), "href": f"{path}?{query}" if query else path}


def window_line(window: Window, at: At, show: Show) -> dict[str, Any]:
    """One window as a row of the table."""
    frozen = window.frozen_by
    log = Act("log-flood", "record", {"kind": "flood"}, {"window": window.id})
    day = window.starts_at.astimezone(at.zone).date().isoformat()
    shift = Act("make-shift", "shift-new", {}, {"window": window.id, "day": day})
    return {
        "id": window.id,
        "night": written(window.starts_at.astimezone(at.zone), "l j F"),
        "starts": written(window.starts_at.astimezone(at.zone), "H:i"),
        "coat": show("coat", window.coat_mm / 1000),
        "hose": duration(window.pour_h) if window.pour_h else "",
        "frozen": [moment(one, at) if one else _("not in sight") for one in vars(frozen).values()],
        "chance": chance_text(window.chance),
        "deadline": moment(window.deadline, at),
        "spoilers": [word_of(f"spoils-{one}") for one in window.spoilers],
        "log": act_link(log, at),
        "shift": act_link(shift, at),
    }


def repair_card(hazard: Hazard, ways: list[Way], at: At, show: Show) -> dict[str, Any]:
    """The ways to repair one hazard, the best first."""
    return {"hazard": hazard, "ways": [way_line(hazard, way, at, show) for way in ways]}


def way_line(hazard: Hazard, way: Way, at: At, show: Show) -> dict[str, Any]:
    """One way with its reasons, what it takes, its caution and its form."""
    query = {"hazard": str(hazard.id)} | ({"method": way.method} if way.kind == "patch" else {})
    label = {"torch-repair": "log-torch", "tarp-melt": "log-tarp", "snow-removal": "log-snow"}.get(
        way.kind, "log-patch"
    )
    return {
        "name": word_of(way.method),
        "feasible": way.feasible,
        "why": [wording(one, show) for one in way.why],
        "water": show("water", way.water_m3) if way.water_m3 else "",
        "minutes": show("minutes", way.minutes),
        "tools": TOOLS[way.method],
        "cautions": CAUTIONS.get(way.kind, ()) if way.kind == "torch-repair" else (),
        "act": act_link(Act(label, "record", {"kind": way.kind}, query), at),
    }


def evening_line(evening: dict[str, Any] | None, show: Show) -> dict[str, Any] | None:
    """The evening's worst hour for people."""
    if evening is None:
        return None
    return {
        "at": show("moment", evening["at"]),
        "air": show("temperature", evening["air_c"]),
        "wind": show("speed", evening["wind_ms"]) if evening["wind_ms"] is not None else "",
        "chill": show("temperature", evening["chill_c"]),
        "frostbite": FROSTBITE[evening["frostbite"]],
        "harsh": evening["frostbite"] != "low",
    }


def sentence(said: Said, at: At) -> str:
    """One sentence of advice for this reader."""
    return wording(said, shower(at))
