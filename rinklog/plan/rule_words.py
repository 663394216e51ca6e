"""A recurrence rule in words, and why one cannot stand."""

import datetime as dt

from django.utils.dates import WEEKDAYS
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from rinklog.dates import written
from rinklog.plan.rules.recurrence import MOST_DATES, BadRule, parts_of

DAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")


def in_words(rule: str, begins_on: dt.date) -> str:
    """A rule as people say it; one that is too odd for words stays an RRULE."""
    parts = parts_of(rule)
    known = {"FREQ", "INTERVAL", "BYDAY", "COUNT", "UNTIL", "WKST"}
    every = _every(parts["FREQ"], int(parts.get("INTERVAL", "1")), begins_on)
    plain_days = all(day in DAYS for day in parts.get("BYDAY", "MO").split(","))
    if every is None or not known.issuperset(parts) or not plain_days:
        return _("by the rule %(rule)s") % {"rule": rule}
    return " ".join(filter(None, [every, _on(parts), _ending(parts)]))


def why_bad(bad: BadRule) -> str:
    """Why a rule cannot stand, in one sentence."""
    if bad.key == "frequency":
        return _("The rule repeats by “%(value)s”; allowed are days, weeks, months and years.") % {
            "value": bad.value
        }
    if bad.key == "many":
        return _("The rule has more than %(most)s dates; end it earlier.") % {"most": MOST_DATES}
    sentences = {
        "both-ends": _("The rule has a last day and a number of times; allowed is one of them."),
        "for-ever": _("The rule goes on for ever; give it a last day or a number of times."),
        "ends-first": _("The rule ends before it begins; allowed is a last day on or after the first."),
        "never": _("The rule never falls on any day; change the days or the exceptions."),
    }
    return sentences.get(bad.key) or _("The rule “%(value)s” is not one that RFC 5545 knows.") % {
        "value": bad.value
    }


def _every(frequency: str, interval: int, begins_on: dt.date) -> str | None:
    if frequency == "DAILY":
        return ngettext("every day", "every %(n)d days", interval) % {"n": interval}
    if frequency == "WEEKLY":
        return ngettext("every week", "every %(n)d weeks", interval) % {"n": interval}
    if frequency == "MONTHLY":
        every = ngettext("every month", "every %(n)d months", interval) % {"n": interval}
        return _("%(every)s on day %(day)d") % {"every": every, "day": begins_on.day}
    return None


def _on(parts: dict[str, str]) -> str:
    if "BYDAY" not in parts:
        return ""
    names = [str(WEEKDAYS[DAYS.index(day)]) for day in DAYS if day in parts["BYDAY"].split(",")]
    return _("on %(days)s") % {"days": ", ".join(names)}


def _ending(parts: dict[str, str]) -> str:
    if "COUNT" in parts:
        count = int(parts["COUNT"])
        return ngettext("once", "%(n)d times", count) % {"n": count}
    if "UNTIL" in parts:
        last = dt.datetime.strptime(parts["UNTIL"][:8], "%Y%m%d").date()
        return _("until %(day)s") % {"day": written(last, "j M Y")}
    return ""
