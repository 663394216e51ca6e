"""What people may do, when they can come, and the days on which the hut is forgotten."""

import datetime as dt
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import transaction
from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.facts import Refused
from rinklog.plan.models import Availability, Holiday, Permission, PermissionKind
from rinklog.plan.rules.availability import Line
from rinklog.rink.models import Rink

MOST_LINES = 60


def give_permission(
    *,
    rink: Rink,
    person: Person,
    what: str,
    since: dt.date,
    until: dt.date | None,
    note: str,
    by: Person,
    now: dt.datetime,
) -> Permission:
    """Write down that a person may do something; it takes the place of what was written before. Errors: Refused."""
    if what not in PermissionKind.values:
        raise Refused("what", _("“%(value)s” is no permission.") % {"value": what})
    if until is not None and until < since:
        raise Refused("until", _("Until is before since; allowed is a later day, or nothing for good."))
    values = {"since": since, "until": until, "note": note.strip()}
    with transaction.atomic():
        standing = Permission.objects.select_for_update().filter(
            rink=rink, person=person, what=what, withdrawn_at=None
        )
        known = standing.first()
        if known and all(getattr(known, name) == value for name, value in values.items()):
            return known
        standing.update(withdrawn_at=now)
        return Permission.objects.create(
            rink=rink, person=person, what=what, by=by, recorded_at=now, **values
        )


def withdraw_permission(*, permission: Permission, now: dt.datetime) -> None:
    """Take a permission back; what was done with it stays."""
    Permission.objects.filter(id=permission.id, withdrawn_at=None).update(withdrawn_at=now)


def say_availability(*, id: UUID, rink: Rink, person: Person, line: Line, now: dt.datetime) -> Availability:
    """Write down when somebody can come, cannot, or would rather (not); the same id is the same line. Errors: Refused."""
    if line.weekday is None and (line.starts_at is None or line.ends_at is None):
        raise Refused("weekday", _("Say a weekday, or from when to when."))
    if line.starts_at and line.ends_at and line.ends_at <= line.starts_at:
        raise Refused("ends_at", _("To is not after from; allowed is a later time."))
    if line.weekday is None and line.sort == Availability.Sort.CAN:
        raise Refused("sort", _("“Can come” is said of a weekday; for single days say when you are away."))
    ZoneInfo(line.zone)
    with transaction.atomic():
        if Availability.objects.filter(rink=rink, person=person).count() >= MOST_LINES:
            raise Refused(
                "sort", _("There are %(most)s lines already; remove some first.") % {"most": MOST_LINES}
            )
        saved, _made = Availability.objects.get_or_create(
            id=id, rink=rink, person=person, defaults=vars(line) | {"recorded_at": now}
        )
    return saved


def forget_availability(*, line: Availability) -> None:
    """Remove a line."""
    Availability.objects.filter(id=line.id).delete()


def set_holidays(*, rink: Rink, days: dict[dt.date, str]) -> None:
    """The days to look at, with their names; others are forgotten."""
    with transaction.atomic():
        Holiday.objects.filter(rink=rink).exclude(day__in=days).delete()
        for day, name in days.items():
            Holiday.objects.update_or_create(rink=rink, day=day, defaults={"name": name[:60]})
