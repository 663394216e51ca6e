"""What people are told about, and how loud each kind is: one table.

Urgent: sent at once, never gathered into a digest. Waking: passes quiet hours too; only what may keep somebody from
harm, or from going out in the cold for nothing, does that.
"""

from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _


@dataclass(frozen=True)
class Kind:
    """One kind of message."""

    key: str
    title: str | Promise
    urgent: bool = False
    wakes: bool = False


KINDS: dict[str, Kind] = {
    kind.key: kind
    for kind in (
        Kind("off-ice-alarm", _("somebody is not off the ice in time"), urgent=True, wakes=True),
        Kind("storm-watch", _("wind or snow turns in the forecast"), urgent=True, wakes=True),
        Kind("shift-called-off", _("a shift is called off"), urgent=True, wakes=True),
        Kind("shift-moved", _("a shift is moved"), urgent=True, wakes=True),
        Kind("shift-questioned", _("the forecast puts a shift in question"), urgent=True),
        Kind("shift-unfilled", _("a shift still lacks people"), urgent=True),
        Kind("leak", _("a leak is suspected"), urgent=True),
        Kind("opening", _("the rink is opened or closed"), urgent=True),
        Kind("shift-handed-back", _("somebody gave a shift back"), urgent=True),
        Kind("shift-reminder", _("a shift of yours comes up"), urgent=True),
        Kind("shift-offered", _("a night that needs people")),
        Kind("shift-assigned", _("you are put on a shift")),
        Kind("shift-taken-off", _("you are taken off a shift"), urgent=True),
        Kind("shift-taken", _("an answer to whom you asked to take over"), urgent=True),
        Kind("handed-over", _("a hand-over to read")),
        Kind("permission-expires", _("a permission runs out")),
        Kind("work-due", _("recurring work is due")),
        Kind("paper-due", _("a grant, an insurance or a permit is due")),
        Kind("ice-question", _("a drill hole to confirm")),
        Kind("digest", _("news of the rink")),
        Kind("trial", _("a trial message"), urgent=True, wakes=True),
    )
}


def kind_named(key: str) -> Kind:
    """The kind of a key. Errors: ValueError that names the key and what is allowed."""
    try:
        return KINDS[key]
    except KeyError:
        raise ValueError(f"kind is {key!r}; allowed are {', '.join(KINDS)}.") from None
