"""The page of thickness checks: drill holes by day against the rink's rule for machines."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from rinklog.crew.rights import Right
from rinklog.reports.thickness import days_of_holes
from rinklog.rink.queries import machine_rule, rule_value
from rinklog.web.access import At, on_rink
from rinklog.web.reports.months import month_of


@on_rink(Right.SEE)
def thickness(request: HttpRequest, at: At, month: str = "") -> HttpResponse:
    """A month's drill holes and what the rule says of each day's."""
    shown = month_of(month or f"{at.today:%Y-%m}")
    days = days_of_holes(at.rink, shown.first, shown.last, at.zone)
    context = {
        "month": shown,
        "days": days,
        "rule": machine_rule(at.rink),
        "drilled_today": any(day.day == at.today for day in days),
        "this_month": shown.first <= at.today <= shown.last,
        "check_above_c": rule_value(at.rink, "thickness_check_c"),
    }
    return render(request, "reports/thickness.html", context)
