"""The form of each kind of work, one file each."""

from rinklog.web.logbook.forms.base import WorkForm
from rinklog.web.logbook.forms.drill_hole import DrillHoleForm
from rinklog.web.logbook.forms.flood import FloodForm
from rinklog.web.logbook.forms.inspection import InspectionForm
from rinklog.web.logbook.forms.patch import PatchForm
from rinklog.web.logbook.forms.snow_removal import SnowRemovalForm
from rinklog.web.logbook.forms.tarp_melt import TarpMeltForm
from rinklog.web.logbook.forms.torch_repair import TorchRepairForm

__all__ = ["FORMS", "WorkForm"]

FORMS: dict[str, type[WorkForm]] = {
    form.kind: form
    for form in (
        FloodForm,
        SnowRemovalForm,
        PatchForm,
        TorchRepairForm,
        TarpMeltForm,
        InspectionForm,
        DrillHoleForm,
    )
}
