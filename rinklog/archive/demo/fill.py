"""Fills the invented rink, once."""

import datetime as dt
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from django.db import transaction

from rinklog.archive.demo import place
from rinklog.archive.demo.calendar import Days
from rinklog.archive.demo.people import make_crew
from rinklog.archive.demo.season import jobs
from rinklog.archive.demo.winter import winter
from rinklog.archive.demo.work import Writer
from rinklog.crew.models import Membership
from rinklog.rink.models import Rink, Zone


@dataclass(frozen=True)
class Filled:
    """The invented rink, who can sign in, and whether this call made it."""

    rink: Rink
    made: bool

    @property
    def crew(self) -> list[tuple[str, str]]:
        """(login, role) of everybody, keepers first."""
        order = list(Membership.Role.values)
        members = Membership.objects.filter(rink=self.rink, left_at=None).values_list("person__login", "role")
        return sorted(members, key=lambda member: (order.index(member[1]), member[0]))


def fill_demo(*, now: dt.datetime) -> Filled:
    """Make the invented rink with its crew and a season under way at `now`; a second call changes nothing."""
    with transaction.atomic():
        existing = Rink.objects.filter(name=place.RINK, place=place.TOWN).first()
        if existing:
            return Filled(existing, made=False)
        days = Days(now, ZoneInfo(place.TIME_ZONE))
        rink = place.make_place(days.date(-place.DAYS), days.at(-place.DAYS, 18))
        season = rink.seasons.get()
        people = make_crew(rink, days.at(-place.DAYS, 18))
        place.make_history(season, people["runa"], days)
        zones = list(Zone.objects.filter(grid=season.grid))
        writer = Writer(rink, zones, people, days, winter(place.DAYS))
        for job in jobs(place.DAYS):
            writer.write(job)
    return Filled(rink, made=True)
