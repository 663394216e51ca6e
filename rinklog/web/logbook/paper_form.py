"""The form a paper log is typed into: a date and rows in the order of the paper's columns."""

import datetime as dt
import re
from typing import Any
from uuid import uuid4

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.crew.models import Person
from rinklog.crew.queries import crew_of
from rinklog.rink.models import Zone
from rinklog.rink.queries import zones
from rinklog.web.access import At
from rinklog.web.fields import LocalTimeField, QuantityField
from rinklog.web.logbook.ways import details_of, ways
from rinklog.web.logbook.zone_words import read_zones
from rinklog.work.content import EntryContent
from rinklog.work.sheets import Line

ROWS, MORE, MOST = 6, 6, 60
CLOCK = re.compile(r"^(\d{1,2})[:.h]?(\d{2})$")
TYPED = ("time", "zones", "way", "water", "minutes")
HALF_A_DAY = dt.timedelta(hours=12)


class SheetForm(forms.Form):
    """What stands at the head of the paper."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    rows = forms.IntegerField(widget=forms.HiddenInput, min_value=1, max_value=MOST)
    day = forms.DateField(
        label=lazy("Date"), widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    )


class RowForm(forms.Form):
    """One row of the paper. A row in which nothing is typed is left out."""

    time = forms.CharField(label=lazy("Time"), required=False, max_length=8)
    zones = forms.CharField(label=lazy("Zones"), required=False, max_length=400)
    way = forms.ChoiceField(label=lazy("Work"), required=False)
    water = QuantityField(label=lazy("Water"), quantity="water", lowest=0, highest=5000, required=False)
    minutes = QuantityField(label=lazy("Minutes"), quantity="minutes", lowest=0, highest=2880, required=False)
    who = forms.ChoiceField(label=lazy("Who"))

    def __init__(self, *args: Any, zones: list[Zone], crew: list[Person], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.grid_zones, self.crew = zones, {str(person.id): person for person in crew}
        self.fields["way"].choices = [("", ""), *ways()]  # type: ignore[attr-defined]
        self.fields["who"].choices = [(id, person.name) for id, person in self.crew.items()]  # type: ignore[attr-defined]
        for name in ("time", "zones"):
            self.fields[name].widget.attrs["autocomplete"] = "off"

    @property
    def is_blank(self) -> bool:
        """Whether nothing is typed in it."""
        return not any(str(self[name].value() or "").strip() for name in TYPED)

    def clean_time(self) -> dt.time:
        """19:30, 19.30 or 1930."""
        text = self.cleaned_data["time"].strip()
        parts = CLOCK.match(text)
        if parts is None or int(parts[1]) > 23 or int(parts[2]) > 59:
            raise forms.ValidationError(
                _("%(field)s is “%(value)s”; allowed is a time of day such as 19:30.")
                % {"field": self.fields["time"].label, "value": text}
            )
        return dt.time(int(parts[1]), int(parts[2]))

    def clean_zones(self) -> list[int]:
        """Names, blocks, or all."""
        return read_zones(self.cleaned_data["zones"], self.grid_zones, str(self.fields["zones"].label))

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        for name in ("way", "minutes"):
            if data.get(name) in (None, "") and name not in self.errors:
                needed = _("%(field)s is empty; it is needed.") % {"field": self.fields[name].label}
                self.add_error(name, needed)
        return data

    def content(self, started_at: dt.datetime) -> tuple[str, EntryContent]:
        """The kind and what was done. Call after is_valid()."""
        data = self.cleaned_data
        kind, details = details_of(data["way"])
        return kind, EntryContent(
            started_at=started_at,
            zone_ids=tuple(data["zones"]),
            minutes={self.crew[data["who"]].id: data["minutes"]},
            water_m3=data["water"],
            details=details,
        )


class Paper:
    """The head and the rows together, blank or as posted."""

    def __init__(self, at: At, post: QueryDict | None = None) -> None:
        self.at = at
        blank = {"id": uuid4(), "rows": ROWS, "day": at.today}
        self.head = SheetForm(post, initial=blank)
        count = ROWS if post is None else min(MOST, max(1, _whole(post.get("rows"))))
        if post is not None and "more" in post:
            count = min(MOST, count + MORE)
        known = {"zones": zones(at.season.grid), "crew": crew_of(at.rink)}
        first = {"who": str(at.person.id)}
        self.rows = [
            RowForm(post if _sent(post, n) else None, prefix=f"r{n}", initial=first, **known)  # type: ignore[arg-type]
            for n in range(count)
        ]

    @property
    def written(self) -> list[tuple[int, RowForm]]:
        """The rows in which something is typed, with their numbers."""
        return [(n, row) for n, row in enumerate(self.rows) if not row.is_blank]

    def is_valid(self) -> bool:
        """Whether every written row can be read; nothing written is a fault of the head."""
        sound = [self.head.is_valid(), *(row.is_valid() for _n, row in self.written)]
        if not self.written:
            self.head.add_error(None, _("Every row is empty: type at least one."))
            return False
        return all(sound)

    def lines(self) -> list[Line]:
        """The rows as lines of a sheet; a time more than half a day before the row above is after midnight."""
        clock = LocalTimeField(label=RowForm.base_fields["time"].label)
        clock.set_zone(self.at.zone)
        made, day, before = [], self.head.cleaned_data["day"], None
        for n, row in self.written:
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
            made.append(Line(n, *row.content(started), local_day=day))
        return made


def _whole(text: str | list[object] | None) -> int:
    return int(text) if isinstance(text, str) and text.isdecimal() else ROWS


def _sent(post: QueryDict | None, number: int) -> bool:
    return post is not None and f"r{number}-time" in post
