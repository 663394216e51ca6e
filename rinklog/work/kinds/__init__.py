"""The kinds of work, in the order the home page shows them. A new kind: one file here, one form, one line below."""

from rinklog.work.kinds.base import WorkKind
from rinklog.work.kinds.drill_hole import DRILL_HOLE
from rinklog.work.kinds.flood import FLOOD
from rinklog.work.kinds.inspection import INSPECTION
from rinklog.work.kinds.patch import PATCH
from rinklog.work.kinds.snow_removal import SNOW_REMOVAL
from rinklog.work.kinds.tarp_melt import TARP_MELT
from rinklog.work.kinds.torch_repair import TORCH_REPAIR

KINDS: dict[str, WorkKind] = {
    kind.key: kind for kind in (FLOOD, SNOW_REMOVAL, PATCH, TORCH_REPAIR, TARP_MELT, INSPECTION, DRILL_HOLE)
}
