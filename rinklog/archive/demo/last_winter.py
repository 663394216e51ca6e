"""The invented winter before this one: over, closed, and with enough repairs of bumps to tell two methods apart."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from rinklog.archive.demo import place
from rinklog.archive.demo.calendar import Days, Happening
from rinklog.archive.demo.care import snow_removal
from rinklog.archive.demo.hazards import Found, Then
from rinklog.archive.demo.jobs import Job, Roster, demo_id
from rinklog.archive.demo.records import Set, open_or_close
from rinklog.archive.demo.repairs import BACK, HOLDING, inspect, patch
from rinklog.archive.demo.season import first_fill, floods
from rinklog.archive.demo.weather import STATION, hours
from rinklog.archive.demo.winter import winter
from rinklog.archive.demo.work import Writer
from rinklog.crew.models import Person
from rinklog.geometry.grid import zone_name
from rinklog.money.services import choose_currency, record_payment, set_water_price
from rinklog.records.models import Opening
from rinklog.rink.closing import close_season
from rinklog.rink.models import Rink, Season, Zone
from rinklog.rink.services import season_name, start_season
from rinklog.weather.services import store_observations
from rinklog.work.models import Hazard

BEFORE = dt.timedelta(days=364)  # the same day of the week
METHODS = ("slush-pack", "hot-water-pour")
# How many days each bump stayed away after its repair. Made up: wet snow holds less long than hot water.
HELD = {
    "slush-pack": (1.5, 2.0, 2.5, 3.0, 3.0, 4.0, 4.0, 5.0, 5.5, 6.0, 7.0, 8.0, 11.0, 30.0),
    "hot-water-pour": (5.0, 9.0, 13.0, 17.0, 40.0, 40.0, 40.0, 40.0, 40.0, 40.0, 40.0, 40.0, 40.0, 40.0),
}
FIRST_REPAIR, EVERY_DAYS = -38, 2
LOOKS = range(-36, -2, 3)
STATE = Opening.State
OPENINGS = (
    Set(-46, 9, "runa", STATE.CLOSED, "Ice is being built."),
    Set(-27, 16, "odo", STATE.OPEN, grade="good"),
    Set(-14, 8, "runa", STATE.CLOSED, "Too warm, slush."),
    Set(-10, 17, "odo", STATE.OPEN, grade="fair"),
    Set(0, 9, "runa", STATE.CLOSED, "The season is over."),
)
# (day, kind, smallest coins, what): of both winters.
PAYMENTS = (
    (-60, "dues", 640000, "Dues of 16 families"),
    (-58, "material", 218000, "Liner tape, stakes, cable ties"),
    (-50, "grant", 300000, "Municipal grant for neighbourhood ice"),
    (-30, "fuel", 46550, "Petrol for the snow blower"),
    (-9, "fuel", 28900, "Propane, two bottles"),
)
WATER_CENTS_PER_1000_M3 = 2_845_000


@dataclass
class LastWriter(Writer):
    """Writes the winter before: the same names of jobs are other things."""

    def id(self, name: str) -> Any:
        """The id of something of the last winter."""
        return demo_id(self.rink.id, f"last winter: {name}")


@dataclass(frozen=True)
class Bump:
    """One bump: where, repaired when and how, and for how many days that held."""

    number: int
    day: int
    method: str
    held: float

    @property
    def name(self) -> str:
        """What the demo calls it."""
        return f"bump {self.number}"

    @property
    def point(self) -> tuple[float, float]:
        """Somewhere on the ice [m]."""
        return 3.0 + (self.number * 7.3) % 34, 2.5 + (self.number * 5.9) % 15

    @property
    def zone(self) -> str:
        """The zone it lies in."""
        x, y = self.point
        return zone_name(
            int(x / place.SIZE.length_m * place.ROWS), int(y / place.SIZE.width_m * place.COLUMNS)
        )


def bumps() -> list[Bump]:
    """All of them, the methods in turn."""
    found: list[Bump] = []
    for place_in_row in range(len(HELD[METHODS[0]])):
        for method in METHODS:
            day = FIRST_REPAIR + EVERY_DAYS * place_in_row
            found.append(Bump(len(found) + 1, day, method, HELD[method][place_in_row * 5 % 14]))
    return found


def make_last_winter(rink: Rink, people: dict[str, Person], now: dt.datetime, days: Days) -> None:
    """The whole winter, its weather and its money; then it is closed."""
    before = Days(now - BEFORE, days.zone)
    season = _season(rink, before)
    zones = list(Zone.objects.filter(grid=season.grid))
    writer = LastWriter(rink, zones, people, before, winter(place.DAYS), meter_m3=1012.4)
    for _at, write in sorted(_happenings(writer), key=lambda one: one[0]):
        write()
    for bump in bumps():  # nothing of it lies open in the winter after
        writer.then(Then(bump.name, -1, 18, "runa", Hazard.State.CLOSED, "The ice is gone."))
    last = before.now.replace(minute=0, second=0, microsecond=0)
    seen = hours(before.at(-place.DAYS, 0), last, before, place.DAYS)
    store_observations(rink=rink, source=STATION, hours=seen, recorded_at=before.now)
    for one in (before, days):
        _pay(rink, people["runa"], one)
    close_season(season=season, ends_on=before.date(0), now=before.now, today=before.date(0))


def _season(rink: Rink, before: Days) -> Season:
    grid = rink.grids.get()
    starts_on = before.date(-place.DAYS)
    return start_season(rink=rink, grid=grid, name=season_name(starts_on), starts_on=starts_on)


def _happenings(writer: Writer) -> Iterator[Happening]:
    at = writer.days.at
    for job in [*_care(), *_mending()]:
        yield at(job.day, job.hour, job.minute), partial(writer.write, job)
    for bump in bumps():
        x_m, y_m = bump.point
        found = Found(
            bump.name,
            Hazard.Kind.BUMP,
            Hazard.Severity.TRIP,
            bump.day,
            9,
            "siw",
            x_m,
            y_m,
            cone_out=bump.number % 3 > 0,
        )
        yield at(bump.day, 9), partial(writer.find, found)
    for change in OPENINGS:
        yield at(change.day, change.hour), partial(open_or_close, writer, change)


def _care() -> Iterator[Job]:
    """Floods every second day, and all the snow."""
    roster, weather = Roster("last winter"), winter(place.DAYS)
    for day in weather:
        yield from first_fill(day, roster)
        if day % 2 == 0:
            for job in floods(day, weather[day], roster):
                yield replace(job, events=job.events[1:], mended="", withdrawn="")
        yield from snow_removal(day, weather.get(day - 1), roster)


def _mending() -> Iterator[Job]:
    """Every bump repaired in the evening of the day it was found, and looked at every third day."""
    for bump in bumps():
        coat_mm = 2.0 if bump.method == "hot-water-pour" else 0.0
        minutes = 25 if coat_mm else 15
        job = patch(bump.day, 18, bump.method, bump.zone, {"odo": minutes}, bump.name, coat_mm=coat_mm)
        yield replace(job, name=f"mend {bump.name}", minute=bump.number)
    known = bumps()
    for day in LOOKS:
        due = [bump for bump in known if bump.day < day and not _was_back(bump, day)]
        said = {bump.name: BACK if bump.day + bump.held <= day else HOLDING for bump in due}
        if said:
            yield inspect(day, 15, "tilde", {"A1": "good" if day % 2 else "rough"}, said)


def _was_back(bump: Bump, day: int) -> bool:
    """Whether an earlier look found it back already."""
    return any(bump.day < look < day and bump.day + bump.held <= look for look in LOOKS)


def _pay(rink: Rink, keeper: Person, days: Days) -> None:
    choose_currency(rink=rink, code="NOK", by=keeper, now=days.now)
    set_water_price(
        rink=rink,
        starts_on=days.date(-place.DAYS),
        cents_per_1000_m3=WATER_CENTS_PER_1000_M3,
        by=keeper,
        now=days.now,
    )
    for day, kind, cents, what in PAYMENTS:
        on = days.date(day)
        record_payment(
            id=demo_id(rink.id, f"payment {on} {what}"),
            rink=rink,
            on=on,
            kind=kind,
            cents=cents,
            what=what,
            by=keeper,
            now=days.at(day, 20),
            today=on,
        )
