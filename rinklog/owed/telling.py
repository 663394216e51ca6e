"""Reminding people of dates. A date is told once a stage, ever: the key of the message names both."""

import datetime as dt
from zoneinfo import ZoneInfo

from django.db.models import QuerySet
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext, override

from rinklog.clock import local_day
from rinklog.crew.models import Membership, Person
from rinklog.crew.rights import RIGHTS, Right
from rinklog.dates import written
from rinklog.owed.models import Deadline
from rinklog.owed.queries import near
from rinklog.owed.reminding import AHEAD_DAYS, stage
from rinklog.rink.models import Rink
from rinklog.telling.services import tell


def remind(*, now: dt.datetime) -> int:
    """Tell those who see papers of every date that comes near or is over; returns how many messages are new."""
    horizon = now.date() + dt.timedelta(days=max(AHEAD_DAYS) + 1)
    told = 0
    for one in near(horizon):
        today = local_day(now, ZoneInfo(one.rink.time_zone))
        days_left = (one.due_on - today).days
        which = stage(days_left)
        if which is not None:
            told += sum(remind_one(one, person, days_left, which, now) for person in readers(one.rink))
    return told


def remind_one(one: Deadline, person: Person, days_left: int, which: int, now: dt.datetime) -> int:
    """Tell one reader, in their language."""
    with override(person.language):
        text = sentence(one, days_left)
    return tell(
        rink=one.rink,
        people=[person],
        kind="paper-due",
        text=text,
        url=reverse("deadlines", kwargs={"slug": one.rink.slug}),
        key=f"paper {one.id} {which}",
        now=now,
    )


def readers(rink: Rink) -> "QuerySet[Person]":
    """Everybody who sees papers on this rink."""
    roles = [role for role, rights in RIGHTS.items() if Right.SEE_ACCIDENTS in rights]
    return Person.objects.filter(
        id__in=Membership.objects.filter(rink=rink, left_at=None, role__in=roles).values("person_id")
    )


def sentence(one: Deadline, days_left: int) -> str:
    """The reminder in words."""
    said = {"what": one.what, "kind": one.get_kind_display(), "day": written(one.due_on, "j F Y")}
    if days_left < 0:
        return _("%(what)s (%(kind)s) was due on %(day)s and is not marked as done.") % said
    if days_left == 0:
        return _("%(what)s (%(kind)s) is due today.") % said
    return ngettext(
        "%(what)s (%(kind)s) is due on %(day)s, in %(days)d day.",
        "%(what)s (%(kind)s) is due on %(day)s, in %(days)d days.",
        days_left,
    ) % {**said, "days": days_left}
