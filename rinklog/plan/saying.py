"""What people are told about shifts, each in their own language, each thing once."""

import datetime as dt
from collections.abc import Callable, Iterable

from django.utils.translation import gettext as _
from django.utils.translation import override

from rinklog.crew.models import Person
from rinklog.plan.addresses import shift_path
from rinklog.plan.models import Shift, ShiftPlace
from rinklog.plan.words import name_of
from rinklog.rink.models import Rink
from rinklog.telling.services import tell


def say(
    *,
    rink: Rink,
    people: Iterable[Person],
    kind: str,
    text: Callable[[], str],
    url: str,
    key: str,
    now: dt.datetime,
    urgent: bool = False,
) -> None:
    """Tell each person in their language; the same key is told to a person once."""
    for person in people:
        with override(person.language):
            words = text()
        tell(rink=rink, people=[person], kind=kind, text=words, url=url, key=key, now=now, urgent=urgent)


def of_shift(
    *,
    shift: Shift,
    people: Iterable[Person],
    kind: str,
    sentence: Callable[[], str],
    key: str,
    now: dt.datetime,
    urgent: bool = False,
) -> None:
    """Tell people something about one shift: `sentence` has a place %(shift)s for it."""
    say(
        rink=shift.rink,
        people=people,
        kind=kind,
        text=lambda: sentence() % {"shift": name_of(shift)},
        url=shift_path(shift),
        key=key,
        now=now,
        urgent=urgent,
    )


def assigned(*, shift: Shift, person: Person, place_id: object, now: dt.datetime) -> None:
    """A coordinator put somebody on a shift."""
    of_shift(
        shift=shift, people=[person], kind="shift-assigned", key=f"assigned {place_id}", now=now,
        sentence=lambda: _("You are on: %(shift)s."),
    )  # fmt: skip


def offered(*, shift: Shift, person: Person, giver: Person, key: str, now: dt.datetime) -> None:
    """Somebody asks a person to take their place."""
    of_shift(
        shift=shift, people=[person], kind="shift-offered", key=key, now=now,
        sentence=lambda: _("{name} asks you to take over: %(shift)s.").format(name=giver.name.replace("%", "%%")),
    )  # fmt: skip


def called_off(*, shift: Shift, people: Iterable[Person], reason: str, now: dt.datetime) -> None:
    """A shift is called off."""
    why = reason.replace("%", "%%")
    of_shift(
        shift=shift, people=people, kind="shift-called-off", key=f"off {shift.id}", now=now, urgent=True,
        sentence=lambda: _("Called off: %(shift)s. {reason}").format(reason=why).strip(),
    )  # fmt: skip


def moved(*, shift: Shift, people: Iterable[Person], was: str, now: dt.datetime) -> None:
    """A shift has another time."""
    of_shift(
        shift=shift, people=people, kind="shift-moved", key=f"moved {shift.id} {shift.changed}", now=now,
        urgent=True, sentence=lambda: _("Moved: %(shift)s, before that {was}.").format(was=was),
    )  # fmt: skip


def handed_back(*, place: ShiftPlace, coordinators: list[Person], now: dt.datetime) -> None:
    """Somebody is off the crew; their shifts are open again."""
    shift, person = place.shift, place.person
    of_shift(
        shift=shift, people=[person], kind="shift-handed-back", key=f"handed back {place.id}", now=now,
        sentence=lambda: _("You are off the crew, so somebody else will do: %(shift)s."),
    )  # fmt: skip
    name = person.name.replace("%", "%%")
    of_shift(
        shift=shift, people=coordinators, kind="shift-handed-back", key=f"handed back {place.id}", now=now,
        sentence=lambda: _("{name} is off the crew; a place is open again: %(shift)s.").format(name=name),
    )  # fmt: skip
