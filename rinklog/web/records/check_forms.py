"""The form of a checklist: one answer and one remark a line, with the words as they were when it was opened."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as lazy

from rinklog.records import queries
from rinklog.records.models import Check, CheckLine
from rinklog.records.services import Line
from rinklog.web.records.grades import grade_field
from rinklog.web.records.taking import OneOf, RecordForm

MOST_LINES = 60
Answer = CheckLine.Answer


class CheckForm(RecordForm):
    """A checklist gone through, the condition of the ice, and whom was told."""

    told_whom = forms.CharField(label=lazy("Told whom"), required=False, max_length=120)

    def __init__(self, *args: Any, list: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.grades = queries.grades(self.at.rink)
        self.fields["grade"] = grade_field(self.grades, self.replaces)
        self.texts = self._posted_texts() or self._lines_to_start_with(list)
        for number, text in enumerate(self.texts):
            self.fields[f"answer-{number}"] = OneOf(
                label=text, required=False, choices=Answer.choices, widget=forms.RadioSelect
            )
            self.fields[f"remark-{number}"] = forms.CharField(
                label=lazy("Remark"), required=False, max_length=300
            )

    def _posted_texts(self) -> list[str]:
        if not self.is_bound:
            return []
        names = (f"text-{number}" for number in range(MOST_LINES))
        return [self.data[name][:200] for name in names if self.data.get(name, "").strip()]

    def _lines_to_start_with(self, list: str) -> list[str]:
        if isinstance(self.replaces, Check):
            return [line.text for line in self.replaces.lines.all()]
        return queries.checklist(self.at.rink, list)

    @classmethod
    def start(cls, at: Any, replaces: Any) -> dict[str, Any]:
        start = super().start(at, replaces)
        if replaces is not None:
            start |= {"grade": replaces.grade, "told_whom": replaces.told_whom}
            for number, line in enumerate(replaces.lines.all()):
                start |= {f"answer-{number}": line.answer, f"remark-{number}": line.remark}
        return start

    @property
    def rows(self) -> list[tuple[int, str, forms.BoundField, forms.BoundField]]:
        """Number, words, answer and remark of each line."""
        return [(n, text, self[f"answer-{n}"], self[f"remark-{n}"]) for n, text in enumerate(self.texts)]

    def lines(self) -> tuple[Line, ...]:
        """What was answered; a line left blank was not looked at, or is in order when that was said of the rest."""
        rest = Answer.GOOD if self.data.get("rest") == Answer.GOOD else Answer.NOT_SEEN
        data = self.cleaned_data
        return tuple(
            Line(text, data[f"answer-{n}"] or str(rest), data[f"remark-{n}"].strip())
            for n, text in enumerate(self.texts)
        )
