"""The log by day: filtered, page by page."""

import datetime as dt
from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django import forms
from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext_lazy as lazy

from rinklog.clock import day_bounds
from rinklog.crew.models import Person
from rinklog.crew.queries import crew_of
from rinklog.crew.rights import Right
from rinklog.rink.models import Zone
from rinklog.rink.queries import zones
from rinklog.web.access import At, on_rink
from rinklog.web.panels import reply
from rinklog.web.weather.words import lines_of
from rinklog.work.kinds import KINDS
from rinklog.work.log_queries import LogFilter, Place, log_page
from rinklog.work.models import Entry


class LogForm(forms.Form):
    """What to show of the log."""

    kind = forms.ChoiceField(label=lazy("Kind of work"), required=False)
    zone = forms.TypedChoiceField(label=lazy("Zone"), required=False, coerce=int, empty_value=None)
    person = forms.TypedChoiceField(label=lazy("Person"), required=False, coerce=UUID, empty_value=None)
    since = forms.DateField(
        label=lazy("From"), required=False, widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    )
    until = forms.DateField(
        label=lazy("To"), required=False, widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
    )
    withdrawn = forms.BooleanField(label=lazy("Show withdrawn entries"), required=False)

    def __init__(self, *args: Any, zones: list[Zone], crew: list[Person], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        kinds = [(kind.key, kind.title) for kind in KINDS.values()]
        self._offer("kind", lazy("every kind"), kinds)
        self._offer("zone", lazy("every zone"), [(zone.id, zone.label) for zone in zones])
        self._offer("person", lazy("everybody"), [(person.id, person.name) for person in crew])

    def _offer(self, name: str, everything: Any, choices: list[Any]) -> None:
        self.fields[name].choices = [("", everything), *choices]  # type: ignore[attr-defined]

    def wanted(self, zone: Any) -> LogFilter:
        """The filter, with days cut on the rink's own clock. What cannot be read filters nothing."""
        self.is_valid()
        data = self.cleaned_data
        since, until = data.get("since"), data.get("until")
        return LogFilter(
            kind=data.get("kind") or "",
            zone_id=data.get("zone"),
            person_id=data.get("person"),
            since=day_bounds(since, zone)[0] if since else None,
            until=day_bounds(until, zone)[1] if until else None,
            withdrawn=bool(data.get("withdrawn")),
        )

    @property
    def narrows(self) -> bool:
        """Whether anything but the whole log is asked for."""
        return any(self.cleaned_data.get(name) for name in self.fields)


@on_rink(Right.SEE)
def log(request: HttpRequest, at: At) -> HttpResponse:
    """The log by day."""
    form = LogForm(request.GET, zones=zones(at.season.grid), crew=crew_of(at.rink))
    page = log_page(at.rink, form.wanted(at.zone), read_place(request.GET.get("after", "")))
    context = {
        "form": form,
        "days": by_day(page.entries, at),
        "weather": lines_of(at.rink, page.entries),
        "next": next_address(request, page.next),
        "first": "after" not in request.GET,
    }
    return reply(
        request, "logbook/log.html", "logbook/_log.html", context, status=422 if form.errors else 200
    )


def by_day(entries: list[Entry], at: At) -> list[tuple[dt.date, list[Entry]]]:
    """Group entries by rink-local day, keeping their order."""
    days: dict[dt.date, list[Entry]] = {}
    for one in entries:
        days.setdefault(one.started_at.astimezone(at.zone).date(), []).append(one)
    return list(days.items())


def next_address(request: HttpRequest, place: Place | None) -> str:
    """The query of the next page, with the same filters; empty on the last."""
    if place is None:
        return ""
    kept = [(key, value) for key, value in request.GET.items() if key != "after" and value]
    return "?" + urlencode([*kept, ("after", f"{place.started_at.isoformat()}_{place.id}")])


def read_place(text: str) -> Place | None:
    """Where a page begins, out of the address; the first page when it cannot be read."""
    moment, _line, id = text.partition("_")
    try:
        place = Place(dt.datetime.fromisoformat(moment), UUID(id))
    except ValueError:
        return None
    return place if place.started_at.tzinfo else None
