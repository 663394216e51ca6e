"""What a provider is, and how it is asked: an address built from a position; whoever asks adds the manners.

Positions are given with at most four decimals, about ten metres: MET Norway asks for no more, and the US service
redirects whoever writes trailing zeros.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from urllib.parse import urlencode, urlsplit

from rinklog.weather.providers.answer import AnswerError, Forecast

DECIMALS = 4


@dataclass(frozen=True)
class Place:
    """Where a forecast is for: degrees north and east, and metres above the sea where known."""

    latitude: float
    longitude: float
    altitude_m: float | None = None

    @property
    def north(self) -> str:
        """Latitude as it is sent."""
        return _short(self.latitude)

    @property
    def east(self) -> str:
        """Longitude as it is sent."""
        return _short(self.longitude)

    def __str__(self) -> str:
        return f"{self.north}, {self.east}"


@dataclass(frozen=True)
class Ask:
    """What to ask for below a provider's base address."""

    path: str
    query: dict[str, str] = field(default_factory=dict)

    def below(self, base: str) -> str:
        """The whole address."""
        return base.rstrip("/") + self.path + (f"?{urlencode(self.query, safe=',')}" if self.query else "")


@dataclass(frozen=True)
class Provider:
    """A source of forecasts. `find` is a first question whose answer holds the address of the forecast, where needed."""

    slug: str
    name: str
    base: str
    credit: str  # what its terms ask to be shown beside its data
    parse: Callable[[bytes], Forecast]
    ask: Callable[[Place], Ask]
    find: Callable[[Place], Ask] | None = None
    found: Callable[[bytes], Ask] | None = None
    needs_contact: bool = True


def path_below(address: object, folder: str, name: str) -> Ask:
    """The path of an address in an answer; the host is never taken from there. Errors: AnswerError for another folder."""
    path = urlsplit(address).path if isinstance(address, str) else ""
    if not path.startswith(folder) or ".." in path or not path.isascii() or len(path) > 200:
        raise AnswerError(
            f"{name} sent {str(address)[:80]!r} as the address of the forecast; allowed: {folder}…."
        )
    return Ask(path)


def _short(degrees: float) -> str:
    text = f"{degrees:.{DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
