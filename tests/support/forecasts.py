"""Small forecast answers in the providers' own forms, for tests that only need one to come."""

import datetime as dt
import json

H = dt.timedelta(hours=1)


def met_norway(made: dt.datetime, airs: list[float], first: dt.datetime | None = None) -> bytes:
    """An answer of MET Norway: hourly air and wind from `first` (else when it was made)."""
    begin = (first or made).replace(minute=0, second=0, microsecond=0)
    series = [
        {
            "time": f"{begin + n * H:%Y-%m-%dT%H:%M:%SZ}",
            "data": {
                "instant": {"details": {"air_temperature": air, "wind_speed": 2.5}},
                "next_1_hours": {"details": {"precipitation_amount": 0.0}},
            },
        }
        for n, air in enumerate(airs)
    ]
    units = {"air_temperature": "celsius", "wind_speed": "m/s", "precipitation_amount": "mm"}
    meta = {"updated_at": f"{made:%Y-%m-%dT%H:%M:%SZ}", "units": units}
    return json.dumps({"type": "Feature", "properties": {"meta": meta, "timeseries": series}}).encode()


def us_nws(made: dt.datetime, air: float, hours: int = 24) -> bytes:
    """A gridpoint answer of the US service: one temperature for a stretch."""
    begin = made.replace(minute=0, second=0, microsecond=0)
    values = [{"validTime": f"{begin.isoformat()}/PT{hours}H", "value": air}]
    told = {"updateTime": made.isoformat(), "temperature": {"uom": "wmoUnit:degC", "values": values}}
    return json.dumps({"properties": told}).encode()


def open_meteo(first: dt.datetime, airs: list[float]) -> bytes:
    """An answer of Open-Meteo: hourly air in UTC."""
    times = [f"{first + n * H:%Y-%m-%dT%H:%M}" for n in range(len(airs))]
    told = {
        "utc_offset_seconds": 0,
        "hourly_units": {"time": "iso8601", "temperature_2m": "°C"},
        "hourly": {"time": times, "temperature_2m": airs},
    }
    return json.dumps(told).encode()
