"""The invented everyday: snow off the ice, holes drilled, the sheet looked at."""

from collections.abc import Iterator

from rinklog.archive.demo.jobs import Job, Roster
from rinklog.archive.demo.winter import Weather

MACHINES_FROM_M = 0.03
DRILL_DAYS = (-34, -31, -27, -24, -20, -16, -11, -10, -7, -4, -1)
HOLES = ("A1", "D3", "H4")
# Thickness of the ice grows with the cold days since it was filled, and the thaw took some.
FIRST_ICE_DAY, GROWTH_M, THAW_DAY, THAW_TOOK_M = -37, 0.0105, -14, 0.025
THICKEST_M = {"A1": 0.19, "D3": 0.15, "H4": 0.105}


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


def drill_holes(day: int) -> Iterator[Job]:
    """Three holes, deep end, middle and shallow end."""
    if day not in DRILL_DAYS:
        return
    for place, zone in enumerate(HOLES):
        thick_m = thickness_m(day, zone)
        white_m = 0.012 if day >= -10 else 0.0
        yield Job(
            name=f"hole {day} {zone}",
            kind="drill-hole",
            day=day,
            hour=16,
            minute=5 * place,
            people={"odo" if day % 2 else "runa": 5},
            zones=zone,
            details={
                "clear_ice_m": round(thick_m - white_m, 3),
                "white_ice_m": white_m,
                "water_below_m": 0.02 if zone == "A1" and day < -20 else 0.0,
            },
        )


def thickness_m(day: int, zone: str) -> float:
    """How thick the invented ice is [m]."""
    grown = GROWTH_M * (day - FIRST_ICE_DAY) - (THAW_TOOK_M if day >= THAW_DAY else 0.0)
    return round(min(THICKEST_M[zone], max(grown, 0.02)), 3)
