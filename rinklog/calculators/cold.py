"""Cold and wind: humid air, the sky, exchange with the surface, the sun, wind chill."""

from __future__ import annotations

from datetime import datetime

from rinklog.calculators.declare import AIR, HUMIDITY, PRESSURE, Calculator, Group, Key, Result, Results
from rinklog.physics import air, radiation, sun, surface
from rinklog.physics import wind_chill as chill
from rinklog.physics.constants import SUBLIMATION_JKG
from rinklog.units import gettext_noop

WIND = Key("wind_ms", "m/s", gettext_noop("wind"), 0, 60)
WMO = "WMO No. 8, annex 4.B (Magnus curves)"


def humid_air(air_c: float, humidity_frac: float, pressure_pa: float) -> Results:
    """Vapour, dew and frost point, and wet bulb of air."""
    vapour = air.vapour_pa(air_c, humidity_frac)
    stull = -20 <= air_c <= 50 and 0.05 <= humidity_frac <= 0.99
    moist = vapour >= 0.01
    return {
        "saturation_water_pa": air.saturation_water_pa(air_c),
        "saturation_ice_pa": air.saturation_ice_pa(air_c),
        "vapour_pa": vapour,
        "dew_point_c": air.dew_point_c(vapour) if moist else None,
        "frost_point_c": air.frost_point_c(vapour) if moist else None,
        "wet_bulb_c": air.wet_bulb_c(air_c, humidity_frac, pressure_pa),
        "wet_bulb_stull_c": air.wet_bulb_stull_c(air_c, humidity_frac) if stull else None,
    }


def sky(air_c: float, humidity_frac: float, cloud_frac: float) -> Results:
    """Emissivity of a clear sky three ways, and long wave arriving."""
    vapour = air.vapour_pa(air_c, humidity_frac)
    return {
        "emissivity_brutsaert": radiation.emissivity_brutsaert(air_c, vapour),
        "emissivity_idso": radiation.emissivity_idso(air_c, vapour),
        "emissivity_idso_jackson": radiation.emissivity_idso_jackson(air_c),
        "longwave_down_wm2": radiation.longwave_down_wm2(air_c, vapour, cloud_frac),
    }


def surface_exchange(
    air_c: float,
    surface_c: float,
    wind_ms: float,
    humidity_frac: float,
    pressure_pa: float,
    sublimation_jkg: float,
    transfer: float | None = None,
    height_m: float = 2.0,
    roughness_m: float = 1e-3,
) -> Results:
    """Sensible and latent heat to an ice surface."""
    c = transfer if transfer is not None else surface.transfer_neutral(height_m, roughness_m)
    return {
        "sensible_wm2": surface.sensible_wm2(air_c, surface_c, wind_ms, c, pressure_pa),
        "latent_wm2": surface.latent_wm2(
            air_c, surface_c, wind_ms, humidity_frac, c, pressure_pa, sublimation_jkg
        ),
        "transfer": c,
    }


def sun_now(
    latitude: float, longitude: float, time: datetime, altitude_m: float, pressure_pa: float, air_c: float
) -> Results:
    """Where the sun stands, when it rises and sets that day, and a clear sky's light."""
    place = sun.position(time.timestamp(), latitude, longitude, altitude_m, pressure_pa, air_c)
    day = sun.daylight(time, latitude, longitude)
    return {
        "zenith_deg": place.zenith_deg,
        "azimuth_deg": place.azimuth_deg,
        "elevation_deg": place.elevation_deg,
        "sunrise": day.sunrise,
        "sunset": day.sunset,
        "day_length_h": day.day_length_h,
        "clear_sky_wm2": sun.haurwitz_wm2(place.zenith_deg),
    }


def wind_chill(
    air_c: float | None = None,
    wind_kmh: float | None = None,
    air_f: float | None = None,
    wind_mph: float | None = None,
) -> Results:
    """Wind chill in the units asked in, and the frostbite class by the rounded °C value."""
    if air_c is not None and wind_kmh is not None:
        felt = chill.wind_chill_c(air_c, wind_kmh)
        return {"wind_chill_c": felt, "rounded": chill.rounded(felt), "frostbite": chill.frostbite(felt)}
    assert air_f is not None
    assert wind_mph is not None
    felt = chill.wind_chill_f(air_f, wind_mph)
    word = chill.frostbite((felt - 32) / 1.8)
    return {"wind_chill_f": felt, "rounded": chill.rounded(felt), "frostbite": word}


