"""The log sheets to print: one day, or one month."""

import datetime as dt
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from rinklog.crew.rights import Right
from rinklog.reports.sheet import sheet
from rinklog.web.access import At, on_rink
from rinklog.web.logbook.facts import details, zones_text
from rinklog.web.reports.months import day_of, month_of


@on_rink(Right.SEE)
def day_sheet(request: HttpRequest, at: At, day: str = "") -> HttpResponse:
    """Everything on record for one day, on a page to print."""
    shown = day_of(day or at.today.isoformat())
    one = sheet(at.rink, shown, shown, at.zone)[0]
    rows = [(line, zones_text(line.entry), said(line.entry)) for line in one.work]
    step = dt.timedelta(days=1)
    context: dict[str, Any] = {
        "sheet": one,
        "rows": rows,
        "before": (shown - step).isoformat(),
        "after": (shown + step).isoformat(),
    }
    return render(request, "reports/sheet_day.html", context)


@on_rink(Right.SEE)
def month_sheet(request: HttpRequest, at: At, month: str = "") -> HttpResponse:
    """A month with one line a day, on a page to print."""
    shown = month_of(month or f"{at.today:%Y-%m}")
    days = sheet(at.rink, shown.first, shown.last, at.zone)
    context = {
        "month": shown,
        "days": days,
        "water_m3": sum(one.water_m3 for one in days),
        "labour_min": sum(one.labour_min for one in days),
        "skaters": sum(one.skaters for one in days),
        "floods": sum(len(one.floods) for one in days),
        "snow": sum(len(one.snow) for one in days),
    }
    return render(request, "reports/sheet_month.html", context)


def said(entry: Any) -> str:
    """The details and the note of an entry in one line of text."""
    told = [f"{title}: {text}" for title, text in details(entry).items() if text]
    return " · ".join([*told, entry.note] if entry.note else told)
