"""Everything that stays constant during a march, with its default and where that comes from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from rinklog.physics import constants as c


@dataclass(frozen=True)
class Settings:
    """Material constants and choices of one march; every default is sourced in constants or here."""

    freezing_c: float = 0.0
    k_ice_wmk: float = c.K_ICE_WMK
    rho_ice_kgm3: float = c.RHO_ICE_KGM3
    c_ice_jkgk: float = c.C_ICE_JKGK
    latent_jkg: float = c.LATENT_JKG
    rho_water_kgm3: float = c.RHO_WATER_KGM3
    c_water_jkgk: float = c.C_WATER_JKGK
    k_water_wmk: float = c.K_WATER_WMK
    k_mixed_wmk: float = 50.0
    """Effective conductivity of water that is free to turn over [W/m/K]: large, so that it is well mixed."""

    surface: Literal["energy", "air"] = "energy"
    exchange_wm2k: float | None = None
    """Fixed exchange with the air [W/m²/K]; None takes it from the wind."""
    transfer: float = 1.5e-3
    """Transfer coefficient for heat and vapour [1]: 1.2-2.0e-3 over ice, from memory."""
    emissivity: float = c.EMISSIVITY_ICE
    albedo: float | None = None
    """Fixed albedo of anything but a cover [1]; None takes it from what lies on top."""

    snow_k_wmk: float | None = None
    """Fixed conductivity of snow [W/m/K]; None takes Sturm et al. 1997 at the snow's density."""
    measured_snow_kgm3: float = 300.0
    """Density that measured snow is taken to have when its conductivity is not given: settled snow."""
    snow_holds_frac: float = 0.05
    """Water that snow holds against gravity, of its ice [kg/kg]: 0.02-0.08, from memory."""
    slush_solid_frac: float = 0.5
    """Snow that falls on water stays slush up to this share of grains [kg/kg]; more lies on top as snow."""

    cover_albedo: float = c.ALBEDO["dark cover"]
    cover_emissivity: float = c.EMISSIVITY_COVER
    cover_contact_m2kw: float = 0.04
    """Still air under a cover [m²K/W]: 1 mm, from memory."""
    ground_c: float | None = None
    """Temperature right below the column [°C]; None lets no heat through the base."""
    vapour_mass: bool = True
    """False keeps the mass that goes with latent heat (only to compare with a solver on a fixed grid)."""
    phase_change: bool = True
    """False leaves freezing, thaw and wet snow out (only to measure what they cost)."""
