"""Why a delivery stands as it does, in words."""

from enum import StrEnum

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _


class Fate(StrEnum):
    """The codes that a delivery keeps."""

    NO_ANSWER = "no-answer"
    NOT_NOW = "not-now"
    REFUSED = "refused"
    GAVE_UP = "gave-up"
    UNKNOWN = "unknown"
    FORGOTTEN = "forgotten"
    UNWANTED = "unwanted"


SENTENCES: dict[str, str | Promise] = {
    Fate.NO_ANSWER: _("the server does not answer; kept and tried again"),
    Fate.NOT_NOW: _("the server said: later"),
    Fate.REFUSED: _("the server refused it"),
    Fate.GAVE_UP: _("tried for three days"),
    Fate.UNKNOWN: _("cut off while sending; not sent again, so that it cannot come twice"),
    Fate.FORGOTTEN: _("this device no longer takes messages"),
    Fate.UNWANTED: _("switched off meanwhile"),
}


def fate_sentence(fate: str) -> str:
    """The sentence of a code; empty for none."""
    return str(SENTENCES.get(fate, ""))
