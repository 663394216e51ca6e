"""Units as weather services write them, to SI. A unit that is not here is refused, never guessed."""

from rinklog.weather.hours import Convert

KELVIN_0 = 273.15


def _same(value: float) -> float:
    return value


def _times(factor: float) -> Convert:
    return lambda value: value * factor


TO_SI: dict[str, dict[str, Convert]] = {
    "temperature": {
        "celsius": _same,
        "degc": _same,
        "°c": _same,
        "c": _same,
        "degf": lambda value: (value - 32) / 1.8,
        "°f": lambda value: (value - 32) / 1.8,
        "f": lambda value: (value - 32) / 1.8,
        "k": lambda value: value - KELVIN_0,
    },
    "fraction": {"%": _times(0.01), "percent": _times(0.01), "1": _same, "fraction": _same},
    "speed": {
        "m/s": _same,
        "m_s-1": _same,
        "km/h": _times(1 / 3.6),
        "km_h-1": _times(1 / 3.6),
        "mp/h": _times(0.44704),
        "mph": _times(0.44704),
        "kn": _times(1852 / 3600),
    },
    "angle": {"degrees": _same, "degree_(angle)": _same, "°": _same},
    "pressure": {"hpa": _times(100), "pa": _same, "mbar": _times(100), "inhg": _times(3386.389)},
    "rain": {"mm": _same, "cm": _times(10), "inch": _times(25.4), "m": _times(1000)},
    "length": {
        "m": _same,
        "cm": _times(0.01),
        "mm": _times(0.001),
        "inch": _times(0.0254),
        "ft": _times(0.3048),
    },
    "flux": {"w/m²": _same, "w/m2": _same, "w_m-2": _same},
}


def converter(kind: str, unit: str) -> Convert | None:
    """The conversion of a unit to SI, or None when it is not known."""
    return TO_SI[kind].get(unit.removeprefix("wmoUnit:").removeprefix("unit:").strip().lower())
