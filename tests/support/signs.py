"""Signs for tests."""

from rinklog.rink.models import Sign
from rinklog.rink.signs import make_signs
from tests.support.cast import NOW, Cast
from tests.support.hazards import put_up


def a_sign(cast: Cast, kind: str = "zone", place: str = "B3") -> Sign:
    """The standing sign of a place, made when there is none."""
    grid = cast.season.grid
    make_signs(rink=cast.rink, grid=grid, kind=kind, places=[place], by=cast.ada, now=NOW)
    return Sign.objects.get(rink=cast.rink, kind=kind, place=place, retired_at=None)


def free_cone(cast: Cast) -> str:
    """The number of a cone that stands nowhere, while a hazard has none."""
    put_up(cast)
    return "7"