HUMID_AIR = Calculator(
    "humid-air",
    gettext_noop("Humid air"),
    (AIR, HUMIDITY, PRESSURE),
    (
        Result("saturation_water_pa", "Pa", gettext_noop("saturation over water")),
        Result("saturation_ice_pa", "Pa", gettext_noop("saturation over ice")),
        Result("vapour_pa", "Pa", gettext_noop("vapour pressure")),
        Result("dew_point_c", "°C", gettext_noop("dew point")),
        Result("frost_point_c", "°C", gettext_noop("frost point")),
        Result("wet_bulb_c", "°C", gettext_noop("wet bulb, over ice below 0 °C")),
        Result("wet_bulb_stull_c", "°C", gettext_noop("wet bulb by Stull's fit")),
    ),
    (WMO, "ASHRAE Fundamentals 2017 ch. 1, eq. 33 and 35", "Stull 2011"),
    gettext_noop("Stull's fit from 5 to 99 % and above -20 °C only; dry air has no dew point"),
    "e = RH · 611.2 exp(17.62 t / (243.12 + t))",
    humid_air,
)
SKY = Calculator(
    "sky",
    gettext_noop("Long wave from the sky"),
    (AIR, HUMIDITY, Key("cloud_frac", "", gettext_noop("cloud, 0 to 1"), 0, 1, 0.0)),
    (
        Result("emissivity_brutsaert", "", gettext_noop("clear sky, Brutsaert")),
        Result("emissivity_idso", "", gettext_noop("clear sky, Idso")),
        Result("emissivity_idso_jackson", "", gettext_noop("clear sky, Idso and Jackson")),
        Result("longwave_down_wm2", "W/m²", gettext_noop("long wave arriving, Brutsaert with cloud")),
    ),
    ("Brutsaert 1975", "Idso 1981", "Idso & Jackson 1969", "Sicart et al. 2006"),
    gettext_noop("in cold air the three differ by 20 %; cloud factor 1 + 0.22 c² from memory"),
    "L = 1.24 (e/T)^(1/7) (1 + 0.22 c²) σ T⁴",
    sky,
)
SURFACE_EXCHANGE = Calculator(
    "surface-exchange",
    gettext_noop("Heat between air and ice"),
    (
        AIR,
        Key("surface_c", "°C", gettext_noop("temperature of the surface"), -60, 50),
        WIND,
        HUMIDITY,
        PRESSURE,
        Key("transfer", "", gettext_noop("transfer coefficient, 1.2e-3 to 2.0e-3 usual"), 0, 0.1),
        Key("height_m", "m", gettext_noop("height of the wind"), 0.1, 100),
        Key("roughness_m", "m", gettext_noop("roughness, 1e-4 to 1e-3 on ice"), 1e-6, 0.05),
        Key(
            "sublimation_jkg",
            "J/kg",
            gettext_noop("latent heat of sublimation"),
            2.4e6,
            2.9e6,
            SUBLIMATION_JKG,
        ),
    ),
    (
        Result("sensible_wm2", "W/m²", gettext_noop("sensible heat to the surface")),
        Result("latent_wm2", "W/m²", gettext_noop("latent heat to the surface")),
        Result("transfer", "", gettext_noop("transfer coefficient used")),
    ),
    ("bulk formulas in neutral air", WMO),
    gettext_noop("no stability correction; vapour over ice; the height at least twice the roughness"),
    "H = ρ cp C u (Ta - Ts); LE = ρ Ls C u 0.622 (ea - es)/p; C = (0.4 / ln(z/z0))²",
    surface_exchange,
    ways=(("transfer",), ("height_m", "roughness_m")),
)
SUN = Calculator(
    "sun",
    gettext_noop("The sun"),
    (
        Key("latitude", "°", gettext_noop("north positive"), -90, 90),
        Key("longitude", "°", gettext_noop("east positive"), -180, 180),
        Key("time", "", gettext_noop("with its offset"), 1950, 2100, kind="time"),
        Key("altitude_m", "m", gettext_noop("height above the sea"), -500, 9000, 0.0),
        PRESSURE,
        Key("air_c", "°C", gettext_noop("air temperature, for refraction"), -60, 50, 0.0),
    ),
    (
        Result("zenith_deg", "°", gettext_noop("zenith as seen, refracted")),
        Result("azimuth_deg", "°", gettext_noop("azimuth from north through east")),
        Result("elevation_deg", "°", gettext_noop("true elevation")),
        Result("sunrise", "", gettext_noop("sunrise, UTC; none in polar night and day")),
        Result("sunset", "", gettext_noop("sunset, UTC")),
        Result("day_length_h", "h", gettext_noop("length of the day")),
        Result("clear_sky_wm2", "W/m²", gettext_noop("clear sky on the level, Haurwitz")),
    ),
    ("Reda & Andreas 2004, NREL/TP-560-34302 (largest terms)", "Haurwitz 1945"),
    gettext_noop(
        "within 0.01° of the full algorithm; sunrise over a level horizon, for the noon of that date"
    ),
    "G = 1098 cos Z exp(-0.059 / cos Z)",
    sun_now,
)
WIND_CHILL = Calculator(
    "wind-chill",
    gettext_noop("Wind chill"),
    (
        Key("air_c", "°C", gettext_noop("air temperature"), -80, 10),
        Key("wind_kmh", "km/h", gettext_noop("wind at 10 m"), 4.8, 400, above=True),
        Key("air_f", "°F", gettext_noop("air temperature"), -112, 50),
        Key("wind_mph", "mph", gettext_noop("wind at 10 m"), 3, 250, above=True),
    ),
    (
        Result("wind_chill_c", "°C", gettext_noop("wind chill")),
        Result("wind_chill_f", "°F", gettext_noop("wind chill")),
        Result("rounded", "", gettext_noop("as charts print it")),
        Result("frostbite", "", gettext_noop("time in which bare skin can freeze")),
    ),
    ("NWS and MSC 2001", "Environment and Climate Change Canada (frostbite classes)"),
    gettext_noop("air at most 10 °C, wind above 4.8 km/h; bare skin of adults"),
    "13.12 + 0.6215 T - 11.37 V^0.16 + 0.3965 T V^0.16",
    wind_chill,
    caution=gettext_noop(
        "Guidance for adults: cover skin, watch each other, nobody alone on the ice at night."
    ),
    ways=(("air_c", "wind_kmh"), ("air_f", "wind_mph")),
)
GROUP = Group(
    "cold-and-wind",
    gettext_noop("Cold and wind"),
    (HUMID_AIR, SKY, SURFACE_EXCHANGE, SUN, WIND_CHILL),
)
