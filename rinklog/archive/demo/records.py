"""The invented record for the city: who opened and closed the rink, and why."""

from dataclasses import dataclass

from rinklog.archive.demo.work import Writer
from rinklog.records.models import Opening
from rinklog.records.services import set_opening
from rinklog.records.writing import Writing

State = Opening.State


@dataclass(frozen=True)
class Set:
    """One change of opening."""

    day: int
    hour: int
    by: str
    state: str
    reason: str = ""
    grade: str = ""


OPENINGS = (
    Set(-47, 9, "runa", State.CLOSED, "Ice is being built."),
    Set(-27, 16, "odo", State.OPEN, grade="good"),
    Set(-25, 21, "tilde", State.CLOSED, "Snowing; cleared tomorrow at seven."),
    Set(-24, 9, "tilde", State.OPEN, grade="good"),
    Set(-19, 22, "tilde", State.PARTLY, "Hose pit in E3 is coned off.", "fair"),
    Set(-17, 17, "odo", State.OPEN, grade="good"),
    Set(-14, 8, "runa", State.CLOSED, "Too warm, slush."),
    Set(-10, 17, "odo", State.OPEN, grade="fair"),
    Set(-8, 13, "odo", State.PARTLY, "Torch repair at the far boards until four.", "good"),
    Set(-8, 16, "odo", State.OPEN, grade="good"),
    Set(-3, 20, "tilde", State.OPEN, grade="good"),
)


def open_or_close(writer: Writer, change: Set) -> None:
    """Record one change of opening."""
    at = writer.days.at(change.day, change.hour)
    set_opening(
        writing=Writing(
            id=writer.id(f"opening {change.day} {change.hour}"),
            rink=writer.rink,
            at=at,
            by=writer.people[change.by],
            now=at,
        ),
        state=change.state,
        reason=change.reason,
        grade=change.grade,
    )
