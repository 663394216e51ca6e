"""When to start: is there a run of cold days long enough, by this rink's own rule and by what others have published."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from rinklog.advice.fill.sky import Day

DAY = dt.timedelta(days=1)


@dataclass(frozen=True)
class Criterion:
    """A run of `days` days in a row: nights colder than low_below_c, or no warmer than low_at_most_c; days likewise."""

    key: str
    source: str
    days: int
    low_below_c: float | None = None
    low_at_most_c: float | None = None
    high_below_c: float | None = None
    high_at_most_c: float | None = None

    def met_by(self, day: Day) -> bool:
        """Whether one day is cold enough."""
        return (
            (self.low_below_c is None or day.low_c < self.low_below_c)
            and (self.low_at_most_c is None or day.low_c <= self.low_at_most_c)
            and (self.high_below_c is None or day.high_c < self.high_below_c)
            and (self.high_at_most_c is None or day.high_c <= self.high_at_most_c)
        )


MONTREAL = Criterion(
    "montreal",
    "Montreal and Quebec municipal recreation guide: 3 days in a row never above −4 °C",
    3,
    high_at_most_c=-4.0,
)
# "Several days" is read as three: common practice, no source.
RITCHIE = Criterion(
    "ritchie",
    "Ritchie league, Edmonton: −10 °C by night and −5 °C by day or colder, several days",
    3,
    low_at_most_c=-10.0,
    high_at_most_c=-5.0,
)
MINNEAPOLIS = Criterion(
    "minneapolis", "Minneapolis parks: 10 days below 0 °C by day and by night", 10, high_below_c=0.0
)
PUBLISHED = (MONTREAL, RITCHIE, MINNEAPOLIS)


@dataclass(frozen=True)
class Run:
    """The longest stretch of cold days in what is known: its days, and whether it is long enough."""

    criterion: Criterion
    days: tuple[Day, ...]

    @property
    def enough(self) -> bool:
        """Whether building can start with it."""
        return len(self.days) >= self.criterion.days

    @property
    def stretch(self) -> int:
        """How many days it has."""
        return len(self.days)

    @property
    def wetted(self) -> tuple[Day, ...]:
        """Its days with snow or rain, each a day on which the fill is not dry."""
        return tuple(day for day in self.days[: self.criterion.days] if day.precip_mm >= WET_DAY_MM)


# "Not in any snowfall" (Quebec towns); a weather service's trace is less than this. From memory.
WET_DAY_MM = 0.5


def own_rule(night_c: float, nights: int) -> Criterion:
    """This rink's own rule: nights in a row below a temperature."""
    return Criterion("own", "this rink's own rule", nights, low_below_c=night_c)


def best_run(days: Sequence[Day], criterion: Criterion) -> Run:
    """The first run that is long enough, with all its days; else the longest there is, the earliest of equals.

    A day that is missing ends a run as a mild one does: nothing is known of it.
    """
    runs = _runs(days, criterion)
    enough = [run for run in runs if run.enough]
    return enough[0] if enough else max(runs, key=lambda run: len(run.days), default=Run(criterion, ()))


def _runs(days: Sequence[Day], criterion: Criterion) -> list[Run]:
    found: list[list[Day]] = []
    for day in days:
        if not criterion.met_by(day):
            continue
        if found and found[-1][-1].on == day.on - DAY:
            found[-1].append(day)
        else:
            found.append([day])
    return [Run(criterion, tuple(run)) for run in found]
