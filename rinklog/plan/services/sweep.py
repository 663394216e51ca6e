"""What the clock does for one rink: dates, teams' evenings, questions of the forecast, people still missing, reminders.

Every step may run again at any time: what was done is found done, and each thing is told once.
"""

import datetime as dt
from zoneinfo import ZoneInfo

from django.db import transaction

from rinklog import clock
from rinklog.crew.models import Person
from rinklog.plan import saying
from rinklog.plan.models import Shift, ShiftEvent
from rinklog.plan.queries import people, sweep, weather
from rinklog.plan.queries.board import board, open_places, standing_places
from rinklog.plan.rules.conditions import HourSeen
from rinklog.plan.rules.turning import Question, chance_turned, weather_turned
from rinklog.plan.services.due import lay_out, settle
from rinklog.plan.services.places import hand_back_all, locked
from rinklog.plan.services.shifts import event
from rinklog.plan.services.teams import make_team_shifts
from rinklog.rink.models import Rink
from rinklog.rink.queries import rule_value, season_shown_on

QUESTION_WITHIN = dt.timedelta(days=3)
REMIND_WITHIN = dt.timedelta(hours=10)
LAST_CALL = dt.timedelta(hours=4)
What = ShiftEvent.What


def sweep_rink(*, rink: Rink, now: dt.datetime) -> None:
    """Bring everything planned on a rink up to date."""
    lay_out(rink=rink, now=now)
    settle(rink=rink, now=now)
    make_team_shifts(rink=rink, now=now)
    for place in sweep.places_of_people_gone(rink, now):
        hand_back_all(rink_id=rink.id, person=place.person, now=now)
    running = people.coordinators(rink)
    question_shifts(rink=rink, coordinators=running, now=now)
    escalate(rink=rink, coordinators=running, now=now)
    remind(rink=rink, now=now)
    warn_of_permissions(rink=rink, coordinators=running, now=now)


def question_shifts(*, rink: Rink, coordinators: list[Person], now: dt.datetime) -> int:
    """Put ice work in question that the forecast has turned against; returns how many."""
    shifts = [
        one
        for one in sweep.shifts_ahead(rink, now, QUESTION_WITHIN)
        if one.roster == Shift.Roster.ICE and one.work == Shift.Work.FLOOD and one.questioned_at is None
    ]
    if not shifts:
        return 0
    warmest_c = rule_value(rink, "flood_warmest_c")
    hours = weather.hours(rink, now, max(one.ends_at for one in shifts))
    chances = weather.chances(rink, now)
    asked = 0
    for shift in shifts:
        if question := turned(shift, hours, chances, warmest_c):
            asked += ask(shift=shift, question=question, coordinators=coordinators, now=now)
    return asked


def turned(
    shift: Shift, hours: list[HourSeen], chances: weather.Chances | None, warmest_c: float
) -> Question | None:
    """Why a shift is in question: by its window's chance if it was made from one, else by the weather of its hours."""
    chance = chances.at(shift.starts_at) if chances else None
    if shift.window and "chance" in shift.window and chance is not None:
        return chance_turned(shift.window["chance"], chance)
    mine = [hour for hour in hours if shift.starts_at - dt.timedelta(hours=1) < hour.at < shift.ends_at]
    question = weather_turned(mine, warmest_c)
    kept = shift.question_kept
    return None if question and kept and kept == question.key else question


def ask(*, shift: Shift, question: Question, coordinators: list[Person], now: dt.datetime) -> int:
    """Put one shift in question and tell who decides; 1 when this call did."""
    with transaction.atomic():
        held = locked(shift)
        if held.questioned_at is not None or held.is_off:
            return 0
        held.questioned_at, held.question = now, question.as_json()
        held.save(update_fields=["questioned_at", "question"])
        made = event(shift=held, what=What.QUESTIONED, by=None, now=now, details=question.as_json())
        leaders = [place.person for place in standing_places(shift) if place.leads]
        deciding = {one.id: one for one in [*coordinators, *leaders]}
        waiting = [place.person for place in standing_places(shift) if place.person_id not in deciding]
        key = f"asked {made.id}"
        saying.questioned(shift=held, people=deciding.values(), decides=True, key=key, now=now)
        saying.questioned(shift=held, people=waiting, decides=False, key=key, now=now)
    return 1


def escalate(*, rink: Rink, coordinators: list[Person], now: dt.datetime) -> int:
    """Tell coordinators of shifts that lack people, and ask those who could come; returns how many shifts lack."""
    within = dt.timedelta(minutes=rule_value(rink, "unfilled_minutes"))
    lacking = [one for one in sweep.shifts_ahead(rink, now, within) if open_places(one)]
    if not lacking:
        return 0
    season = season_shown_on(rink, clock.local_day(now, ZoneInfo(rink.time_zone)))
    for shift in lacking:
        last = shift.starts_at - now <= LAST_CALL
        key = f"unfilled {shift.id} {shift.starts_at:%Y%m%dT%H%M} {'last' if last else 'first'}"
        saying.unfilled(shift=shift, people=coordinators, lacking=open_places(shift), key=key, now=now)
        if season is not None:
            two_weeks = board(rink, season, shift.night, now)
            mine = next((one for one in two_weeks.shifts if one.id == shift.id), shift)
            could = [hand.person for hand in two_weeks.hands if two_weeks.standing(hand, mine).free]
            saying.asked_for(shift=shift, people=could, now=now)
    return len(lacking)


def remind(*, rink: Rink, now: dt.datetime) -> int:
    """Remind everybody whose shift comes up, once a time of the shift; returns how many shifts come up."""
    soon = sweep.shifts_ahead(rink, now, REMIND_WITHIN)
    for shift in soon:
        for leads in (True, False):
            those = [place.person for place in standing_places(shift) if place.leads == leads]
            saying.reminded(shift=shift, people=those, leads=leads, now=now)
    return len(soon)


def warn_of_permissions(*, rink: Rink, coordinators: list[Person], now: dt.datetime) -> int:
    """Tell people and coordinators of permissions that run out; returns how many do."""
    ending = sweep.permissions_ending(rink, clock.local_day(now, ZoneInfo(rink.time_zone)))
    for one in ending:
        told = {person.id: person for person in [one.person, *coordinators]}
        saying.running_out(permission=one, people=told.values(), now=now)
    return len(ending)
