"""Records of the named cast, for tests."""

import datetime as dt
from typing import Any
from uuid import UUID, uuid4

from rinklog.crew.models import Person
from rinklog.records.models import Opening
from rinklog.records.services import Writing, set_opening
from tests.support.cast import NOW, Cast


def writing(
    cast: Cast, *, by: Person | None = None, at: dt.datetime = NOW, id: UUID | None = None, **more: Any
) -> Writing:
    """Bo (or whom you name) writes about `at`, at that moment."""
    given: dict[str, Any] = {"now": at, "rink": cast.rink} | more
    return Writing(id=id or uuid4(), at=at, by=by or cast.bo, **given)


def an_opening(
    cast: Cast, state: str = "closed", at: dt.datetime = NOW, *, id: UUID | None = None, **more: Any
) -> Opening:
    """Bo sets the rink, because of snow if no other reason is given."""
    replaces = more.pop("replaces", None)
    fields = {"reason": "snow"} | more
    return set_opening(writing=writing(cast, at=at, id=id, replaces=replaces), state=state, **fields).record
