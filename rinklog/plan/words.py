"""Sentences about shifts: the same on a page and in a message."""

import datetime as dt
from collections.abc import Iterable
from zoneinfo import ZoneInfo

from django.utils.translation import gettext as _

from rinklog.dates import written
from rinklog.plan.models import PermissionKind, Shift
from rinklog.plan.rules.may_take import Hindrance


def when(moment: dt.datetime, zone: ZoneInfo) -> str:
    """Day and time on the rink's clock."""
    return written(moment.astimezone(zone), "D j M H:i")


def name_of(shift: Shift) -> str:
    """A shift in a few words: what and when."""
    return _("%(work)s on %(when)s") % {
        "work": str(shift.get_work_display()).capitalize(),
        "when": when(shift.starts_at, ZoneInfo(shift.rink.time_zone)),
    }


def permissions(keys: Iterable[str]) -> str:
    """Permissions by their names, in a row."""
    known = dict(PermissionKind.choices)
    return ", ".join(str(known.get(key, key)) for key in keys)


def why_not(hindrance: Hindrance, shift: Shift) -> str:
    """Why a person may not take a place, in one sentence."""
    missing = permissions(hindrance.missing)
    if hindrance.key == "full":
        return _("%(shift)s is full: every place is taken.") % {"shift": name_of(shift)}
    if hindrance.key == "lacks":
        return _("Everybody on this shift needs: %(missing)s. A coordinator writes that down.") % {
            "missing": missing
        }
    return _("The last place is kept for somebody with: %(missing)s.") % {"missing": missing}
