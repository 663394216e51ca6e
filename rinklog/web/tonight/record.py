"""How good the advice has been, for the page: the figures, and the floods they come from."""

from typing import Any

from django.utils import formats
from django.utils.translation import gettext as _

from rinklog.advice.learning import Score
from rinklog.advice.outcomes import Judged
from rinklog.advice.wording import chance_text
from rinklog.web.access import At
from rinklog.web.tonight.showing import Show, duration, moment

FLOODS_SHOWN = 10


def record_panel(
    score: Score, floods: list[Judged], factor: float, spoke: int, at: At, show: Show
) -> dict[str, Any]:
    """The score in words, and a row a flood."""
    return {
        "score": score,
        "bias": _bias(score),
        "brier": None if score.brier is None else formats.number_format(score.brier, decimal_pos=2),
        "expected": formats.number_format(score.expected_hits, decimal_pos=1),
        "factor": formats.number_format(factor, decimal_pos=2),
        "corrected": abs(factor - 1) >= 0.01,
        "spoke": spoke,
        "floods": [_flood(one, at, show) for one in floods[:FLOODS_SHOWN]],
    }


def _bias(score: Score) -> str:
    if score.bias_h is None:
        return ""
    size = duration(abs(score.bias_h))
    return (
        _("%(time)s later than said") % {"time": size}
        if score.bias_h > 0
        else _("%(time)s earlier than said") % {"time": size}
    )


def _flood(one: Judged, at: At, show: Show) -> dict[str, Any]:
    made, seen = one.prediction, one.outcome
    return {
        "root_id": made.root_id,
        "began": moment(made.began_at, at),
        "coat": show("coat", made.coat_mm / 1000),
        "said": duration(seen.middle_h),
        "chance": chance_text(made.chance),
        "seen": _seen(seen.not_frozen_h, seen.frozen_h),
        "hit": {True: _("in time"), False: _("too late"), None: _("nobody saw")}[seen.hit],
    }


def _seen(wet_h: float, frozen_h: float | None) -> str:
    if frozen_h is None:
        return _("wet after %(time)s") % {"time": duration(wet_h)} if wet_h > 0 else _("not looked at")
    if wet_h > 0:
        return _("%(first)s to %(last)s") % {"first": duration(wet_h), "last": duration(frozen_h)}
    return _("frozen after %(time)s") % {"time": duration(frozen_h)}
