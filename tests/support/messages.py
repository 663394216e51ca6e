"""Messages for tests."""

import datetime as dt
from typing import Any
from uuid import UUID, uuid4

from rinklog.crew.models import Person
from rinklog.crew.tokens import token_of
from rinklog.telling.models import Message
from rinklog.telling.services import Wanted, make_calendar_link, tell, wish
from rinklog.telling.stopping import stop_token
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


def a_message(cast: Cast) -> UUID:
    """A message to one of the first rink's crew."""
    tell_one(cast, cast.ada)
    return Message.objects.get(person=cast.ada).id


def a_calendar(cast: Cast) -> str:
    """The token of Cleo's calendar link."""
    return token_of(make_calendar_link(person=cast.cleo, rink=cast.rink, what="mine", now=NOW).id)


def a_stop(cast: Cast) -> str:
    """The token of the link that stops Cleo's mail."""
    wish(person=cast.cleo, wanted=Wanted(by_mail=True, mail_address="cleo@rimvinkel.example"))
    return stop_token(person=cast.cleo, address="cleo@rimvinkel.example")
