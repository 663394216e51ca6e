"""What stands in the fields before anything is typed: an ordinary winter evening on an ordinary rink."""

# By calculator, then key. Only keys that would be empty otherwise; a calculator with several ways starts on one.
SAMPLES: dict[str, dict[str, float | str]] = {
    "freeze-front": {"drop_k": 10, "hours": 24},
    "ice-growth": {"start_mm": 50, "air_c": -10, "exchange_wm2k": 20, "hours": 24},
    "coat-freeze": {"water_mm": 5, "air_c": -10, "exchange_wm2k": 20},
    "degree-days": {"coefficient_cm": 2.2, "degree_days_c": 60},
    "thaw": {"degree_day_mm": 6, "thaw_degree_days_c": 5},
    "bearing": {"clear_mm": 200},
    "humid-air": {"air_c": -5, "humidity_frac": 0.8},
    "sky": {"air_c": -10, "humidity_frac": 0.7},
    "surface-exchange": {
        "air_c": -10,
        "surface_c": 0,
        "wind_ms": 4,
        "humidity_frac": 0.7,
        "transfer": 0.0015,
    },
    "wind-chill": {"air_c": -15, "wind_kmh": 20},
    "snow-properties": {"density_kgm3": 150},
    "snow-on-ice": {"ice_mm": 150, "snow_mm": 100, "snow_density_kgm3": 150},
    "drift": {"wind_ms": 12, "hours": 1},
    "fence": {"height_m": 1.2},
    "basin": {"length_m": 30, "width_m": 15, "fall_long": 0.005, "cover_m": 0.05},
    "board-load": {"depth_m": 0.3},
    "hose": {"length_m": 60, "diameter_mm": 25, "flow_ls": 0.5},
    "fill-time": {"volume_m3": 50, "flow_ls": 0.6},
    "liner": {"length_m": 30, "width_m": 15, "board_m": 0.4, "depth_m": 0.25},
    "circle": {"radius_m": 4},
    "corner": {"radius_m": 3, "spacing_m": 1},
    "cover-melt": {"sun_wm2": 400, "longwave_down_wm2": 230, "exchange_wm2k": 12, "air_c": 2, "hours": 3},
    "pour": {"water_c": 60, "litres": 10, "area_m2": 1},
    "torch": {"power_kw": 30, "area_m2": 1, "depth_mm": 2},
    "hold": {
        "data": "held_days,failed,group\n6,1,slush\n9,1,slush\n14,0,slush\n3,1,pour\n5,1,pour\n12,0,pour"
    },
}
