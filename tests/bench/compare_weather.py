"""Bringing in a year of hourly weather: what checking every value, flags, progress and safe repeats cost."""

import datetime as dt
import os
import tempfile
from pathlib import Path
from statistics import median
from uuid import uuid4

from tests.bench.measure import Row, Side, at_most, comparison, seconds
from tests.bench.one import database

HOURS = 8760
ROUNDS = 7
NOW = dt.datetime(2026, 1, 15, 12, tzinfo=dt.UTC)


def a_year(path: Path) -> None:
    """Write a year of our own CSV, every column filled."""
    start = dt.datetime(2025, 1, 1, tzinfo=dt.UTC)
    names = "time,air_c,humidity_frac,wind_ms,wind_from_deg,cloud_frac,pressure_pa,precip_mm"
    with path.open("w") as file:
        file.write(names + "\n")
        for n in range(HOURS):
            at = start + n * dt.timedelta(hours=1)
            air, turn = -8 + 9 * ((n % 24) / 24) + n % 7 / 7, n * 37 % 360
            file.write(
                f"{at.isoformat()},{air:.2f},0.{60 + n % 39},{n % 9}.5,{turn},0.{n % 10},{100_500 + n % 900},0\n"
            )


@comparison("weather-import")
def weather_import() -> Row:
    """From the file on the disk to the last row, by the task's own service, in chunks with their progress."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.bench.settings")
    database()
    from django.core.files import File

    from rinklog.weather.importing import go_on, receive_file
    from rinklog.weather.models import Observation, WeatherFile
    from tests.bench.against.csv_and_bulk import load
    from tests.support.cast import make_cast

    cast = make_cast()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "year.csv"
        a_year(path)

        def ours() -> None:
            with path.open("rb") as file:
                one = receive_file(
                    id=uuid4(),
                    rink=cast.rink,
                    file=File(file, "year.csv"),
                    format="csv",
                    by=cast.ada,
                    now=NOW,
                )
            while go_on(id=one.id, now=NOW):
                pass
            done = WeatherFile.objects.get(id=one.id)
            assert (done.added, done.flag_count) == (HOURS, 0), (done.added, done.flagged, done.sentence)

        def against() -> None:
            assert load(str(path), cast.rink, NOW) == HOURS

        def emptied(side: Side) -> float:
            Observation.objects.all().delete()
            return seconds(side)

        emptied(ours), emptied(against)
        taken = [(emptied(ours), emptied(against)) for _ in range(ROUNDS)]
    one, other = (median(side) * 1000 for side in zip(*taken, strict=True))
    return at_most("weather-import", one, other, times=3, unit="ms")
