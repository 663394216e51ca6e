"""Days counted from today (0, -1, -2, …) at the rink, as moments in UTC."""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from rinklog import clock

Happening = tuple[dt.datetime, Callable[[], None]]


@dataclass(frozen=True)
class Days:
    """A calendar that ends at `now`."""

    now: dt.datetime
    zone: ZoneInfo

    def date(self, day: int) -> dt.date:
        """The rink-local date, `day` days from today."""
        return clock.local_day(self.now, self.zone) + dt.timedelta(days=day)

    def at(self, day: int, hour: int, minute: int = 0) -> dt.datetime:
        """The moment [UTC] when the rink's clock shows that hour on that day."""
        wall = dt.datetime.combine(self.date(day), dt.time(hour, minute))
        return clock.from_local(wall, self.zone, "first")

    def is_past(self, moment: dt.datetime) -> bool:
        """Whether the moment has been: nothing in the demo lies ahead."""
        return moment < self.now

    def moment(self, day: int, hour: int, minute: int = 0, hours_ago: float | None = None) -> dt.datetime:
        """The moment [UTC] by day and hour, or by hours before now."""
        if hours_ago is None:
            return self.at(day, hour, minute)
        return (self.now - dt.timedelta(hours=hours_ago)).replace(second=0, microsecond=0)
