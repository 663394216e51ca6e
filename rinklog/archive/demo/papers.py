"""The invented rink's loans from the town, and the dates of its papers."""

import datetime as dt
from uuid import UUID

from rinklog.archive.demo.calendar import Days
from rinklog.archive.demo.jobs import demo_id
from rinklog.crew.models import Person
from rinklog.owed.services import add_loan_event, end_deadline, write_deadline, write_loan
from rinklog.rink.models import Rink

LENDER = "Rimvinkel parks"
# (what, how many, note)
LENT = (
    ("fire hose, 20 m", 2, "Drain them every night."),
    ("nozzle", 3, ""),
    ("goal net", 2, ""),
    ("key to the hydrant", 1, "Odo keeps it."),
)
# (what, day, what happened, how many, who, note)
HAPPENED = (
    ("nozzle", -21, "fault", 1, "odo", "Cracked by frost."),
    ("nozzle", -12, "lost", 1, "siw", "Under the snow at the far boards?"),
    ("goal net", -9, "fault", 1, "tilde", "Torn at the post."),
    ("goal net", -7, "mended", 1, "tilde", ""),
)
# (kind, what, written down on day, due on day, every year, done on day)
DATES = (
    ("permit", "Use of the field, to the town", -62, -50, True, -58),
    ("insurance", "Liability cover for the winter", -62, -40, True, -47),
    ("grant", "Report on last year's neighbourhood ice money", -30, 5, False, None),
    ("grant", "Application for next winter's ice money", -30, 45, True, None),
)


def make_papers(rink: Rink, people: dict[str, Person], days: Days) -> None:
    """Write loans and dates down."""

    def id(name: str) -> UUID:
        return demo_id(rink.id, f"papers: {name}")

    lent = {}
    for what, count, note in LENT:
        lent[what] = write_loan(
            id=id(what), rink=rink, what=what, count=count, lender=LENDER, lent_on=days.date(-52),
            back_on=days.date(60), note=note, by=people["runa"], now=days.at(-52, 18),
        )  # fmt: skip
    for what, day, happened, count, login, note in HAPPENED:
        add_loan_event(
            id=id(f"{what} {day}"), loan=lent[what], what=happened, count=count, on=days.date(day), note=note,
            by=people[login], now=days.at(day, 20), today=days.date(day),
        )  # fmt: skip
    for kind, what, written, due, yearly, done in DATES:
        keeper = {"by": people["runa"], "now": days.at(written, 18), "today": days.date(written)}
        due_on: dt.date = days.date(due)
        one = write_deadline(
            id=id(what), rink=rink, kind=kind, what=what, due_on=due_on, yearly=yearly, **keeper  # type: ignore[arg-type]
        )  # fmt: skip
        if done is not None:
            end_deadline(
                deadline=one, done=True, by=people["runa"], now=days.at(done, 18), today=days.date(done)
            )
