"""The header of the log's CSV file. One file holds everything, one thing a row; `record` says what the row is.

Every value is SI (temperatures °C), the unit is in the name, times are ISO 8601 with offset. README has this table.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from rinklog.archive import cells
from rinklog.work.kinds import KINDS
from rinklog.work.kinds.base import Number

PERSON, SEASON, HAZARD, ENTRY, EVENT, HAZARD_EVENT = (
    "person",
    "season",
    "hazard",
    "entry",
    "event",
    "hazard-event",
)
RECORDS = (PERSON, SEASON, HAZARD, ENTRY, EVENT, HAZARD_EVENT)
Read = Callable[[str], Any]
DETAIL = "detail_"


@dataclass(frozen=True)
class Column:
    """One column: its name, how a cell is read, which records use it and which cannot do without."""

    name: str
    read: Read
    what: str
    needed: tuple[str, ...] = ()
    is_number: bool = False


def words(cell: str) -> tuple[str, ...]:
    """Read words split by blanks."""
    return tuple(cell.split())


WORK = (ENTRY, HAZARD)
HAPPENED = (ENTRY, EVENT, HAZARD, HAZARD_EVENT)
FIXED = (
    Column("record", str, "what the row is: " + ", ".join(RECORDS), RECORDS),
    Column("id", cells.read_id, "the thing's own id, made where it was recorded", HAPPENED),
    Column("root", cells.read_id, "entry: the first entry of its line of amendments", (ENTRY,)),
    Column("amends", cells.read_id, "entry: the entry that it amends"),
    Column("entry", cells.read_id, "event, hazard-event: the entry behind it", (EVENT,)),
    Column("hazard", cells.read_id, "hazard-event: the hazard it happened to", (HAZARD_EVENT,)),
    Column("season", cells.read_text, "name of the season", (ENTRY, HAZARD, SEASON)),
    Column("grid", str, "rows x columns, length x width m, corner radius m", (ENTRY, HAZARD, SEASON)),
    Column("kind", str, "kind of work or of hazard", WORK),
    Column("state", str, "state of an entry or a hazard, or what an event says", HAPPENED),
    Column("severity", str, "hazard: nuisance, trip or danger", (HAZARD,)),
    Column("number", cells.read_whole, "hazard: its number in the season", (HAZARD,)),
    Column("turn", cells.read_whole, "hazard-event: in which turn it was written", (HAZARD_EVENT,)),
    Column("at", cells.read_moment, "when work began, a hazard was found, an event happened", HAPPENED),
    Column("ended_at", cells.read_moment, "entry: when the work ended"),
    Column("by", cells.read_text, "login of who recorded it; person: the login", (PERSON, *HAPPENED)),
    Column("name", cells.read_text, "person: their name", (PERSON,)),
    Column("recorded_at", cells.read_moment, "when this site took it in", HAPPENED),
    Column("sent_at", cells.read_moment, "when the phone sent it, by the phone's clock"),
    Column("undone_at", cells.read_moment, "event, hazard-event: when it was taken back"),
    Column("starts_on", cells.read_day, "season: first day", (SEASON,)),
    Column("ends_on", cells.read_day, "season: last day"),
    Column("zones", words, "zones by their names on the grid, such as A1 A2"),
    Column("conditions", cells.read_pairs, "inspection: condition by zone, such as A1:rough"),
    Column("people_minutes", cells.read_pairs, "entry: minutes by login, such as odo:60.0"),
    Column("water_m3", cells.read_number, "entry: water", is_number=True),
    Column("area_m2", cells.read_number, "entry: area of its zones, to read; not imported", is_number=True),
    Column(
        "x_m", cells.read_number, "hazard: metres along the length from the near left corner", is_number=True
    ),
    Column("y_m", cells.read_number, "hazard: metres across the width", is_number=True),
    Column("drift_depth_m", cells.read_number, "hazard: depth of a drift", is_number=True),
    Column("wind_from_deg", cells.read_number, "hazard: where the wind of a drift came from", is_number=True),
    Column("cone_out", cells.read_yes, "hazard, hazard-event: a cone stands there"),
    Column(
        "cone_number", cells.read_whole, "hazard, hazard-event: number on the cone that was put there then"
    ),
    Column("repairs", cells.read_ids, "entry: hazards it worked on, on the first entry of its line"),
    Column("seen_air_c", cells.read_number, "entry: air as seen", is_number=True),
    Column("seen_wind_ms", cells.read_number, "entry: wind as seen", is_number=True),
    Column("seen_sky", str, "entry: sky as seen"),
    Column("lesson", cells.read_yes, "entry: a lesson for the season's review"),
    Column("reason", cells.read_text, "why an entry was amended or withdrawn"),
    Column("note", cells.read_text, "note"),
)


def detail_columns() -> tuple[Column, ...]:
    """A column for every detail of every kind of work, and one for what has none."""
    keys = sorted({key for kind in KINDS.values() for key in kind.details})
    found = [
        Column(DETAIL + key, cells.read_text, f"{used_by(key)}: {key}", is_number=is_number(key))
        for key in keys
    ]
    return (*found, Column("details_json", cells.read_more, "what has no column of its own, as JSON"))


def is_number(key: str) -> bool:
    """Whether a detail is a number."""
    return any(isinstance(kind.details.get(key), Number) for kind in KINDS.values())


def used_by(key: str) -> str:
    """The kinds of work that have a detail."""
    return ", ".join(kind.key for kind in KINDS.values() if key in kind.details)


COLUMNS = (*FIXED, *detail_columns())
HEADER = [column.name for column in COLUMNS]
BY_NAME = {column.name: column for column in COLUMNS}
