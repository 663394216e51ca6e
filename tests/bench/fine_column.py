"""A reference for freezing from the top that neither side shares: the ice stretched to a grid that follows the front.

The front is a state of its own (Landau's transformation, Crank 1984 ch. 5), so nothing steps from cell to cell;
marched by LSODA hour by hour to 1e-8. It is good while the surface stays below freezing, which it checks.
"""

import numpy as np
from scipy.integrate import solve_ivp

K, RHO, LATENT, C_ICE = 2.22, 917.0, 333_400.0, 2090.0
NODES = 60
FIRST_M = 1e-5
"""Ice that the reference begins with, at the time at which it has frozen."""


def ice_m(weather: dict[str, np.ndarray], member: int) -> float:
    """Ice [m] at the end of the weather of one column, from deep water at freezing."""
    step = 1 / NODES
    place = np.linspace(0, 1, NODES + 1)
    hour = 0

    def weathered(top: float) -> tuple[float, float]:
        """Heat from the weather to a surface of that temperature [W/m²], and how steeply it falls."""
        air, wind = weather["air"][hour, member], weather["wind"][hour]
        turbulent = 101_325 / 287.05 / (air + 273.15) * 1.5e-3 * wind
        carry = turbulent * 2.835e6 * 0.622 / 101_325
        pressure = 611.2 * np.exp(22.46 * top / (272.62 + top))
        black = 0.97 * 5.670374e-8 * (top + 273.15) ** 3
        gain = 0.6 * weather["sun"][hour] + 0.97 * weather["sky"][hour, member] - black * (top + 273.15)
        gain += turbulent * 1005 * (air - top) + carry * (weather["vapour"][hour, member] - pressure)
        return gain, 4 * black + turbulent * 1005 + carry * pressure * 22.46 * 272.62 / (272.62 + top) ** 2

    def surface(inside: np.ndarray, ice: float) -> float:
        """Temperature that balances the weather with conduction to second order [°C]."""
        top = inside[0]
        for _ in range(30):
            gain, steep = weathered(top)
            gain += K / ice * (-3 * top + 4 * inside[0] - inside[1]) / (2 * step)
            change = gain / (steep + 1.5 * K / ice / step)
            top += change
            if abs(change) < 1e-11:
                break
        assert top < 0, "the reference holds for a surface below freezing"
        return float(top)

    def change(_: float, state: np.ndarray) -> np.ndarray:
        ice, inside = state[0], state[1:]
        full = np.concatenate([[surface(inside, ice)], inside, [0.0]])
        speed = K / (RHO * LATENT) / ice * (-4 * full[-2] + full[-3]) / (2 * step)
        slope = (full[2:] - full[:-2]) / (2 * step)
        bend = (full[2:] - 2 * full[1:-1] + full[:-2]) / step**2
        moved = place[1:-1] * speed / ice * slope
        return np.concatenate([[speed], K / (RHO * C_ICE) / ice**2 * bend + moved])

    state = np.zeros(NODES)
    gain, _ = weathered(0.0)
    state[0], state[1:] = FIRST_M, gain * FIRST_M / K * (1 - place[1:-1])
    begin_s = -RHO * LATENT * FIRST_M / gain
    for at in range(len(weather["sun"])):
        hour = at
        state = solve_ivp(change, (begin_s, 3600.0), state, "LSODA", rtol=1e-8, atol=1e-9).y[:, -1]
        begin_s = 0.0
    return float(state[0])
