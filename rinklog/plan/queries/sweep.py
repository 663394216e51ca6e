"""What the clock has to look at: a fixed number of queries, however many rinks there are. Nothing here writes."""

import datetime as dt
from typing import Any
from uuid import UUID

from django.db.models import Q, QuerySet

from rinklog.crew.models import Membership
from rinklog.plan.models import OnIce, Permission, RecurringTask, Shift, ShiftPlace, Team
from rinklog.plan.queries.shifts import with_people
from rinklog.rink.models import Rink

PERMISSION_ENDS_WITHIN = dt.timedelta(days=21)


def rinks_with_plans(now: dt.datetime) -> list[str]:
    """Ids of the rinks that have recurring work, teams, shifts ahead or permissions that run out."""
    expiring = Permission.objects.filter(
        withdrawn_at=None, until__range=(now.date(), (now + PERMISSION_ENDS_WITHIN).date())
    )
    planned: tuple[QuerySet[Any], ...] = (
        RecurringTask.objects.filter(ended_at=None),
        Team.objects.filter(ended_at=None),
        Shift.objects.filter(ends_at__gt=now, called_off_at=None),
        expiring,
    )
    found = {id for rows in planned for id in rows.order_by().values_list("rink_id", flat=True).distinct()}
    return sorted(str(id) for id in found)


def every_rink() -> list[str]:
    """Ids of all rinks."""
    return sorted(str(id) for id in Rink.objects.order_by().values_list("id", flat=True))


def off_ice_is_due(now: dt.datetime) -> list[UUID]:
    """Stays on the ice that should have ended and raised no alarm yet; each waits a while of its rink's choice."""
    late = OnIce.objects.filter(off_at=None, alarmed_at=None, off_by__lt=now)
    return list(late.values_list("id", flat=True))


def shifts_ahead(rink: Rink, now: dt.datetime, within: dt.timedelta) -> list[Shift]:
    """The shifts that begin soon and are not called off, with their people."""
    rows = Shift.objects.filter(rink=rink, starts_at__gt=now, starts_at__lte=now + within, called_off_at=None)
    return list(with_people(rows))


def places_of_people_gone(rink: Rink, now: dt.datetime) -> list[ShiftPlace]:
    """Places ahead that somebody holds who is no longer on the crew."""
    there = Membership.objects.filter(rink=rink, left_at=None).exclude(role=Membership.Role.GUEST)
    return list(
        ShiftPlace.objects.filter(
            shift__rink=rink, left_at=None, shift__ends_at__gt=now, shift__called_off_at=None
        )
        .exclude(person__in=there.values("person"))
        .select_related("person", "shift__rink")
    )


def permissions_ending(rink: Rink, today: dt.date) -> list[Permission]:
    """Permissions that run out within three weeks."""
    ending = Q(until__gte=today, until__lte=today + PERMISSION_ENDS_WITHIN)
    rows = Permission.objects.filter(ending, rink=rink, withdrawn_at=None)
    return list(rows.select_related("person"))
