"""The keeper's page for this rink's own words: checklists and condition grades."""

from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.crew.rights import Right
from rinklog.records import queries
from rinklog.records.models import ChecklistItem
from rinklog.records.practice import CHECKLISTS_SOURCE, GRADES_SOURCE
from rinklog.records.queries import Grade
from rinklog.records.words import keep_checklist, keep_grades
from rinklog.rink.models import Rink
from rinklog.web.access import At, on_rink

MOST_LINES, LONGEST_LINE, LONGEST_WORD, LONGEST_CRITERION = 60, 200, 40, 300


class LinesField(forms.CharField):
    """Text with one thing a line; cleans to the list of lines."""

    def __init__(self, *, longest: int, **kwargs: Any) -> None:
        super().__init__(widget=forms.Textarea(attrs={"rows": 9}), required=False, **kwargs)
        self.longest = longest

    def clean(self, value: Any) -> Any:
        lines = [line.strip() for line in super().clean(value).splitlines() if line.strip()]
        if not 1 <= len(lines) <= MOST_LINES:
            raise forms.ValidationError(
                _("%(field)s has %(count)d lines; allowed are 1 to %(most)d.")
                % {"field": self.label, "count": len(lines), "most": MOST_LINES}
            )
        for line in lines:
            if len(line) > self.longest:
                raise forms.ValidationError(
                    _("%(field)s: “%(value)s…” has %(count)d letters; allowed are %(most)d.")
                    % {
                        "field": self.label,
                        "value": line[:30],
                        "count": len(line),
                        "most": self.longest,
                    }
                )
        return lines


class WordsForm(forms.Form):
    """The grades, each with its criterion, and the four checklists."""

    grades = LinesField(
        label=lazy("Condition grades, the best first"), longest=LONGEST_WORD + LONGEST_CRITERION
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for key, title in ChecklistItem.List.choices:
            self.fields[key] = LinesField(label=title, longest=LONGEST_LINE)

    @classmethod
    def start(cls, rink: Rink) -> dict[str, str]:
        """The words in force, one a line."""
        start = {key: "\n".join(queries.checklist(rink, key)) for key in ChecklistItem.List.values}
        grades = queries.grades(rink)
        return start | {"grades": "\n".join(f"{grade.word}: {grade.criterion}" for grade in grades)}

    def clean_grades(self) -> list[Grade]:
        """Each line is a word, a colon and its criterion."""
        found: dict[str, Grade] = {}
        for line in self.cleaned_data["grades"]:
            word, colon, criterion = (part.strip() for part in line.partition(":"))
            if not colon or not word or not criterion or len(word) > LONGEST_WORD or word in found:
                raise forms.ValidationError(
                    _(
                        "Condition grades: “%(value)s”; allowed is a word of at most %(most)d letters, once, then a "
                        "colon and what it means."
                    )
                    % {"value": line[:60], "most": LONGEST_WORD}
                )
            found[word] = Grade(word, criterion[:LONGEST_CRITERION])
        return list(found.values())


@on_rink(Right.KEEP)
def words(request: HttpRequest, at: At) -> HttpResponse:
    """Edit the checklists and the condition grades of this rink."""
    form = WordsForm(request.POST or None, initial=WordsForm.start(at.rink))
    if request.method == "POST" and form.is_valid():
        keep_grades(rink=at.rink, grades=form.cleaned_data["grades"])
        for key in ChecklistItem.List.values:
            keep_checklist(rink=at.rink, list=key, lines=form.cleaned_data[key])
        messages.success(request, _("Saved. Walks and inspections made before keep their old words."))
        return redirect("record-words", slug=at.rink.slug)
    context = {"form": form, "sources": [GRADES_SOURCE, CHECKLISTS_SOURCE]}
    return render(request, "records/words.html", context, status=422 if form.errors else 200)
