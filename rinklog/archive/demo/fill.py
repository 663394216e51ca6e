"""Fills the invented rink, once."""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from zoneinfo import ZoneInfo

from django.db import transaction

from rinklog.archive.demo import place
from rinklog.archive.demo.calendar import Days, Happening
from rinklog.archive.demo.hazards import FOUND, THEN
from rinklog.archive.demo.holes import hole_jobs
from rinklog.archive.demo.last_winter import make_last_winter
from rinklog.archive.demo.papers import make_papers
from rinklog.archive.demo.people import make_crew
from rinklog.archive.demo.pictures import PICTURES, hang
from rinklog.archive.demo.predictions import predict
from rinklog.archive.demo.records import records, show_to_everybody
from rinklog.archive.demo.season import jobs
from rinklog.archive.demo.shifts import make_plan
from rinklog.archive.demo.site import make_site
from rinklog.archive.demo.weather import make_weather
from rinklog.archive.demo.winter import winter
from rinklog.archive.demo.work import Writer
from rinklog.crew.models import Membership
from rinklog.crew.safety import read_safety
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


def season_in_order(writer: Writer) -> list[Callable[[], None]]:
    """Everything that happened, as it happened; what lies ahead of now is left out."""
    happened: list[Happening] = []
    for job in jobs(place.DAYS):
        at = writer.days.moment(job.day, job.hour, job.minute, job.hours_ago)
        happened.append((at, partial(writer.write, job)))
    for found in FOUND:
        at = writer.days.moment(found.day, found.hour, hours_ago=found.hours_ago)
        happened.append((at, partial(writer.find, found)))
    happened += [(writer.days.at(then.day, then.hour), partial(writer.then, then)) for then in THEN]
    happened += records(writer)
    return [write for at, write in sorted(happened, key=lambda one: one[0]) if writer.days.is_past(at)]


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
        make_weather(rink, people["runa"], days, place.DAYS)
        for login in ("odo", "runa"):  # the two who use the torch
            read_safety(by=people[login], season=season, topic="torch", now=days.at(-30, 20))
        zones = list(Zone.objects.filter(grid=season.grid))
        writer = Writer(rink, zones, people, days, winter(place.DAYS))
        for write in season_in_order(writer):
            write()
        for hole in hole_jobs(rink, days):
            writer.write(hole)
        predict(writer)
        show_to_everybody(writer)
        for picture in PICTURES:
            hang(writer, picture)
        make_papers(rink, people, days)
        make_plan(rink, people, days)
        make_site(writer)
        make_last_winter(rink, people, now, days)
    return Filled(rink, made=True)
