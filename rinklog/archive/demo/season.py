"""The invented season: which work was done on which day, in the weather of that day."""

from collections.abc import Iterator

from rinklog.archive.demo.care import snow_removal
from rinklog.archive.demo.jobs import Job, Roster
from rinklog.archive.demo.repairs import REPAIRS
from rinklog.archive.demo.winter import Weather, winter
from rinklog.physics.constants import LATENT_JKG

FILL_DAY, REFILL_DAY, SKATING_DAY = -46, -37, -27
SHUT = range(-14, -10)
FLOOD_BELOW_C = -5.0
BREEZY_NIGHT_WM2K = 25.0
KG_PER_MM_M2 = 1.0
NOTES = (
    "Far end first, back to the tap.",
    "",
    "Wind from the lake, kept the nozzle low.",
    "",
    "Hose half frozen at the tap, ten minutes lost.",
    "Wet only; shone for twenty minutes.",
    "",
)


def jobs(days: int) -> list[Job]:
    """All of the season's work in the order it was done."""
    roster = Roster("thin coats")
    found = list(REPAIRS)
    weather = winter(days)
    for day in weather:
        found += first_fill(day, roster)
        found += floods(day, weather[day], roster)
        found += snow_removal(day, weather.get(day - 1), roster)
    return sorted(found, key=lambda job: (job.day, job.hour, job.minute, job.name))


def first_fill(day: int, roster: Roster) -> Iterator[Job]:
    """Two long runs of the hose, low end first; once more after the rain."""
    if day in (FILL_DAY, REFILL_DAY):
        again = day == REFILL_DAY
        for hour, zones, coat_mm in (
            (8, "near", 45.0 if again else 70.0),
            (20, "far", 20.0 if again else 35.0),
        ):
            yield Job(
                name=f"fill {day} {zones}",
                kind="flood",
                day=day,
                hour=hour,
                minute=0,
                zones=zones,
                people=roster.some(3, 150),
                coat_mm=coat_mm,
                details={"by": "meter", "water": "cold", "tool": "hose"},
                note="Low end first, hose on the liner under a board." if zones == "near" else "",
                lesson=not again and zones == "near",
            )


def ready_min(coat_mm: float, air_c: float) -> int:
    """Minutes until a thin coat is ice: its latent heat over what a breezy night takes from its top."""
    taken_wm2 = BREEZY_NIGHT_WM2K * -air_c
    return 10 + round(coat_mm * KG_PER_MM_M2 * LATENT_JKG / taken_wm2 / 60)


def floods(day: int, weather: Weather, roster: Roster) -> Iterator[Job]:
    """Thin coats on cold dry evenings: two a night while building, one when people skate."""
    building = FILL_DAY + 1 < day < SKATING_DAY and day not in range(-41, -35)
    skating = day >= SKATING_DAY and day not in SHUT
    if not (building or skating) or weather.night_c > FLOOD_BELOW_C or weather.snow_m > 0:
        return
    for hour, minute in ((19, 30), (22, 40)) if building else ((20, 45),):
        coat_mm = (2.6 if building else 1.3) + 0.1 * roster.random.randrange(0, 8)
        by = roster.random.choice(("meter", "minutes", "amount"))
        yield Job(
            name=f"flood {day} {hour}",
            kind="flood",
            day=day,
            hour=hour,
            minute=minute,
            zones="all" if day % 4 else "near",
            people=roster.some(2, 60),
            coat_mm=coat_mm,
            details={"by": by, "water": "cold", "tool": "hose" if building or day % 3 else "tank"},
            note=NOTES[day % len(NOTES)],
            events=(("set", 10), ("frozen", ready_min(coat_mm, weather.night_c) + 3 * (day % 4))),
            mended="Forgot the last ten minutes at the gate." if day == -9 else "",
            withdrawn="Logged twice, by phone and by me." if day == -21 else "",
        )
