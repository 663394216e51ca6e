"""The invented record for the city: openings, walks, headcounts, inspections and one near miss."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from rinklog.archive.demo.calendar import Happening
from rinklog.archive.demo.work import Writer
from rinklog.records.models import CheckLine, ChecklistItem, Opening
from rinklog.records.queries import checklist
from rinklog.records.services import (
    Accident,
    Line,
    count_skaters,
    publish,
    record_check,
    report_accident,
    set_opening,
)
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
    until: tuple[int, int] | None = None  # day and hour


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
    Set(-1, 15, "odo", State.OPEN, grade="good", until=(1, 22)),
)


List, Answer = ChecklistItem.List, CheckLine.Answer
INSPECTIONS = ((-60, List.SITE, "runa"), (-47, List.BOARDS, "odo"))
SKATERS = {15: 6, 16: 11, 17: 14, 18: 12, 19: 7}  # a usual day, by the hour
SHUT_DAYS = range(-14, -10)
FIRST_OPEN_DAY = -26


def records(writer: Writer) -> Iterator[Happening]:
    """Everything for the record, with its moment."""
    at = writer.days.at
    for change in OPENINGS:
        yield at(change.day, change.hour), partial(open_or_close, writer, change)
    for day, list, login in INSPECTIONS:
        yield at(day, 14), partial(inspect, writer, day, list, login)
    for day in range(FIRST_OPEN_DAY, 1):
        if day not in SHUT_DAYS:
            yield at(day, 15), partial(walk, writer, day)
            for hour in SKATERS:
                yield at(day, hour, 45), partial(count, writer, day, hour)
    yield at(-4, 19), partial(near_miss, writer, -4, 19)


def writing(
    writer: Writer, name: str, day: int, hour: int, by: str, note: str = "", minute: int = 0
) -> Writing:
    """Who writes, and when."""
    at = writer.days.at(day, hour, minute)
    return Writing(id=writer.id(name), rink=writer.rink, at=at, by=writer.people[by], now=at, note=note)


def open_or_close(writer: Writer, change: Set) -> None:
    """Record one change of opening."""
    set_opening(
        writing=writing(writer, f"opening {change.day} {change.hour}", change.day, change.hour, change.by),
        state=change.state,
        reason=change.reason,
        grade=change.grade,
        until=writer.days.at(*change.until) if change.until else None,
    )


def show_to_everybody(writer: Writer) -> None:
    """The keeper shows the public page, search engines too."""
    publish(rink=writer.rink, shown="listed", by=writer.people["runa"], now=writer.days.at(-26, 12))


def inspect(writer: Writer, day: int, list: str, login: str) -> None:
    """Record a formal inspection in which all was in order."""
    record_check(
        writing=writing(writer, f"formal {list}", day, 14, login, "Photos are in the binder in the hut."),
        list=list,
        lines=tuple(Line(text, Answer.GOOD) for text in checklist(writer.rink, list)),
    )


def walk(writer: Writer, day: int) -> None:
    """Record a daily walk; now and then a line wants repair."""
    texts = checklist(writer.rink, List.WALK)
    bad = -day % 7  # which line, if it has one
    lines = tuple(
        Line(text, Answer.REPAIR, "Told the crew.")
        if place == bad and not day % 3
        else Line(text, Answer.GOOD)
        for place, text in enumerate(texts)
    )
    by = ("odo", "tilde", "siw", "jorun")[day % 4]
    record_check(
        writing=writing(writer, f"walk {day}", day, 15, by),
        list=List.WALK,
        lines=lines,
        grade="good" if day % 4 else "fair",
        told_whom="" if day % 3 else "Odo",
    )


def count(writer: Writer, day: int, hour: int) -> None:
    """Count the skaters of an hour; more at the week's end."""
    weekend = writer.days.date(day).weekday() >= 5
    count_skaters(
        writing=writing(writer, f"skaters {day} {hour}", day, hour, "siw", minute=45),
        skaters=SKATERS[hour] * (2 if weekend else 1) + -day % 4,
        whole=True,
    )


def near_miss(writer: Writer, day: int, hour: int) -> None:
    """The one near miss of the season."""
    report_accident(
        writing=writing(writer, "near miss", day, hour, "siw"),
        accident=Accident(
            what_happened="A child skated between the cone and the boards and caught the edge of the patch; no fall.",
            near_miss=True,
            where="E3, far of the middle",
            help_given="Cone moved half a metre out.",
            ice_condition="Good, the patch a finger higher than the ice.",
            seen_air_c=-6.0,
        ),
    )
