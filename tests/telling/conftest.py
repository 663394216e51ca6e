import datetime as dt
from collections.abc import Callable

import pytest

from rinklog.crew.models import Person
from rinklog.telling import tasks
from rinklog.telling.services import Wanted, wish
from tests.support.cast import NOW
from tests.web.conftest import cast

__all__ = ["cast"]


class Clock:
    """The time that the sender sees."""

    def __init__(self) -> None:
        self.at = NOW

    def now(self) -> dt.datetime:
        """As django.utils.timezone.now."""
        return self.at

    def send(self, at: dt.datetime | None = None) -> None:
        """Let the sender run, at a moment."""
        self.at = at or self.at
        tasks.send_waiting()


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    """A clock that the test turns by hand."""
    made = Clock()
    monkeypatch.setattr(tasks, "timezone", made)
    return made


@pytest.fixture
def by_mail() -> Callable[..., None]:
    """Call it for somebody who wants mail, at once unless told otherwise."""

    def wants(person: Person, **more: object) -> None:
        usual: dict[str, object] = {
            "by_mail": True,
            "mail_address": f"{person.login}@rimvinkel.example",
            "gather": "at-once",
            "origin": "https://rink.rimvinkel.example",
        }
        wish(person=person, wanted=Wanted(**(usual | more)))  # type: ignore[arg-type]

    return wants
