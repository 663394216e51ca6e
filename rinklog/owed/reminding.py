"""Which reminder of a date stands on a day. Pure: the same day gives the same reminder, so that none is told twice."""

AHEAD_DAYS = (30, 7, 1)  # common practice, no source
LATE = -1


def stage(days_left: int) -> int | None:
    """The reminder that stands when so many days are left: 30, 7, 1, LATE once the day is over; None: too early.

    Only the nearest counts: a date written down five days before it is due is told once as a date of this week, and a
    sweep that was missed is made good by the next one.
    """
    if days_left < 0:
        return LATE
    return next((ahead for ahead in sorted(AHEAD_DAYS) if days_left <= ahead), None)
