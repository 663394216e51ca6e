"""The field for the condition of the ice, in this rink's own words."""

from typing import Any

from django.utils.translation import gettext_lazy as lazy

from rinklog.records.queries import Grade
from rinklog.web.records.taking import OneOf


def grade_field(grades: list[Grade], corrected: Any = None) -> OneOf:
    """A choice of the rink's grades, and of the one that a corrected record was written with."""
    words = [grade.word for grade in grades]
    kept = getattr(corrected, "grade", "")
    if kept and kept not in words:
        words.append(kept)
    choices = [("", lazy("not graded")), *((word, word) for word in words)]
    return OneOf(label=lazy("Condition of the ice"), required=False, choices=choices)
