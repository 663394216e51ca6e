"""The command `simulate` through three winters of open data: it closes its balance and stays in the corridor.

The corridor is physical: bare ice is never thicker than 3.52 cm times the root of the freezing degree days [°C·d]
(Stefan's ceiling with k 2.24 W/m/K; one centimetre is allowed for the first nights, when a daily mean hides cold).
"""

import csv
import gzip
import io
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from rinklog.simulate.cli import main
from tests.open_data import fetch
from tests.pure.test_column_measured import CHICAGO, HELSINKI, barrow

pytestmark = pytest.mark.slow


def simulated(folder, start, columns, *options):
    """Write hourly weather to a file, run the command on it, and return its rows as arrays by column."""
    path = folder / "weather.csv"
    names = list(columns)
    lines = [",".join(["time", *names])]
    for n, values in enumerate(zip(*columns.values(), strict=True)):
        lines.append(",".join([(start + timedelta(hours=n)).isoformat(), *(f"{v:.4f}" for v in values)]))
    path.write_text("\n".join(lines) + "\n")
    out, err = io.StringIO(), io.StringIO()
    assert main(["--weather", str(path), *map(str, options)], out, err) == 0, err.getvalue()
    rows = list(csv.reader(io.StringIO(out.getvalue())))
    found = np.array([[float(cell) for cell in row[1:]] for row in rows[1:]])
    return dict(zip(rows[0][1:], found.T, strict=True))


def closes(rows):
    """Issue: energy residual at most 0.5 W/m², mass at most 0.01 mm, at every step."""
    assert np.abs(rows["energy_residual_wm2"]).max() <= 0.5
    assert np.abs(rows["mass_residual_mm"]).max() <= 0.01


def in_the_corridor(rows, air_c):
    """Ice at each day's end, against the ceiling of that day."""
    ice_mm = rows["ice_mm"][23::24]
    cold = np.cumsum(np.maximum(0, -air_c.reshape(-1, 24).mean(axis=1)))
    assert (ice_mm <= 35.2 * np.sqrt(cold) + 10).all()
    assert ice_mm[-1] > 100


def test_barrow_2009_with_its_measured_snow(tmp_path):
    # Petrich et al., UAF Sea Ice Mass Balance Probe 2009: 1.327 m on 20 April
    hours, air, snow, _, _ = barrow()
    options = [
        *("--surface", "air", "--exchange-wm2k", 20, "--ice-mm", 694, "--water-mm", 5000, "--ice-c", -8),
        *(
            "--freezing-c",
            -1.8,
            "--latent-jkg",
            3.0e5,
            "--rho-ice-kgm3",
            915,
            "--k-ice-wmk",
            2.1,
            "--snow-k-wmk",
            0.31,
        ),
    ]
    start = datetime(2009, 1, 16, tzinfo=UTC)
    rows = simulated(tmp_path, start, {"air_c": air, "snow_m": np.maximum(snow, 0)}, *options)
    closes(rows)
    assert len(rows["ice_mm"]) == len(hours)
    assert rows["ice_mm"][-24:].mean() == pytest.approx(1327, abs=80)


def test_chicago_in_early_2015(tmp_path):
    # NOAA ISD-Lite 725300, January and February in UTC-6
    with gzip.open(fetch(CHICAGO), "rt") as file:
        table = np.array([[int(part) for part in line.split()] for line in file], dtype=float)
    table[table == -9999] = np.nan
    at = [datetime(*(int(part) for part in row[:4]), tzinfo=UTC) for row in table]
    start = datetime(2015, 1, 1, 6, tzinfo=UTC)
    hour = np.array([(moment - start).total_seconds() / 3600 for moment in at])
    wanted = np.arange(59 * 24)
    air, wind = (
        np.interp(wanted, hour[~np.isnan(v)], v[~np.isnan(v)]) / 10 for v in (table[:, 4], table[:, 8])
    )
    rows = simulated(
        tmp_path,
        start,
        {"air_c": air, "wind_ms": wind, "cloud_frac": np.full(air.size, 0.5)},
        *("--water-mm", 3000, "--latitude", 41.98, "--longitude", -87.91, "--albedo", 0.5),
    )
    closes(rows)
    in_the_corridor(rows, air)


def test_helsinki_in_a_typical_january_and_february(tmp_path):
    # IWEC typical year, read for the test and not kept; its own radiation
    table = np.genfromtxt(fetch(HELSINKI), delimiter=",", skip_header=8, usecols=(6, 8, 12, 13, 21))[
        : 59 * 24
    ]
    air, humid, sky, sun, wind = table.T
    columns = {
        "air_c": air,
        "humidity_frac": humid / 100,
        "longwave_wm2": sky,
        "shortwave_wm2": sun,
        "wind_ms": wind,
    }
    rows = simulated(tmp_path, datetime(2026, 1, 1, tzinfo=UTC), columns, "--water-mm", 3000, "--albedo", 0.5)
    closes(rows)
    in_the_corridor(rows, air)
