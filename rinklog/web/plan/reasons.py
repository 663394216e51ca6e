"""Why a date was let go and why a shift is in question: stored facts, said in the reader's words and units."""

import datetime as dt
from typing import Any
from zoneinfo import ZoneInfo

from django.utils.translation import gettext as _

from rinklog.plan.words import when
from rinklog.web.measures import show
from rinklog.web.middleware import current_units


def let_go_words(reason: dict[str, Any], zone: ZoneInfo) -> str:
    """Why a date was let go, in one sentence."""
    units, key, asked, found = current_units(), reason.get("key"), reason.get("asked"), reason.get("found")
    if key == "colder_than_c":
        text = _("%(found)s at the coldest; colder than %(asked)s was asked")
        quantity = "temperature"
    elif key == "calmer_than_ms":
        text, quantity = _("wind %(found)s at the calmest; calmer than %(asked)s was asked"), "speed"
    elif key == "no_snow":
        return _("snow or rain fell all the while")
    elif key == "coat_frozen":
        return _("the coat was still wet")
    elif key == "days_since":
        return _("done %(found)s days before; %(asked)s were asked") % {
            "found": show(float(found or 0), "number", units),
            "asked": show(float(asked or 0), "number", units),
        }
    else:
        return ""
    words = text % {name: show(float(reason[name]), quantity, units) for name in ("found", "asked")}
    at = reason.get("at")
    return f"{words} ({when(dt.datetime.fromisoformat(at), zone)})" if at else words


def question_words(question: dict[str, Any]) -> str:
    """Why a shift is in question, in one sentence."""
    units, key = current_units(), question.get("key")
    found, was = float(question.get("found", 0)), float(question.get("was", 0))
    if key == "chance":
        return _("Likely to freeze in time: %(now)d %%, it was %(was)d %%.") % {
            "now": round(100 * found),
            "was": round(100 * was),
        }
    if key == "too-warm":
        return _("%(air)s at the coldest; too warm to flood is above %(limit)s.") % {
            "air": show(found, "temperature", units),
            "limit": show(was, "temperature", units),
        }
    return _("Snow or rain through the whole shift.") if key == "snow" else ""


def condition_words(only_when: dict[str, Any]) -> str:
    """When a date counts at all, in a few words."""
    units, said = current_units(), []
    if (limit := only_when.get("colder_than_c")) is not None:
        said.append(_("colder than %(limit)s") % {"limit": show(limit, "temperature", units)})
    if (limit := only_when.get("calmer_than_ms")) is not None:
        said.append(_("calmer than %(limit)s") % {"limit": show(limit, "speed", units)})
    if only_when.get("no_snow"):
        said.append(_("no snow falling"))
    if only_when.get("coat_frozen"):
        said.append(_("the coat frozen"))
    if days := only_when.get("days_since"):
        said.append(_("%(days)s days since the last time") % {"days": show(days, "number", units)})
    return ", ".join(said)
