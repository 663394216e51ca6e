"""The invented rink: where it lies, how deep it is, where the sun reaches it, how fast its hose runs."""

import datetime as dt

from rinklog.archive.demo.calendar import Days
from rinklog.crew.models import Person
from rinklog.rink.models import BucketTest, ChosenRule, PhaseChange, Rink, Season, Zone
from rinklog.rink.services import RinkSize, make_rink

TOWN = "Rimvinkel"  # invented, like everything here
RINK = "Lower Meadow Rink"
SIZE = RinkSize(length_m=40.0, width_m=20.0, corner_m=4.0)
ROWS, COLUMNS = 8, 4
TIME_ZONE = "Europe/Oslo"
# A round figure in the forest, so that sun and forecast have somewhere to be.
LATITUDE, LONGITUDE, BEARING_DEG = 61.5, 11.5, 20.0

DAYS = 63  # how long ago the season began
PHASES = (
    (-63, "setting-up", "Boards and liner out of the barn."),
    (-47, "building", "Ground frozen hard, five cold nights promised."),
    (-38, "building", "Started over: rain on day nine took the first ice."),
    (-27, "skating", "Ten centimetres in every hole. First skaters at five."),
    (-14, "shut", "Three mild days, slush at the near end."),
    (-10, "skating", "Cold again, two coats hold."),
)
BUCKET_TESTS = ((-49, "barn tap, 25 mm hose", 0.020, 31.0), (-20, "barn tap, 25 mm hose", 0.020, 33.5))
CHOSEN_RULES = {"least_crew": 4.0, "flood_warmest_c": -5.0}
# Height of the water over the liner: the meadow falls from the far right to the near left corner.
DEEPEST_M, FALL_ALONG_M, FALL_ACROSS_M = 0.22, 0.012, 0.010


def make_place(starts_on: dt.date, now: dt.datetime) -> Rink:
    """Make the rink with its grid and season, and survey its zones."""
    rink = make_rink(
        name=RINK,
        place=TOWN,
        size=SIZE,
        time_zone=TIME_ZONE,
        rows=ROWS,
        columns=COLUMNS,
        starts_on=starts_on,
        now=now,
    )
    rink.latitude, rink.longitude, rink.bearing_deg = LATITUDE, LONGITUDE, BEARING_DEG
    rink.save()
    for zone in Zone.objects.filter(grid__rink=rink):
        survey(zone)
    return rink


def survey(zone: Zone) -> None:
    """Depth, sun and wear of one zone: pines shade the left side, the crease and the gate wear."""
    zone.depth_m = round(DEEPEST_M - FALL_ALONG_M * zone.row - FALL_ACROSS_M * zone.column, 3)
    zone.sun = Zone.Sun.SHADE if zone.column == 0 else Zone.Sun.PART if zone.column == 1 else Zone.Sun.OPEN
    zone.wears = zone.row in (0, ROWS - 1) and zone.column in (1, 2)
    zone.low_spot = (zone.row, zone.column) in {(0, 0), (1, 0), (3, 2)}
    zone.save()


def make_history(season: Season, keeper: Person, days: Days) -> None:
    """Phases, bucket tests and the rules this crew has chosen."""
    PhaseChange.objects.bulk_create(
        PhaseChange(
            season=season, phase=phase, on=days.date(day), by=keeper, recorded_at=days.at(day, 9), note=note
        )
        for day, phase, note in PHASES
    )
    BucketTest.objects.bulk_create(
        BucketTest(
            rink=season.rink,
            hose=hose,
            water_m3=water_m3,
            seconds=seconds,
            by=keeper,
            measured_at=days.at(day, 15),
        )
        for day, hose, water_m3, seconds in BUCKET_TESTS
    )
    ChosenRule.objects.bulk_create(
        ChosenRule(rink=season.rink, key=key, value=value, by=keeper, chosen_at=days.at(-60, 20))
        for key, value in CHOSEN_RULES.items()
    )
