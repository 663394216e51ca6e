"""The form of recurring work: a rule in words on screen, RFC 5545 underneath."""

import datetime as dt
from typing import Any
from uuid import uuid4

from django import forms
from django.utils.dates import WEEKDAYS
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.plan.models import RecurringTask
from rinklog.plan.rule_words import DAYS
from rinklog.plan.rules.recurrence import BadRule, parts_of, wanted_parts
from rinklog.plan.services.due import TaskContent
from rinklog.web.access import At
from rinklog.web.fields import QuantityField, say_range
from rinklog.web.records.taking import OneOf, word_refusals

SEASON_ENDS = (3, 31)  # a last day to begin with: common practice, no source


class DateField(forms.DateField):
    """A day, refused by its name and value."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"), **kwargs)
        sentence = _("%(field)s: allowed is a date such as 2026-12-24.") % {"field": self.label}
        self.error_messages |= {"invalid": sentence, "required": sentence}


class RecurringForm(forms.Form):
    """What, how often, from when to when, and only when."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    round = OneOf(label=lazy("Work"), choices=RecurringTask.Round.choices)
    title = forms.CharField(label=lazy("Name, if it needs one"), required=False, max_length=80)
    often = OneOf(
        label=lazy("How often"),
        choices=[
            ("DAILY", lazy("by days")),
            ("WEEKLY", lazy("by weeks")),
            ("MONTHLY", lazy("by months")),
            ("rule", lazy("by an RFC 5545 rule of my own")),
        ],
    )
    interval = forms.IntegerField(label=lazy("Every … days, weeks or months"), min_value=1, max_value=60)
    days = forms.MultipleChoiceField(
        label=lazy("On these days (by weeks)"),
        choices=[(day, WEEKDAYS[number]) for number, day in enumerate(DAYS)],
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )
    own_rule = forms.CharField(label=lazy("Rule of my own"), required=False, max_length=160)
    at = forms.TimeField(label=lazy("At"), widget=forms.TimeInput(attrs={"type": "time"}, format="%H:%M"))
    span_minutes = QuantityField(label=lazy("May be done within"), quantity="hours", lowest=15, highest=20160)
    begins_on = DateField(label=lazy("First day"))
    ends_on = DateField(label=lazy("Last day"), required=False)
    count = forms.IntegerField(label=lazy("Or so many times"), min_value=1, max_value=1500, required=False)
    except_on = forms.CharField(
        label=lazy("Not on these days"),
        required=False,
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 2, "placeholder": "2026-12-24, 2026-12-31"}),
    )
    colder_than_c = QuantityField(
        label=lazy("Colder than"), quantity="temperature", lowest=-60, highest=20, required=False
    )
    calmer_than_ms = QuantityField(
        label=lazy("Calmer than"), quantity="speed", lowest=0.3, highest=40, required=False
    )
    no_snow = forms.BooleanField(label=lazy("No snow falling"), required=False)
    coat_frozen = forms.BooleanField(label=lazy("The coat is frozen"), required=False)
    days_since = forms.IntegerField(
        label=lazy("So many days since the last time"), min_value=1, max_value=60, required=False
    )
    CONDITIONS = ("colder_than_c", "calmer_than_ms", "no_snow", "coat_frozen", "days_since")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for field in self.fields.values():
            word_refusals(field)
            if isinstance(field, forms.IntegerField):
                say_range(field)
        sentence = _("At: allowed is a time such as 20:00.")
        self.fields["at"].error_messages |= {"invalid": sentence, "required": sentence}

    @classmethod
    def start(cls, at: At, task: RecurringTask | None) -> dict[str, Any]:
        """What the form shows first: every evening until the season's end, or the task that is changed."""
        if task is None:
            last = dt.date(at.today.year + (at.today.month > 6), *SEASON_ENDS)
            return {
                "id": uuid4(), "often": "DAILY", "interval": 1, "at": dt.time(20), "span_minutes": 240.0,
                "begins_on": at.today, "ends_on": last,
            }  # fmt: skip
        start = {name: getattr(task, name) for name in ("id", "round", "title", "at", "begins_on")}
        start |= {"span_minutes": float(task.span_minutes), "except_on": ", ".join(task.except_on)}
        return start | task.only_when | rule_fields(task.rule)

    def clean_except_on(self) -> tuple[dt.date, ...]:
        """The days left out."""
        found = []
        for text in self.cleaned_data["except_on"].replace(",", " ").split():
            try:
                found.append(dt.date.fromisoformat(text))
            except ValueError:
                raise forms.ValidationError(
                    _("Not on these days: “%(value)s” is no date; allowed are dates such as 2026-12-24.")
                    % {"value": text}
                ) from None
        return tuple(found)

    def content(self) -> TaskContent:
        """What was said. Call after is_valid()."""
        data = self.cleaned_data
        only_when = {name: data[name] for name in self.CONDITIONS if data[name] not in (None, False)}
        return TaskContent(
            round=data["round"],
            title=data["title"].strip(),
            begins_on=data["begins_on"],
            at=data["at"],
            span_minutes=round(data["span_minutes"]),
            rule=self.rule(),
            only_when=only_when,
            except_on=data["except_on"],
        )

    def rule(self) -> str:
        """The RRULE that was said in words."""
        data = self.cleaned_data
        if data["often"] == "rule":
            return data["own_rule"].strip().upper().removeprefix("RRULE:")
        weekly = data["often"] == "WEEKLY"
        last = f"{data['ends_on']:%Y%m%d}" if data["ends_on"] and not data["count"] else ""
        return wanted_parts(
            [
                ("FREQ", data["often"]),
                ("INTERVAL", str(data["interval"]) if data["interval"] > 1 else ""),
                ("BYDAY", ",".join(day for day in DAYS if day in data["days"]) if weekly else ""),
                ("COUNT", str(data["count"] or "")),
                ("UNTIL", last),
            ]
        )


def rule_fields(rule: str) -> dict[str, Any]:
    """A stored rule as the fields of the form show it; one that the fields cannot say stays a rule of its own."""
    try:
        parts = parts_of(rule)
    except BadRule:
        return {"often": "rule", "own_rule": rule, "interval": 1}
    plain = {"FREQ", "INTERVAL", "BYDAY", "COUNT", "UNTIL"}.issuperset(parts)
    days = parts.get("BYDAY", "").split(",") if "BYDAY" in parts else []
    if not plain or parts["FREQ"] == "YEARLY" or not set(days).issubset(DAYS):
        return {"often": "rule", "own_rule": rule, "interval": 1}
    until = parts.get("UNTIL", "")[:8]
    return {
        "often": parts["FREQ"],
        "interval": int(parts.get("INTERVAL", 1)),
        "days": days,
        "count": int(parts["COUNT"]) if "COUNT" in parts else None,
        "ends_on": dt.datetime.strptime(until, "%Y%m%d").date() if until else None,
    }
