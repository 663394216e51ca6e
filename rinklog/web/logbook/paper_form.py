"""The form a paper log is typed into: a date, and the three tables of the paper row by row."""

import datetime as dt
from typing import Any
from uuid import uuid4

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.crew.queries import crew_of
from rinklog.reports.printed.paper_log import HAZARD_ROWS, HOLE_ROWS
from rinklog.rink.queries import zones
from rinklog.web.access import At
from rinklog.web.fields import LocalTimeField
from rinklog.web.logbook.paper_rows import HazardRow, HoleRow, PaperRow, WorkRow
from rinklog.work.sheets import HazardLine, Line

ROWS, MORE, MOST = 6, 6, 60
HALF_A_DAY = dt.timedelta(hours=12)


class SheetForm(forms.Form):
    """What stands at the head of the paper."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    rows = forms.IntegerField(widget=forms.HiddenInput, min_value=1, max_value=MOST)
    day = forms.DateField(
        label=lazy("Date"), widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    )


class Paper:
    """The head and the rows together, blank or as posted."""

    def __init__(self, at: At, post: QueryDict | None = None) -> None:
        self.at, self.post = at, post
        self.head = SheetForm(post, initial={"id": uuid4(), "rows": ROWS, "day": at.today})
        count = ROWS if post is None else min(MOST, max(1, _whole(post.get("rows"))))
        if post is not None and "more" in post:
            count = min(MOST, count + MORE)
        self._known = {"zones": zones(at.season.grid), "crew": crew_of(at.rink)}
        self.rows = self._table(WorkRow, "r", count)
        self.hazards = self._table(HazardRow, "h", HAZARD_ROWS)
        self.holes = self._table(HoleRow, "d", HOLE_ROWS)

    def _table(self, row: type[PaperRow], letter: str, count: int) -> list[PaperRow]:
        names = [f"{letter}{number}" for number in range(count)]
        known: dict[str, Any] = {"initial": {"who": str(self.at.person.id)}, **self._known}
        return [row(self.post if _sent(self.post, name) else None, prefix=name, **known) for name in names]

    @property
    def written(self) -> dict[str, PaperRow]:
        """The rows in which something is typed, by the key of their line."""
        return {
            f"{row.line} {number}": row
            for table in (self.rows, self.hazards, self.holes)
            for number, row in enumerate(table)
            if not row.is_blank
        }

    def is_valid(self) -> bool:
        """Whether every written row can be read; nothing written is a fault of the head."""
        sound = [self.head.is_valid(), *(row.is_valid() for row in self.written.values())]
        if not self.written:
            self.head.add_error(None, _("Every row is empty: type at least one."))
            return False
        return all(sound)

    def lines(self) -> list[Line | HazardLine]:
        """The rows as lines of a sheet.

        In each table a time more than half a day before the row above is after midnight.
        """
        clock = LocalTimeField(label=PaperRow.base_fields["time"].label)
        clock.set_zone(self.at.zone)
        made: list[Line | HazardLine] = []
        table, day, before = "", self.head.cleaned_data["day"], None
        for key, row in self.written.items():
            if row.line != table:
                table, day, before = row.line, self.head.cleaned_data["day"], None
            typed = dt.datetime.combine(day, row.cleaned_data["time"])
            if before is not None and before - typed > HALF_A_DAY:
                day += dt.timedelta(days=1)
                typed += dt.timedelta(days=1)
            before = typed
            try:
                started = clock.to_python(typed.isoformat())
            except forms.ValidationError as skipped:
                row.add_error("time", skipped)
                continue
            assert started is not None
            made.append(row.as_line(key, started, day))
        return made


def _whole(text: str | list[object] | None) -> int:
    return int(text) if isinstance(text, str) and text.isdecimal() else ROWS


def _sent(post: QueryDict | None, name: str) -> bool:
    return post is not None and f"{name}-time" in post
