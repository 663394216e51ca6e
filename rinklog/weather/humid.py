"""Humidity and dew point, one from the other, where a source gives only one of them."""

from rinklog.physics import air


def humidity_frac(air_c: float | None, dew_point_c: float | None) -> float | None:
    """Relative humidity over liquid water; None when either is missing or the dew point is above the air.

    Arguments: air_c, dew_point_c [°C]. Returns: [0–1]. Source: WMO No. 8 Magnus curve.
    """
    if air_c is None or dew_point_c is None or not (-80 < dew_point_c <= air_c + 0.5 and -80 < air_c < 60):
        return None
    return min(1.0, float(air.magnus_water_pa(dew_point_c) / air.magnus_water_pa(air_c)))


def dew_point_c(air_c: float | None, humidity_frac: float | None) -> float | None:
    """Dew point over liquid water [°C]; None when either is missing. Source: WMO No. 8 Magnus curve."""
    if air_c is None or humidity_frac is None or not 0.001 < humidity_frac <= 1 or not -60 < air_c < 60:
        return None
    return float(air.dew_point_c(humidity_frac * air.magnus_water_pa(air_c)))
