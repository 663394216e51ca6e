"""Asking `compute` as a person would: a good line for every calculator, and how to run or be refused."""

from __future__ import annotations

import io
import json
from typing import Any

from rinklog.calculators.cli import main

GOOD = {
    "freeze-front": "drop_k=10 hours=24",
    "ice-growth": "air_c=-10 exchange_wm2k=20 hours=24",
    "coat-freeze": "water_mm=4.58 air_c=-10 exchange_wm2k=20",
    "degree-days": "coefficient_cm=2.7262 degree_days_c=166.6667",
    "humid-air": "air_c=20 humidity_frac=0.5",
    "sky": "air_c=-10 humidity_frac=0.7",
    "surface-exchange": "air_c=-10 surface_c=0 wind_ms=4 humidity_frac=0.7 transfer=1.5e-3",
    "sun": "latitude=39.742476 longitude=-105.1786 time=2003-10-17T12:30:30-07:00 altitude_m=1830.14"
    " pressure_pa=82000 air_c=11",
    "snow-properties": "density_kgm3=300",
    "snow-on-ice": "ice_mm=200 snow_mm=200 snow_density_kgm3=200",
    "wind-chill": "air_c=-20 wind_kmh=30",
    "bearing": "clear_mm=80 white_mm=60",
    "drift": "wind_ms=10 fetch_m=500 snow_water_mm=100 air_c=-5",
    "fence": "height_m=1.2",
    "basin": "length_m=40 width_m=20 fall_long=0.01 depth_low_m=0.2",
    "board-load": "depth_m=0.3",
    "hose": "length_m=30.48 diameter_mm=19.05 flow_ls=0.630902",
    "fill-time": "volume_m3=50 flow_ls=0.630902",
    "liner": "length_m=20 width_m=10 board_m=0.5 depth_m=0.3",
    "hold": "data=@{spells}",
    "cover-melt": "sun_wm2=400 longwave_down_wm2=230 exchange_wm2k=15 air_c=-5 contact_m2kw=0.02",
    "pour": "water_c=60 ice_c=-5 litres=2 area_m2=0.5",
    "torch": "power_kw=30 area_m2=10 depth_mm=2",
    "circle": "radius_m=8.5",
    "corner": "radius_m=5 spacing_m=2",
    "thaw": "degree_day_mm=5 thaw_degree_days_c=4",
}


def run(*argv: str) -> tuple[int, str, str]:
    out, err = io.StringIO(), io.StringIO()
    return main(argv, out, err), out.getvalue(), err.getvalue()


def refused(*argv: str) -> str:
    status, out, err = run(*argv)
    assert (status, out) == (2, "")
    assert err.endswith("\n")
    assert err.count("\n") == 1
    assert "permitted: " in err
    assert "Traceback" not in err
    return err


def answered(name: str, typed: str) -> dict[str, Any]:
    status, out, err = run(name, *typed.split(), "--json")
    assert (status, err) == (0, "")
    answer: dict[str, Any] = json.loads(out)
    assert set(answer) == {"name", "inputs", "results", "source", "caution"}
    assert answer["name"] == name
    assert answer["source"]
    return answer
