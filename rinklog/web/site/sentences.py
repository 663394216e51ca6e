"""What is wrong with a survey or a layout, in sentences."""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.geometry.standing import SiteError
from rinklog.web import measures
from rinklog.web.middleware import current_units

SENTENCES = {
    "hole": lazy("The survey has a hole in row %(row)d, column %(column)d; every point needs a height."),
    "number": lazy(
        "Row %(row)d, column %(column)d is “%(value)s”; allowed is a height of at most 100 m up or down."
    ),
    "ragged": lazy("Row %(row)d has %(found)d heights, the first has %(wanted)d; every row needs as many."),
    "few": lazy("The survey is too small; allowed are at least 2 rows of 2 heights."),
    "many": lazy("The survey has more than %(most)d heights; leave some out."),
    "steep": lazy(
        "The water would stand %(deepest)s deep at the boards, and they are %(board)s high; level some ground, move the "
        "rink, or use higher boards."
    ),
    "outside": lazy(
        "The boards would stand %(out)s outside the surveyed ground, where no height is known; "
        "move the rink or survey more."
    ),
    "upside-down": lazy(
        "More would be levelled than the ground falls inside the boards, which is %(fall)s; allowed is less than that."
    ),
    "line": lazy(
        "A line at %(at)s is not on the ice; allowed is between 0 and %(length)s from the near end."
    ),
    "circle": lazy("A circle of radius %(radius)s does not fit; allowed is up to %(most)s."),
    "many-marks": lazy("There are more lines and circles than %(most)d; leave some out."),
}
LENGTHS = {"deepest", "board", "out", "fall", "at", "length", "radius"}


def said(error: SiteError) -> str:
    """The sentence, with lengths in the person's units."""
    lengths = LENGTHS | ({"most"} if error.code == "circle" else set())
    params = {
        name: measures.show(float(str(value)), "length", current_units()) if name in lengths else value
        for name, value in error.params.items()
    }
    return _(str(SENTENCES[error.code])) % params
