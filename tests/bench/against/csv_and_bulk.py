"""The other side of `weather-import`: the file through the csv module, and one bulk insert; nothing is checked."""

import csv
import datetime as dt

from rinklog.weather.models import Observation

NAMES = ("air_c", "humidity_frac", "wind_ms", "wind_from_deg", "cloud_frac", "pressure_pa", "precip_mm")


def load(path: str, rink: object, now: dt.datetime) -> int:
    """Store a year of hours; returns how many."""
    with open(path, newline="") as file:
        rows = [
            Observation(
                rink=rink,
                source="file",
                at=dt.datetime.fromisoformat(row["time"]),
                recorded_at=now,
                mark=0,
                **{name: float(row[name]) for name in NAMES},
            )
            for row in csv.DictReader(file)
        ]
    Observation.objects.bulk_create(rows)
    return len(rows)
