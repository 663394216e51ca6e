"""What a forecast provider's answer becomes, and what makes an answer useless."""

import datetime as dt
import json
from dataclasses import dataclass
from typing import Any

from rinklog.weather.hours import Parsed, plausible


class AnswerError(Exception):
    """The answer cannot be used; the sentence says why. The last good forecast is kept."""


@dataclass(frozen=True)
class Forecast:
    """A parsed forecast: its hours, when it was made, and how long it may be used without asking again."""

    parsed: Parsed
    made_at: dt.datetime | None
    expires_at: dt.datetime | None = None


def json_object(content: bytes, provider: str) -> dict[str, Any]:
    """The JSON object of an answer. Errors: AnswerError for HTML, cut-off or other content."""
    try:
        answer = json.loads(content)
    except (ValueError, RecursionError):
        start = content[:40].decode("utf-8", errors="replace").strip()
        raise AnswerError(f"{provider} sent no JSON but {start!r}.") from None
    if not isinstance(answer, dict):
        raise AnswerError(f"{provider} sent JSON that is no object.")
    return answer


def moment(text: Any) -> dt.datetime | None:
    """An ISO-8601 time with offset as aware UTC, or None where it is none or no time of weather."""
    try:
        at = dt.datetime.fromisoformat(str(text))
    except ValueError:
        return None
    return at.astimezone(dt.UTC) if at.tzinfo and plausible(at) else None


def number(value: Any) -> float | None:
    """A finite number, or None for anything else."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    return float(value) if abs(value) < 1e12 else None


def mapping(value: Any) -> dict[str, Any]:
    """An object of an answer, empty where something else stands."""
    return value if isinstance(value, dict) else {}


def mappings(value: Any) -> list[dict[str, Any]]:
    """The objects of a list of an answer; anything else in it is passed over."""
    return [item for item in value if isinstance(item, dict)] if isinstance(value, list) else []
