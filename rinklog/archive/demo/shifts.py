"""The invented plan: rules and their dates, past evenings that the same three did, coming ones to fill, a hand-over."""

import datetime as dt
from uuid import NAMESPACE_URL, UUID, uuid5

from rinklog.archive.demo.calendar import Days
from rinklog.crew.models import Person
from rinklog.plan.models import PermissionKind, Shift
from rinklog.plan.rules.availability import Line
from rinklog.plan.services import people as people_services
from rinklog.plan.services.due import TaskContent, lay_out, save_task, settle
from rinklog.plan.services.hand_over import Words, hand_over
from rinklog.plan.services.places import take
from rinklog.plan.services.shifts import ShiftContent, make_shift
from rinklog.plan.services.sweep import sweep_rink
from rinklog.plan.services.teams import save_team
from rinklog.rink.models import Rink

People = dict[str, Person]
KIND = PermissionKind
# Who may use what, and for how many days from today (None: for good).
ALLOWED = (
    ("odo", KIND.TORCH, 150),
    ("runa", KIND.TORCH, 60),
    ("miko", KIND.TRACTOR, None),
    ("tilde", KIND.BLOWER, None),
    ("bas", KIND.BLOWER, 12),
    ("odo", KIND.HYDRANT, None),
    ("jorun", KIND.KEYS, None),
    ("ante", KIND.TORCH, -20),
)
# Evenings behind: days from today, and who came. The same three, nearly always.
BEHIND = (
    (-30, "odo runa"), (-27, "odo tilde"), (-25, "runa tilde"), (-22, "odo miko"), (-19, "odo runa"), (-16, "tilde runa"),
    (-12, "odo tilde"), (-10, "odo runa"), (-8, "miko tilde"), (-6, "odo siw"), (-4, "runa jorun"), (-2, "odo tilde"),
)  # fmt: skip
# Evenings ahead, and who is on them so far.
AHEAD = ((1, "odo"), (2, "miko siw"), (4, ""), (5, "tilde"), (6, ""), (9, ""))
COLD_AND_DRY = {"colder_than_c": -7.0, "no_snow": True}
RULES = (
    TaskContent("resurfacing", dt.date.min, dt.time(20), "FREQ=DAILY", only_when=COLD_AND_DRY),
    TaskContent("hazard-round", dt.date.min, dt.time(15), "FREQ=DAILY;INTERVAL=2"),
    TaskContent("drill-round", dt.date.min, dt.time(14), "FREQ=WEEKLY;BYDAY=MO,TH", only_when={"days_since": 2}),
    TaskContent("machine-check", dt.date.min, dt.time(10), "FREQ=WEEKLY;BYDAY=SA", span_minutes=480),
)  # fmt: skip


def make_plan(rink: Rink, people: People, days: Days) -> None:
    """Make all of it, and let the clock look at it once."""
    allow(rink, people, days)
    say_times(rink, people, days)
    for day, who in BEHIND:
        evening(rink, people, days, day, who)
    for day, who in AHEAD:
        evening(rink, people, days, day, who)
    lock_up(rink, people, days)
    team(rink, people, days)
    repeat(rink, people, days)
    words = Words(
        "Drained, on the hooks behind the hut.",
        "The blower eats shear bolts; two are left.",
        "Near end is slow.",
    )
    hand_over(id=named("hand-over"), rink=rink, shift=None, words=words, by=people["miko"], now=days.now)
    sweep_rink(rink=rink, now=days.now)


def named(name: str) -> UUID:
    """The id of a thing of the demo, the same every time."""
    return uuid5(NAMESPACE_URL, f"rinklog demo plan {name}")


def allow(rink: Rink, people: People, days: Days) -> None:
    """Who may use what."""
    for login, what, ends in (*ALLOWED, *((login, KIND.WAIVER, 200) for login in people if login != "nor")):
        people_services.give_permission(
            rink=rink, person=people[login], what=what, since=days.date(-50),
            until=None if ends is None else days.date(ends), note="", by=people["runa"], now=days.at(-40, 20),
        )  # fmt: skip


def say_times(rink: Rink, people: People, days: Days) -> None:
    """Siw is away for some days, Jorun comes on Tuesdays and Thursdays, Bas likes Fridays."""
    zone = rink.time_zone
    said = (
        ("siw", Line("away", zone, starts_at=days.at(3, 8), ends_at=days.at(8, 20))),
        ("jorun", Line("can", zone, 1)),
        ("jorun", Line("can", zone, 3)),
        ("bas", Line("likes", zone, 4)),
    )
    for number, (login, line) in enumerate(said):
        people_services.say_availability(
            id=named(f"time {number}"), rink=rink, person=people[login], line=line, now=days.at(-20, 20)
        )


def evening(rink: Rink, people: People, days: Days, day: int, who: str) -> Shift:
    """A flood shift of two from 20:00, and who came or will."""
    made = min(days.at(day, 8), days.now) - dt.timedelta(days=2)
    content = ShiftContent(Shift.Work.FLOOD, days.at(day, 20), 120, 2, everybody=("waiver",))
    shift = make_shift(id=named(f"evening {day}"), rink=rink, content=content, by=people["tilde"], now=made)
    for login in who.split():
        person = people[login]
        take(id=named(f"evening {day} {login}"), shift=shift, person=person, by=person, now=made)
    return shift


def lock_up(rink: Rink, people: People, days: Days) -> None:
    """The hut on the next days, with keys, and the holidays when it is forgotten."""
    for day in (1, 2, 3):
        content = ShiftContent(Shift.Work.LOCK_UP, days.at(day, 22), 30, 1, everybody=("keys",))
        shift = make_shift(
            id=named(f"hut {day}"), rink=rink, content=content, by=people["runa"], now=days.at(-3, 12)
        )
        if day < 3:
            keys = people["jorun"]
            take(
                id=named(f"hut {day} jorun"), shift=shift, person=keys, by=people["runa"], now=days.at(-3, 12)
            )
    people_services.set_holidays(
        rink=rink, days={days.date(16): "Town fair", days.date(30): "School holidays begin"}
    )


def team(rink: Rink, people: People, days: Days) -> None:
    """Bas leads the team of a weekday."""
    save_team(
        id=named("team"), rink=rink, name="Bas's evening", weekday=days.date(3).weekday(), starts_at=dt.time(19),
        minutes=90, leader=people["bas"], people=[people["ante"]], by=people["runa"], now=days.now,
    )  # fmt: skip


def repeat(rink: Rink, people: People, days: Days) -> None:
    """The rules, the dates of the last week, and what the log and the weather made of them."""
    begins, last = days.date(-9), days.date(90)
    made = days.at(-9, 6)
    for number, rule in enumerate(RULES):
        values = vars(rule) | {"begins_on": begins, "rule": f"{rule.rule};UNTIL={last:%Y%m%d}"}
        content = TaskContent(**values)
        save_task(id=named(f"rule {number}"), rink=rink, content=content, by=people["runa"], now=made)
    lay_out(rink=rink, now=days.now)
    settle(rink=rink, now=days.now)
