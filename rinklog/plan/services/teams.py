"""Weekday teams: each evening becomes a shift of its own, with the team on it and its leader named."""

import datetime as dt
from uuid import NAMESPACE_URL, UUID, uuid5
from zoneinfo import ZoneInfo

from django.db import transaction
from django.utils.translation import gettext as _

from rinklog import clock
from rinklog.crew.models import Person
from rinklog.crew.queries import crew_of
from rinklog.facts import Refused
from rinklog.plan.models import Shift, ShiftPlace, Team
from rinklog.plan.queries.board import lines_of
from rinklog.plan.queries.shifts import clash
from rinklog.plan.rules.availability import can_come
from rinklog.plan.services.shifts import ShiftContent, make_shift
from rinklog.rink.models import Rink

NIGHTS_AHEAD = 14


def save_team(
    *,
    id: UUID,
    rink: Rink,
    name: str,
    weekday: int,
    starts_at: dt.time,
    minutes: int,
    leader: Person,
    people: list[Person],
    by: Person,
    now: dt.datetime,
) -> Team:
    """Make a weekday's team, or change it; evenings already made keep their people. Errors: Refused."""
    on_crew = {person.id for person in crew_of(rink)}
    everybody = {person.id: person for person in [leader, *people]}
    if strangers := [person for id, person in everybody.items() if id not in on_crew]:
        raise Refused("people", _("%(name)s is not on this crew.") % {"name": strangers[0].name})
    values = {"name": name.strip(), "weekday": weekday, "starts_at": starts_at, "minutes": minutes}
    with transaction.atomic():
        team, _made = Team.objects.update_or_create(
            id=id, rink=rink, defaults=values | {"leader": leader, "ended_at": None}
        )
        team.people.set(list(everybody.values()))
        make_team_shifts(rink=rink, now=now)
    return team


def end_team(*, team: Team, now: dt.datetime) -> None:
    """No further evenings; those already made stand until somebody calls them off."""
    Team.objects.filter(id=team.id, ended_at=None).update(ended_at=now)


def make_team_shifts(*, rink: Rink, now: dt.datetime) -> int:
    """Make the evenings of the next two weeks that are not there yet; returns how many."""
    zone, made = ZoneInfo(rink.time_zone), 0
    teams = list(Team.objects.filter(rink=rink, ended_at=None).select_related("leader"))
    if not teams:
        return 0
    there = set(Shift.objects.filter(rink=rink, team__in=teams).values_list("team_id", "night"))
    tonight = clock.night_of(now, zone)
    for team in teams:
        for ahead in range(NIGHTS_AHEAD):
            night = tonight + dt.timedelta(days=ahead)
            if night.weekday() == team.weekday and (team.id, night) not in there:
                made += _make_one(team, night, zone, now)
    return made


def _make_one(team: Team, night: dt.date, zone: ZoneInfo, now: dt.datetime) -> int:
    """One evening of a team; 1 when it was made."""
    starts_at = clock.from_local(dt.datetime.combine(night, team.starts_at), zone, "first")
    if starts_at <= now or clock.night_of(starts_at, zone) != night:
        return 0
    everybody = sorted(team.people.all(), key=lambda person: (person.id != team.leader_id, person.name))
    content = ShiftContent("flood", starts_at, team.minutes, max(2, len(everybody)))
    with transaction.atomic():
        shift = make_shift(
            id=uuid5(NAMESPACE_URL, f"rinklog team {team.id} {night}"),
            rink=team.rink,
            content=content,
            by=team.leader,
            now=now,
            team=team,
        )
        people = who_can(team, everybody, shift)
        ShiftPlace.objects.bulk_create(
            ShiftPlace(
                id=uuid5(shift.id, str(person.id)),
                shift=shift,
                person=person,
                number=number,
                leads=person.id == team.leader_id,
                by=team.leader,
                taken_at=now,
            )
            for number, person in enumerate(people, 1)
        )
    return 1


def who_can(team: Team, people: list[Person], shift: Shift) -> list[Person]:
    """Those of a team who are on the crew still, are not away and not elsewhere then: the others' places stay open."""
    on_crew = {person.id for person in crew_of(team.rink)}
    said = lines_of(team.rink)
    return [
        person
        for person in people
        if person.id in on_crew
        and can_come(said.get(person.id, []), shift.starts_at, shift.ends_at)
        and clash(person.id, shift) is None
    ]
