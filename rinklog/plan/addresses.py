"""Where a message leads: paths of the site as text, because this floor knows nothing of HTTP (a test compares them)."""

from rinklog.plan.models import HandOver, Shift
from rinklog.rink.models import Rink


def shift_path(shift: Shift) -> str:
    """The page of one shift."""
    return f"/r/{shift.rink.slug}/shifts/{shift.id}/"


def board_path(rink: Rink) -> str:
    """The coordinator's two weeks."""
    return f"/r/{rink.slug}/shifts/board/"


def on_ice_path(rink: Rink) -> str:
    """Who is on the ice."""
    return f"/r/{rink.slug}/on-ice/"


def permissions_path(rink: Rink) -> str:
    """Who may do what, and until when."""
    return f"/r/{rink.slug}/permissions/"


def hand_over_path(hand_over: HandOver) -> str:
    """One hand-over."""
    return f"/r/{hand_over.rink.slug}/hand-over/{hand_over.id}/"


def first_fill_path(rink: Rink) -> str:
    """The first fill, with storm watch and leak."""
    return f"/r/{rink.slug}/setup/first-fill/"
