"""The kinds of work, in the order the home page shows them. A new kind: one file here, one form, one line below."""

from rinklog.work.kinds.base import WorkKind
from rinklog.work.kinds.flood import FLOOD

KINDS: dict[str, WorkKind] = {kind.key: kind for kind in (FLOOD,)}
