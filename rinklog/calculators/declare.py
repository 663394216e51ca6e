"""What a calculator is: its keys, results, sources and one function, declared once for commands and pages."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Literal, TypeAlias

from rinklog.physics import constants
from rinklog.physics.validity import span
from rinklog.units import gettext_noop

Kind = Literal["number", "choice", "time", "grid", "spells"]
Value: TypeAlias = float | str | datetime | list[Any] | None
Results: TypeAlias = dict[str, Any]
DASH = "; permitted: "


class InputError(ValueError):
    """One bad input: its key, the value as typed, and what is permitted instead."""

    def __init__(self, key: str, value: str, permitted: str) -> None:
        self.key, self.value, self.permitted = key, value, permitted
        super().__init__(f"{key} is {value}{DASH}{permitted}.")


@dataclass(frozen=True)
class Key:
    """One input: without a default it is required, unless it is part of a way or optional."""

    name: str
    unit: str
    sentence: str
    low: float = -math.inf
    high: float = math.inf
    default: float | str | None = None
    optional: bool = False
    above: bool = False
    kind: Kind = "number"
    choices: tuple[str, ...] = ()
    refused: tuple[tuple[str, str], ...] = ()
    goes_with: tuple[str, ...] = ()

    @property
    def permitted(self) -> str:
        """What may be given, in words."""
        if self.kind == "choice":
            return " or ".join(self.choices)
        if self.kind == "time":
            return gettext_noop("an ISO-8601 time with its offset, such as 2027-01-15T12:00-05:00")
        if self.kind == "grid":
            return gettext_noop("@FILE.csv of rows of numbers without a header, all of one length")
        if self.kind == "spells":
            return gettext_noop("@FILE.csv of held_days,failed[,group] with failed 1 or 0")
        if self.above:
            tail = f" {self.unit}" if self.unit else ""
            most = "" if math.isinf(self.high) else f", at most {self.high:g}"
            return f"above {self.low:g}{most}{tail}"
        return span(self.low, self.high, self.unit)

    def allows(self, value: float) -> bool:
        """Whether a number is finite and within the range."""
        if not math.isfinite(value) or value > self.high:
            return False
        return value > self.low if self.above else value >= self.low


@dataclass(frozen=True)
class Result:
    """One output; `unit` is empty for counts, words, times and lists."""

    name: str
    unit: str
    sentence: str


Run = Callable[..., Results]
Warn = Callable[[Mapping[str, Any], Results], str | None]


@dataclass(frozen=True)
class Calculator:
    """One calculator. Exactly one of `ways` must be given in full, or at least one when `several`."""

    name: str
    title: str
    keys: tuple[Key, ...]
    results: tuple[Result, ...]
    source: tuple[str, ...]
    validity: str
    formula: str
    run: Run
    caution: str | None = None
    warn: Warn | None = None
    ways: tuple[tuple[str, ...], ...] = ()
    several: bool = False

    def key(self, name: str) -> Key | None:
        """The key of a name, or None."""
        return next((key for key in self.keys if key.name == name), None)

    @property
    def way_keys(self) -> frozenset[str]:
        """Every key that belongs to some way of asking."""
        return frozenset(name for way in self.ways for name in way)


@dataclass(frozen=True)
class Group:
    """Calculators that share a set-up page."""

    slug: str
    title: str
    calculators: tuple[Calculator, ...]


K_ICE = Key("k_ice_wmk", "W/m/K", gettext_noop("conductivity of ice"), 0.5, 5, constants.K_ICE_WMK)
RHO_ICE = Key("rho_ice_kgm3", "kg/m³", gettext_noop("density of ice"), 800, 950, constants.RHO_ICE_KGM3)
LATENT = Key("latent_jkg", "J/kg", gettext_noop("latent heat of fusion"), 1e5, 4e5, constants.LATENT_JKG)
C_ICE = Key("c_ice_jkgk", "J/kg/K", gettext_noop("heat capacity of ice"), 1000, 4000, constants.C_ICE_JKGK)
PRESSURE = Key("pressure_pa", "Pa", gettext_noop("air pressure"), 30_000, 110_000, constants.PRESSURE_PA)
AIR = Key("air_c", "°C", gettext_noop("air temperature"), -60, 50)
HUMIDITY = Key("humidity_frac", "", gettext_noop("relative humidity over liquid water, 0 to 1"), 0, 1)
EXCHANGE = Key(
    "exchange_wm2k",
    "W/m²/K",
    gettext_noop("heat exchange between surface and air: 10-30 usual, more in wind"),
    1,
    1000,
)
HOURS = Key("hours", "h", gettext_noop("how long"), 0, 100_000)
COMMON_PRACTICE = gettext_noop("common practice")
