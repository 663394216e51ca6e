"""The form of an inspection: a condition for each zone, and whether each repair holds."""

from typing import Any
from uuid import UUID

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.web.logbook.forms.base import WorkForm
from rinklog.work.kinds.inspection import CONDITIONS, JUDGEMENTS
from rinklog.work.models import Entry
from rinklog.work.repair_queries import judged_by

NOT_LOOKED_AT = ""


class InspectionForm(WorkForm):
    """Pick zones, say their condition; mark them and go on with others, or save."""

    kind = "inspection"
    zones_from_last = False

    # Zones marked before, "12:good 13:rough": the picked ones join them when marked or saved.
    marked = forms.CharField(widget=forms.HiddenInput, required=False, max_length=20000)
    condition = forms.ChoiceField(
        label=lazy("Condition of the picked zones"),
        choices=list(CONDITIONS.items()),
        required=False,
        widget=forms.RadioSelect,
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choices = [(NOT_LOOKED_AT, lazy("not looked at")), *JUDGEMENTS.items()]
        for hazard in self.hazard_list:
            self.fields[judged_name(hazard.id)] = forms.ChoiceField(
                choices=choices, required=False, widget=forms.RadioSelect, label=str(hazard)
            )

    @property
    def judged(self) -> list[tuple[Any, forms.BoundField]]:
        """Each repaired hazard with its question."""
        return [(hazard, self[judged_name(hazard.id)]) for hazard in self.hazard_list]

    def conditions_so_far(self) -> dict[int, str]:
        """Conditions of the zones marked before."""
        return self._read(self["marked"].value() or "")

    def marks(self) -> dict[int, Any]:
        """The word to show in each zone marked before."""
        return {zone: CONDITIONS[word] for zone, word in self.conditions_so_far().items()}

    def _read(self, text: str) -> dict[int, str]:
        known = {str(zone.id): zone.id for zone in self.grid_zones}
        pairs = (item.partition(":") for item in text.split())
        return {known[zone]: word for zone, _colon, word in pairs if zone in known and word in CONDITIONS}

    def mark(self, typed: dict[str, Any]) -> dict[str, Any]:
        """Let the picked zones have the chosen condition, and be ready for the next ones."""
        conditions = self._read(typed.get("marked") or "")
        on_grid = {zone.id for zone in self.grid_zones}
        if typed.get("condition") in CONDITIONS:
            conditions |= {zone: typed["condition"] for zone in typed["zones"] if zone in on_grid}
        return typed | {"marked": written(conditions), "zones": [], "condition": ""}

    def clean(self) -> dict[str, Any]:
        """Join the picked zones to those marked before."""
        data = super().clean() or {}
        conditions = self._read(data.get("marked") or "")
        picked = data.get("zones") or []
        if picked and not data.get("condition"):
            self.add_error("condition", _("The condition is empty; choose one for the picked zones."))
        conditions |= dict.fromkeys(picked, data.get("condition", ""))
        data["conditions"], data["zones"] = conditions, list(conditions)
        return data

    def more_content(self) -> dict[str, Any]:
        data = self.cleaned_data
        answers = {hazard.id: data.get(judged_name(hazard.id)) for hazard in self.hazard_list}
        return {
            "conditions": data["conditions"],
            "holding": {hazard: answer for hazard, answer in answers.items() if answer},
        }

    @classmethod
    def from_entry(cls, entry: Entry) -> dict[str, Any]:
        conditions = {row.zone_id: row.condition for row in entry.zones.all()}
        answers = {judged_name(hazard): word for hazard, word in judged_by(entry).items()}
        return super().from_entry(entry) | {"marked": written(conditions), "zones": []} | answers


def written(conditions: dict[int, str]) -> str:
    """Conditions as the hidden field carries them."""
    return " ".join(f"{zone}:{word}" for zone, word in conditions.items())


def judged_name(hazard_id: UUID) -> str:
    """The form field that says whether a repair holds."""
    return f"judged-{hazard_id}"
