"""Material constants and their sources; every formula takes them as arguments with these defaults."""

from __future__ import annotations

from typing import Final

ZERO_C_K: Final = 273.15
"""0 °C in kelvin (definition)."""

K_ICE_WMK: Final = 2.22
"""Conductivity of ice at 0 °C [W/m/K]: FAO ice manual (1.91 kcal/m/h/K); others 2.07-2.24, so allow ±4 %."""
RHO_ICE_KGM3: Final = 917.0
"""Density of ice at 0 °C [kg/m³]: IAPWS R10-06 gives 916.72."""
C_ICE_JKGK: Final = 2090.0
"""Heat capacity of ice near 0 °C [J/kg/K]: IAPWS R10-06 gives 2096.7."""
LATENT_JKG: Final = 333_400.0
"""Latent heat of fusion [J/kg]: IAPWS 333 430."""

RHO_WATER_KGM3: Final = 1000.0
"""Density of rink water [kg/m³], the round value of every rule here: IAPWS-95 gives 999.84 at 0 °C."""
C_WATER_JKGK: Final = 4190.0
"""Heat capacity of water, mean 0-60 °C [J/kg/K]: IAPWS-95 gives 4219 at 0 °C, 4184 at 20 °C."""
K_WATER_WMK: Final = 0.5557
"""Conductivity of water at 0 °C [W/m/K]: IAPWS."""

SUBLIMATION_JKG: Final = 2.835e6
"""Latent heat of sublimation at 0 °C [J/kg]: IAPWS 2 834 400, rounded as the WMO does."""
EVAPORATION_JKG: Final = 2.501e6
"""Latent heat of evaporation at 0 °C [J/kg]: IAPWS 2 500 900."""

C_AIR_JKGK: Final = 1005.0
"""Heat capacity of dry air at constant pressure [J/kg/K]."""
R_AIR_JKGK: Final = 287.05
"""Gas constant of dry air [J/kg/K]."""
VAPOUR_RATIO: Final = 0.622
"""Molar mass of water over that of dry air [1]."""
PRESSURE_PA: Final = 101_325.0
"""Standard atmosphere at sea level [Pa] (definition)."""
KARMAN: Final = 0.4
"""Von Kármán's constant [1]."""
SIGMA_WM2K4: Final = 5.670374e-8
"""Stefan-Boltzmann constant [W/m²/K⁴]: CODATA 2018."""
GRAVITY_MS2: Final = 9.80665
"""Standard gravity [m/s²] (definition)."""

EMISSIVITY_ICE: Final = 0.97
"""Emissivity of ice and snow [1]: 0.97-0.99, from memory."""
EMISSIVITY_COVER: Final = 0.95
"""Emissivity of a dark plastic cover [1], from memory."""

ALBEDO: Final[dict[str, float]] = {
    "fresh snow": 0.80,
    "old snow": 0.65,
    "melting snow": 0.55,
    "ice": 0.40,
    "melting ice": 0.25,
    "water film": 0.15,
    "open water": 0.08,
    "dark cover": 0.05,
}
"""Albedo [1] within an Arctic climate textbook and the CLM 5 note; clean ice and cover from memory."""
