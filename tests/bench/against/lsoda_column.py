"""The other side of `march-against-lsoda`: one column as an ODE in enthalpy, the textbook's method, scipy's LSODA."""

import numpy as np
from scipy.integrate import solve_ivp

K, RHO, LATENT, C_ICE, C_WATER = 2.22, 917.0, 333_400.0, 2090.0, 4190.0


def ice_m(weather, member, depth_m, cells=20, rtol=1e-4):
    """Ice [m] after the weather of one column (a dict of arrays by hour), from standing water at freezing."""
    size = np.geomspace(1, 8, cells)
    mass = size / size.sum() * depth_m * 1000
    latent = LATENT * mass

    def change(t, heat):
        hour = min(int(t // 3600), len(weather["sun"]) - 1)
        above = np.minimum(heat, 0) / (C_ICE * mass) + np.maximum(heat - latent, 0) / (C_WATER * mass)
        half, top = mass / RHO / K / 2, above[0]
        air, sky, vapour = (weather[name][hour, member] for name in ("air", "sky", "vapour"))
        turbulent = 101_325 / 287.05 / (air + 273.15) * 1.5e-3 * weather["wind"][hour]
        a, b, lv = (22.46, 272.62, 2.835e6) if heat[0] < latent[0] else (17.62, 243.12, 2.501e6)
        carry = turbulent * lv * 0.622 / 101_325
        for _ in range(3):
            pressure, black = 611.2 * np.exp(a * top / (b + top)), 0.97 * 5.670374e-8 * (top + 273.15) ** 3
            gain = 0.6 * weather["sun"][hour] + 0.97 * sky - black * (top + 273.15)
            gain += turbulent * 1005 * (air - top) + carry * (vapour - pressure)
            slope = 4 * black + turbulent * 1005 + carry * pressure * a * b / (b + top) ** 2
            top = min((above[0] + (gain + slope * top) * half[0]) / (1 + slope * half[0]), max(above[0], 0.0))
            top = min(max(top, -80.0), 60.0)
        flux = (above[:-1] - above[1:]) / (half[:-1] + half[1:] + 1e-6)
        return np.concatenate([[gain], flux]) - np.concatenate([flux, [0.0]])

    found = solve_ivp(
        change, (0, 3600.0 * len(weather["sun"])), latent, "LSODA", rtol=rtol, atol=100, lband=1, uband=1
    )
    return float((np.clip(1 - found.y[:, -1] / latent, 0, 1) * mass).sum() / RHO)
