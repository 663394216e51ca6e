"""Choosing this rink's own words: condition grades and checklists. Retired words stay with what was written in them."""

from django.db import transaction

from rinklog.records.models import ChecklistItem, ConditionGrade
from rinklog.records.queries import Grade
from rinklog.rink.models import Rink


def keep_checklist(*, rink: Rink, list: str, lines: list[str]) -> None:
    """Make these the lines of a checklist, in this order; the others are retired."""
    with transaction.atomic():
        known = {item.text: item for item in ChecklistItem.objects.filter(rink=rink, list=list)}
        ChecklistItem.objects.filter(rink=rink, list=list).update(retired=True)
        for place, text in enumerate(dict.fromkeys(lines)):
            item = known.get(text) or ChecklistItem(rink=rink, list=list, text=text)
            item.place, item.retired = place, False
            item.save()


def keep_grades(*, rink: Rink, grades: list[Grade]) -> None:
    """Make these the condition grades, the best first; the others are retired."""
    with transaction.atomic():
        ConditionGrade.objects.filter(rink=rink).update(retired=True)
        for place, grade in enumerate(grades):
            ConditionGrade.objects.update_or_create(
                rink=rink,
                word=grade.word,
                defaults={"criterion": grade.criterion, "place": place, "retired": False},
            )
