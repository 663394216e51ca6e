"""Forms of the lists and of the store."""

from typing import Any
from uuid import UUID, uuid4

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.crew.models import Person
from rinklog.site.models import SiteTask, StoredItem
from rinklog.site.services.lists import TaskContent
from rinklog.site.services.store import ItemContent
from rinklog.site.things import Thing
from rinklog.site.usual import title_of
from rinklog.web.fields import QuantityField, say_range
from rinklog.web.plan.recurring_form import DateField
from rinklog.web.records.taking import OneOf
from rinklog.web.site.forms import WordedForm

MOST = 100_000


def several(label: Any) -> forms.MultipleChoiceField:
    """Any number of a few."""
    field = forms.MultipleChoiceField(label=label, required=False, widget=forms.CheckboxSelectMultiple)
    field.error_messages["invalid_choice"] = _("%(field)s: “%%(value)s” is not in the list.") % {
        "field": label
    }
    return field


class TaskForm(WordedForm):
    """What, when it suits, what comes before, who."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    title = forms.CharField(label=lazy("Task"), required=False, max_length=120)
    when = OneOf(label=lazy("When it suits"), choices=SiteTask.When.choices)
    due_on = DateField(label=lazy("On a day of its own"), required=False)
    needs = several(lazy("Must be done before"))
    people = several(lazy("Who does it"))
    note = forms.CharField(
        label=lazy("Note"), required=False, max_length=400, widget=forms.Textarea(attrs={"rows": 2})
    )

    def __init__(self, *args: Any, others: list[SiteTask], people: list[Person], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["needs"].choices = [(str(one.id), title_of(one)) for one in others]  # type: ignore[attr-defined]
        self.fields["people"].choices = [(str(one.id), one.name) for one in people]  # type: ignore[attr-defined]

    @classmethod
    def start(cls, task: SiteTask | None) -> dict[str, Any]:
        """What the form shows first."""
        if task is None:
            return {"id": uuid4(), "when": SiteTask.When.ANY}
        return {
            "id": task.id, "title": title_of(task), "when": task.when, "due_on": task.due_on, "note": task.note,
            "needs": [str(one.id) for one in task.needs.all()], "people": [str(one.id) for one in task.people.all()],
        }  # fmt: skip

    def content(self) -> TaskContent:
        """What was said. Call after is_valid(). Words left as the usual list has them stay its own, in every language."""
        data = self.cleaned_data
        return TaskContent(
            title="" if data["title"].strip() == self.initial.get("title") else data["title"],
            when=data["when"],
            due_on=data["due_on"],
            needs=tuple(UUID(one) for one in data["needs"]),
            people=tuple(UUID(one) for one in data["people"]),
            note=data["note"],
        )


class DoneForm(forms.Form):
    """On which day a task was done; today when none is said."""

    on = DateField(label=lazy("Done on"), required=False)


class ItemForm(WordedForm):
    """A thing in the store."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    thing = OneOf(
        label=lazy("Kind"), choices=[(key, words) for key, words in Thing.choices if key != Thing.WATER]
    )
    name = forms.CharField(label=lazy("What it is"), max_length=80)
    quantity = forms.IntegerField(label=lazy("How many"), min_value=0, max_value=MOST)
    place = forms.CharField(label=lazy("Where it lies"), required=False, max_length=120)
    state = OneOf(label=lazy("State"), choices=StoredItem.State.choices)
    length = QuantityField(label=lazy("Length"), quantity="length", lowest=0.01, highest=1000, required=False)
    width = QuantityField(label=lazy("Width"), quantity="length", lowest=0.01, highest=1000, required=False)
    bought_on = DateField(label=lazy("Bought on"), required=False)
    gone_on = DateField(label=lazy("Gone or worn out on"), required=False)
    buy = forms.IntegerField(label=lazy("To buy for next season"), min_value=0, max_value=MOST)
    note = forms.CharField(
        label=lazy("Note"), required=False, max_length=400, widget=forms.Textarea(attrs={"rows": 2})
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("quantity", "buy"):
            say_range(self.fields[name])

    @classmethod
    def start(cls, item: StoredItem | None) -> dict[str, Any]:
        """What the form shows first."""
        if item is None:
            return {"id": uuid4(), "quantity": 1, "buy": 0, "state": StoredItem.State.GOOD}
        names = ("id", "thing", "name", "quantity", "place", "state", "bought_on", "gone_on", "buy", "note")
        start = {name: getattr(item, name) for name in names}
        return start | {"length": item.length_m, "width": item.width_m}

    def content(self) -> ItemContent:
        """What was said. Call after is_valid()."""
        data = dict(self.cleaned_data)
        data.pop("id")
        return ItemContent(length_m=data.pop("length"), width_m=data.pop("width"), **data)
