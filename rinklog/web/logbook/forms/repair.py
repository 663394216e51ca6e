"""Forms of work on hazards: which of the open ones it was for."""

from typing import Any
from uuid import UUID

from django import forms
from django.utils.translation import gettext_lazy as lazy

from rinklog.web.logbook.forms.base import WorkForm
from rinklog.work.models import Entry
from rinklog.work.repair_queries import repaired_by


class RepairForm(WorkForm):
    """Asks which hazards were worked on. None is allowed: not every worn spot was marked."""

    hazards = forms.TypedMultipleChoiceField(
        coerce=UUID, required=False, label=lazy("Hazards"), widget=forms.CheckboxSelectMultiple
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["hazards"].choices = [(hazard.id, hazard) for hazard in self.hazard_list]  # type: ignore[attr-defined]

    @property
    def hazard_rows(self) -> list[tuple[Any, bool]]:
        """Each hazard that can be ticked, and whether it is."""
        ticked = {str(value) for value in self["hazards"].value() or []}
        return [(hazard, str(hazard.id) in ticked) for hazard in self.hazard_list]

    def more_content(self) -> dict[str, Any]:
        return {"hazard_ids": tuple(self.cleaned_data["hazards"])}

    @classmethod
    def from_entry(cls, entry: Entry) -> dict[str, Any]:
        return super().from_entry(entry) | {"hazards": list(repaired_by(entry))}
