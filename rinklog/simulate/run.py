"""From checked rows to marched rows: what the file does not say is assumed aloud, gaps are folded back."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

import numpy as np

from rinklog.physics.column import Action, Column, Record, Weather, march
from rinklog.physics.column.marching import CLOSURE, FLUXES, STATES
from rinklog.physics.column.state import Floats
from rinklog.physics.sun import haurwitz_wm2, position
from rinklog.simulate.options import settings_of
from rinklog.simulate.weather_file import UNUSED, WeatherRows

COLUMNS = (
    *("time", "ice_mm", "white_ice_mm", "water_mm", "snow_mm", "slush_mm", "surface_c"),
    *FLUXES,
    *("energy_residual_wm2", "mass_residual_mm"),
)
SUN_LOOKS = 4
"""How often the clear-sky sun is looked at within a step."""


def simulate(
    rows: WeatherRows, actions: Sequence[Action], options: argparse.Namespace
) -> tuple[list[dict[str, str | float]], list[str]]:
    """March the column through the rows of a file.

    Arguments: rows, actions, options. Returns: one dict of COLUMNS a row of the file, and warnings.
    """
    settings = settings_of(options)
    weather, warnings = _weather(rows, options)
    measured = "snow_m" in rows.values
    if measured and options.snow_mm:
        warnings.append("--snow-mm is left out: the file's snow_m is a measured depth")
    if measured and any(a.kind == "clear-snow" for a in actions):
        warnings.append("clear-snow does nothing: the file's snow_m is a measured depth")
    column = Column.start(
        settings,
        ice_m=options.ice_mm / 1000,
        water_m=options.water_mm / 1000,
        coat_m=options.coat_mm / 1000,
        snow_m=0.0 if measured else options.snow_mm / 1000,
        ice_c=options.ice_c,
    )
    _, record = march(column, weather, settings, actions=actions, step_s=options.step_minutes * 60)
    return _fold(rows, record), warnings


def _weather(rows: WeatherRows, options: argparse.Namespace) -> tuple[Weather, list[str]]:
    values = rows.values
    warnings = [f"{name} is read and not used" for name in UNUSED if name in values]
    if options.surface == "energy":
        assumed = {"humidity_frac": "0.8", "cloud_frac": "0, a clear sky"}
        warnings += [
            f"{name} is absent: taken as {what}" for name, what in assumed.items() if name not in values
        ]
    if "wind_ms" not in values and options.exchange_wm2k is None:
        warnings.append("wind_ms is absent: taken as 2 m/s")
    sun, words = _sun(rows, options)
    weather = Weather(
        hold_s=rows.hold_s,
        air_c=values["air_c"],
        humidity_frac=values.get("humidity_frac", 0.8),
        wind_ms=values.get("wind_ms", 2.0),
        cloud_frac=values.get("cloud_frac", 0.0),
        sun_wm2=sun,
        longwave_wm2=values.get("longwave_wm2"),
        pressure_pa=values.get("pressure_pa", 101_325.0),
        precip_kgm2=values.get("precip_mm", 0.0),
        snow_m=values.get("snow_m"),
    )
    return weather, warnings + words


def _sun(rows: WeatherRows, options: argparse.Namespace) -> tuple[Floats | float, list[str]]:
    """Sun of the file, else a clear sky's dimmed by cloud (Kasten & Czeplak 1980), else none."""
    if "shortwave_wm2" in rows.values:
        return rows.values["shortwave_wm2"], []
    if options.latitude is None:
        dark = options.surface == "energy"
        return 0.0, ["shortwave_wm2 and --latitude are absent: no sun is marched"] if dark else []
    looks = (np.arange(SUN_LOOKS) + 0.5) / SUN_LOOKS
    total = np.zeros(len(rows.unix_s))
    for look in looks.tolist():
        seen = position(rows.unix_s + look * rows.hold_s, options.latitude, options.longitude)
        total += np.asarray(haurwitz_wm2(np.clip(seen.zenith_deg, 0, 180)))
    cloud = rows.values.get("cloud_frac", np.zeros(1))
    return total / SUN_LOOKS * (1 - 0.75 * cloud**3.4), []


def _fold(rows: WeatherRows, record: Record) -> list[dict[str, str | float]]:
    """One row a row of the file: the state at the end of its last step, means over all of them."""
    last = np.append(np.flatnonzero(np.diff(rows.owner)), len(rows.owner) - 1)
    spans = np.bincount(rows.owner, rows.hold_s)
    columns: dict[str, Floats] = {}
    for name in STATES:
        scale = 1.0 if name == "surface_c" else 1000.0
        columns[name if scale == 1 else name.removesuffix("_m") + "_mm"] = record[name][last, 0] * scale
    for name in (*FLUXES, CLOSURE[0]):
        columns[name] = np.bincount(rows.owner, record[name][:, 0] * rows.hold_s) / spans
    columns["mass_residual_mm"] = np.asarray(np.bincount(rows.owner, record[CLOSURE[1]][:, 0]), dtype=float)
    tidy = {name: (np.round(column, 6) + 0.0).tolist() for name, column in columns.items()}
    return [
        {"time": time, **{name: tidy[name][at] for name in COLUMNS[1:]}} for at, time in enumerate(rows.times)
    ]
