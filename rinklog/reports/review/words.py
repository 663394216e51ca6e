"""The words behind the keys in a review's cells, so that files hold keys and people read words."""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext_lazy as lazy
from django.utils.translation import pgettext_lazy

from rinklog.crew.models import Membership
from rinklog.records.models import Opening
from rinklog.work.kinds import KINDS
from rinklog.work.kinds.inspection import CONDITIONS
from rinklog.work.kinds.patch import PATCH
from rinklog.work.kinds.snow_removal import SNOW_REMOVAL
from rinklog.work.models import Hazard

KIND: Mapping[str, Any] = {key: kind.title for key, kind in KINDS.items()}
TOTAL = "total"
_METHODS = PATCH.details["method"].choices  # type: ignore[union-attr]
_TOOLS = SNOW_REMOVAL.details["tools"].choices  # type: ignore[union-attr]

WORDS: dict[str, Mapping[str, Any]] = {
    "kind": {**KIND, TOTAL: lazy("all work")},
    "role": {**dict(Membership.Role.choices), "": lazy("no longer on the crew")},
    "state": {**dict(Opening.State.choices), "": lazy("not said")},
    "hazard": {**dict(Hazard.Kind.choices), TOTAL: lazy("all hazards")},
    "severity": dict(Hazard.Severity.choices),
    "hazard_state": dict(Hazard.State.choices),
    "method": {**_METHODS, **KIND},
    "tool": _TOOLS,
    "condition": CONDITIONS,
    "outcome": {
        "good": pgettext_lazy("flood", "good"),
        "spoilt": lazy("spoilt"),
        "not-seen": lazy("nobody looked"),
    },
    "spoiler": {
        "": "",
        "snow": lazy("snow fell on it"),
        "rain": lazy("rain"),
        "thaw": lazy("air above freezing"),
        "shell-ice": lazy("shell ice"),
        "wet": lazy("wet or slush"),
    },
}


def said(words: str, key: object) -> str:
    """What a key of a list is called; several keys are joined by "+" in the cell."""
    known = WORDS.get(words, {})
    return " + ".join(str(known.get(one, one)) for one in str(key).split("+"))
