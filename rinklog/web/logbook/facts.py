"""An entry in words: every fact of it as a title and a text, in the reader's units."""

from typing import Any
from zoneinfo import ZoneInfo

from django.utils.translation import gettext as _

from rinklog.dates import written
from rinklog.web import measures
from rinklog.web.logbook.forms.base import SKIES
from rinklog.web.middleware import current_units
from rinklog.work.kinds import KINDS
from rinklog.work.kinds.base import Choice, Detail, Number, Yes
from rinklog.work.kinds.inspection import CONDITIONS
from rinklog.work.models import Entry

Facts = dict[str, str]


def facts(entry: Entry, zone: ZoneInfo) -> Facts:
    """Title → text of all that an entry says, in the order a person asks."""
    told = {
        _("Zones"): zones_text(entry),
        _("Water"): shown(entry.water_m3, "water"),
        _("Coat"): shown(coat_m(entry), "coat"),
        **details(entry),
        _("Started"): moment(entry.started_at, zone),
        _("Ended"): moment(entry.ended_at, zone) if entry.ended_at else "",
        _("People"): ", ".join(
            f"{row.person.name} {shown(row.minutes, 'minutes')}" for row in entry.people.all()
        ),
        _("Air seen"): shown(entry.seen_air_c, "temperature"),
        _("Wind seen"): shown(entry.seen_wind_ms, "speed"),
        _("Sky seen"): str(SKIES[entry.seen_sky]) if entry.seen_sky in SKIES and entry.seen_sky else "",
        _("Note"): entry.note,
        _("For the season's review"): _("yes") if entry.lesson else "",
    }
    return {title: text for title, text in told.items() if text}


def details(entry: Entry) -> Facts:
    """The details of the entry's kind."""
    known = KINDS[entry.kind].details
    return {
        str(detail.title): detail_text(detail, entry.details[key])
        for key, detail in known.items()
        if key in entry.details
    }


def detail_text(detail: Detail, value: Any) -> str:
    """One detail as a person reads it."""
    match detail:
        case Number():
            return shown(value, detail.quantity)
        case Choice():
            values = value if isinstance(value, list) else [value]
            return ", ".join(str(detail.choices.get(one, one)) for one in values)
        case Yes():
            return _("yes")
    return str(value)


def zones_text(entry: Entry) -> str:
    """Names of the zones, by condition when it is an inspection."""
    rows = entry.zones.all()
    if len(rows) > 1 and len(rows) == entry.grid.rows * entry.grid.columns and not rows[0].condition:
        return _("whole rink (%(area)s)") % {"area": shown(entry.area_m2, "area")}
    by_condition: dict[str, list[str]] = {}
    for row in rows:
        by_condition.setdefault(row.condition, []).append(row.zone.label)
    names = "; ".join(
        (f"{CONDITIONS.get(condition, condition)}: " if condition else "") + " ".join(labels)
        for condition, labels in by_condition.items()
    )
    return f"{names} ({shown(entry.area_m2, 'area')})" if rows else ""


def coat_m(entry: Entry) -> float | None:
    """Water over area of a flood [m]."""
    if entry.kind != "flood" or not entry.water_m3 or not entry.area_m2:
        return None
    return entry.water_m3 / entry.area_m2


def shown(value: float | None, quantity: str) -> str:
    """A stored value in the reader's unit; nothing when there is none."""
    return "" if value is None else measures.show(value, quantity, current_units())


def moment(value: Any, zone: ZoneInfo) -> str:
    """A moment on the rink's clock."""
    return written(value.astimezone(zone), "D j M Y H:i")
