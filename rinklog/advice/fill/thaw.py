"""The outlook to the thaw: degree-days above freezing in the forecast, against the ice there is."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from rinklog.advice.fill.sky import Day, Sky
from rinklog.physics.constants import RHO_ICE_KGM3
from rinklog.physics.melt import thaw_water_m

# Melt of water a degree-day, of ice: 5.5 to 9 mm, upper values in low sun (Hock 2003, the range that the calculator
# "thaw" names); its middle.
MELT_MM = (5.5, 7.0, 9.0)


@dataclass(frozen=True)
class Thaw:
    """What mild hours would take: degree-days [°C d], ice lost [m of ice] by a low, middle and high melt, and when."""

    degree_days: float
    mild_hours: int
    lost_m: tuple[float, float, float]
    # When the thinnest ice is down to the least that people skate on, by the same three; None: not in this forecast.
    too_thin_at: tuple[dt.datetime | None, dt.datetime | None, dt.datetime | None]
    starts_at: dt.datetime | None


def outlook(skies: Sequence[Sky], ice_m: float, least_m: float) -> Thaw:
    """How far the forecast would melt ice of a thickness.

    Arguments: skies hours in order, ice_m thinnest ice now [m], least_m least before people skate [m]. Returns: Thaw.
    Validity: degree-days know no sun, rain or wind; the marched estimate does, and comes first where there is one.
    """
    mild = [sky for sky in skies if sky.air_c is not None and sky.air_c > 0]
    total = sum((sky.air_c or 0.0) / 24 for sky in mild)
    lost = tuple(melted_m(rate, total) for rate in MELT_MM)
    thin = tuple(_too_thin(mild, rate, ice_m - least_m) for rate in MELT_MM)
    starts = mild[0].at if mild else None
    return Thaw(total, len(mild), lost, thin, starts)  # type: ignore[arg-type]


def melted_m(rate_mm: float, degree_days: float) -> float:
    """Ice melted [m] by degree-days [°C d] at a rate [mm of water a degree-day]."""
    return float(thaw_water_m(rate_mm, degree_days)) * 1000 / RHO_ICE_KGM3


def _too_thin(mild: Sequence[Sky], rate_mm: float, spare_m: float) -> dt.datetime | None:
    total = 0.0
    if spare_m <= 0:
        return None  # it is too thin already: no thaw makes it so
    for sky in mild:
        total += (sky.air_c or 0.0) / 24
        if melted_m(rate_mm, total) >= spare_m:
            return sky.at
    return None


def mild_days(days: Sequence[Day]) -> list[Day]:
    """The days whose warmest hour is above freezing."""
    return [day for day in days if day.high_c > 0]
