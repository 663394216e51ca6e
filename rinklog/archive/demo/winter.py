"""The invented weather: what the crew had to work with, day by day. Made up, and the same every time."""

import math
from dataclasses import dataclass

# Days ahead of today are what the invented forecast tells: a snowfall, and a thaw at the end of the week.
THAWS = {-40: 6.0, -39: 8.0, -15: 7.0, -14: 9.0, -13: 8.0, -12: 4.0, 7: 8.0, 8: 9.0}
SNOWFALLS_M = {
    -33: 0.06,
    -30: 0.02,
    -25: 0.09,
    -22: 0.015,
    -18: 0.04,
    -11: 0.12,
    -8: 0.02,
    -5: 0.055,
    -2: 0.03,
    3: 0.05,
}
# The one blizzard: it made the drift along the road side.
BLOWS_MS = {-11: 12.5}
BLEW_FROM_DEG = 250.0
SKIES = ("clear", "clear", "cloudy", "clear", "cloudy")


@dataclass(frozen=True)
class Weather:
    """One day's air by night and by day [°C], wind [m/s], new snow [m] and the sky."""

    day: int
    night_c: float
    noon_c: float
    wind_ms: float
    snow_m: float
    sky: str


def winter(days: int) -> dict[int, Weather]:
    """The weather of the last `days` days, by day counted from today (0, -1, …)."""
    return {day: weather(day, days) for day in range(-days, 1)}


def weather(day: int, days: int) -> Weather:
    """A fall to about -11 °C at night in three weeks, waves of some days on top, and two thaws."""
    fall = min(1.0, (day + days) / 21)
    wave = 2.5 * math.sin(day * 0.83) + 1.5 * math.sin(day * 0.31 + 1)
    night_c = round(3.0 - 13.5 * fall + wave + THAWS.get(day, 0.0), 1)
    return Weather(
        day=day,
        night_c=night_c,
        noon_c=round(night_c + 5.0, 1),
        wind_ms=BLOWS_MS.get(day, round(2.2 + 1.8 * abs(math.sin(day * 1.7)), 1)),
        snow_m=SNOWFALLS_M.get(day, 0.0),
        sky="snowing" if day in SNOWFALLS_M else "raining" if day in THAWS else SKIES[day % len(SKIES)],
    )
