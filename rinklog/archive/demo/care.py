"""The invented everyday: snow off the ice."""

from collections.abc import Iterator

from rinklog.archive.demo.jobs import Job, Roster
from rinklog.archive.demo.winter import Weather

MACHINES_FROM_M = 0.03
FIRST_ICE_DAY = -37


def snow_removal(day: int, yesterday: Weather | None, roster: Roster) -> Iterator[Job]:
    """The morning after a snowfall."""
    if yesterday is None or not yesterday.snow_m or day < FIRST_ICE_DAY:
        return
    deep = yesterday.snow_m >= MACHINES_FROM_M
    minutes = 45 + round(yesterday.snow_m * 900)
    yield Job(
        name=f"snow {day}",
        kind="snow-removal",
        day=day,
        hour=7,
        minute=0,
        people=roster.some(4 if deep else 2, minutes),
        details={
            "snow_depth_m": yesterday.snow_m,
            "snow": "dry-new" if yesterday.night_c < -6 else "wet",
            "tools": ["shovel", "snow-blower"] if deep else ["scraper", "shovel"],
        },
        note="Centre to the sides, out over the boards." if deep else "",
    )
