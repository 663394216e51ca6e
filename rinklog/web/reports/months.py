"""Days and months in addresses."""

import calendar
import datetime as dt
from dataclasses import dataclass

from django.http import Http404


@dataclass(frozen=True)
class Month:
    """One month, with the ones beside it."""

    first: dt.date

    @property
    def last(self) -> dt.date:
        """Its last day."""
        return self.first.replace(day=calendar.monthrange(self.first.year, self.first.month)[1])

    @property
    def before(self) -> str:
        """The month before, as in an address."""
        return f"{self.first - dt.timedelta(days=1):%Y-%m}"

    @property
    def after(self) -> str:
        """The month after, as in an address."""
        return f"{self.last + dt.timedelta(days=1):%Y-%m}"


def month_of(text: str) -> Month:
    """The month of an address like 2026-01, or 404."""
    return Month(day_of(f"{text}-01"))


def day_of(text: str) -> dt.date:
    """The day of an address like 2026-01-15, or 404; a little room is left at both ends of the calendar."""
    try:
        day = dt.date.fromisoformat(text)
    except ValueError:
        raise Http404 from None
    if not 1900 <= day.year <= 2999 or day.isoformat() != text:
        raise Http404
    return day
