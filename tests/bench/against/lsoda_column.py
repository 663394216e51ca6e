"""The other side of `march-against-lsoda`: a column as an ODE in enthalpy, fronts inside its cells, scipy's LSODA."""

import numpy as np
from scipy.integrate import solve_ivp

K, RHO, LATENT, C_ICE, C_WATER = 2.22, 917.0, 333_400.0, 2090.0, 4190.0
ON_ICE, ON_WATER = (22.46, 272.62, 2.835e6), (17.62, 243.12, 2.501e6)


def ice_m(weather, member, depth_m, cells=20, rtol=1e-4):
    """Ice [m] after the weather of one column (a dict of arrays by hour), from standing water at freezing."""
    mass = np.geomspace(1, 8, cells) / np.geomspace(1, 8, cells).sum() * depth_m * 1000
    heat, latent, whole = LATENT * mass, LATENT * mass, mass / RHO / K

    def gain(top, hour, a, b, lv):
        air, sky, vapour = (weather[name][hour, member] for name in ("air", "sky", "vapour"))
        turbulent = 101_325 / 287.05 / (air + 273.15) * 1.5e-3 * weather["wind"][hour]
        carry, black = turbulent * lv * 0.622 / 101_325, 0.97 * 5.670374e-8 * (top + 273.15) ** 3
        pressure = 611.2 * np.exp(a * top / (b + top))
        taken = 0.6 * weather["sun"][hour] + 0.97 * sky - black * (top + 273.15)
        taken += turbulent * 1005 * (air - top) + carry * (vapour - pressure)
        return taken, 4 * black + turbulent * 1005 + carry * pressure * a * b / (b + top) ** 2

    def change(_, heat, hour):
        above = np.minimum(heat, 0) / (C_ICE * mass) + np.maximum(heat - latent, 0) / (C_WATER * mass)
        ice, solid, mixed = np.clip(1 - heat / latent, 0, 1) * whole, heat <= 0, (heat > 0) & (heat < latent)
        top = min(max(above[0], -80.0), 60.0)
        hangs = np.concatenate([[gain(top, hour, *ON_WATER)[0] < 0], solid[:-1]]) & mixed
        up, down = np.where(solid, whole / 2, ice * hangs), np.where(solid, whole / 2, ice * (mixed & ~hangs))
        kind = ON_ICE if solid[0] or hangs[0] else ON_WATER
        for _ in range(4 if kind is ON_ICE else 0):
            taken, steep = gain(top, hour, *kind)
            top = min(max((above[0] + (taken + steep * top) * up[0]) / (1 + steep * up[0]), -80.0), 0.0)
        flux = (above[:-1] - above[1:]) / np.maximum(down[:-1] + up[1:], 1e-6)
        return np.concatenate([[gain(top, hour, *kind)[0]], flux]) - np.concatenate([flux, [0.0]])

    for hour in range(len(weather["sun"])):
        how = {"rtol": rtol, "atol": 100, "lband": 1, "uband": 1, "args": (hour,)}
        heat = solve_ivp(change, (0, 3600), heat, "LSODA", **how).y[:, -1]
    return float((np.clip(1 - heat / latent, 0, 1) * mass).sum() / RHO)
