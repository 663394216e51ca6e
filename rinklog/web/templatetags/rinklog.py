"""Template filters: the only way numbers and times reach a page."""

import datetime as dt
from zoneinfo import ZoneInfo

from django import template
from django.template import defaultfilters
from django.utils import timezone
from django.utils.translation import gettext as _

from rinklog.dates import form_of, written
from rinklog.web import measures
from rinklog.web.middleware import current_units

register = template.Library()


def _filter(quantity: str):  # type: ignore[no-untyped-def]
    def show(value: float | None) -> str:
        return "–" if value is None else measures.show(float(value), quantity, current_units())

    return show


for _quantity in measures.QUANTITIES:
    register.filter(_quantity, _filter(_quantity))


@register.filter(expects_localtime=True)
def date(value: dt.date | str | None, form: str) -> str:
    """Django's filter of that name, with the months as the language writes them."""
    return str(defaultfilters.date(value, form_of(form)))


@register.filter
def local(value: dt.datetime | None, zone: ZoneInfo) -> str:
    """A moment as day and time in the rink's zone."""
    if value is None:
        return "–"
    return written(value.astimezone(zone), "D j M H:i")


@register.filter
def local_day(value: dt.datetime | None, zone: ZoneInfo) -> str:
    """The day of a moment in the rink's zone."""
    return "–" if value is None else written(value.astimezone(zone), "j M Y")


@register.filter
def clock_time(value: dt.datetime | None, zone: ZoneInfo) -> str:
    """A moment as time of day in the rink's zone."""
    return "–" if value is None else written(value.astimezone(zone), "H:i")


@register.filter
def ago(value: dt.datetime | None) -> str:
    """How long ago, in one coarse unit."""
    if value is None:
        return "–"
    minutes = int((timezone.now() - value).total_seconds() // 60)
    if minutes < 1:
        return _("just now")
    if minutes < 60:
        return _("%(n)d min ago") % {"n": minutes}
    if minutes < 48 * 60:
        return _("%(n)d h ago") % {"n": minutes // 60}
    return _("%(n)d days ago") % {"n": minutes // 1440}


@register.filter
def get(mapping: dict[object, object], key: object) -> object:
    """Look a key up."""
    return mapping.get(key)


@register.filter
def rows(value: list[object]) -> int:
    """How many there are: Django's own word for it is a measure here."""
    return len(value)


@register.filter
def percent(value: float | None) -> str:
    """A fraction in whole percent, without the sign."""
    return "–" if value is None else str(round(100 * value))
