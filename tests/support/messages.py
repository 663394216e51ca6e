"""Messages for tests."""

import datetime as dt
from typing import Any
from uuid import uuid4

from rinklog.crew.models import Person
from rinklog.telling.services import tell
from tests.support.cast import NOW, Cast


def tell_one(cast: Cast, *people: Person, now: dt.datetime = NOW, **content: Any) -> int:
    """Tell people that a night needs them, or as told."""
    values: dict[str, Any] = {
        "kind": "shift-offered",
        "text": "Thursday evening needs two people.",
        "url": f"/r/{cast.rink.slug}/log/",
        "key": f"shift {uuid4()}",
    }
    return tell(rink=cast.rink, people=people, now=now, **(values | content))
