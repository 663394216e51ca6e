"""What people are told about places on shifts: asked, taken over, given back, taken off; each thing once."""

import datetime as dt
from collections.abc import Iterable

from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.plan.models import Shift, ShiftPlace
from rinklog.plan.saying import of_shift


def offered(*, shift: Shift, person: Person, giver: Person, key: str, now: dt.datetime) -> None:
    """Somebody asks a person to take their place."""
    of_shift(
        shift=shift, people=[person], kind="shift-offered", key=key, now=now,
        sentence=lambda: _("{name} asks you to take over: %(shift)s.").format(name=plain(giver)),
    )  # fmt: skip


def handed_back(*, place: ShiftPlace, coordinators: list[Person], now: dt.datetime) -> None:
    """Somebody is off the crew; their shifts are open again."""
    shift, person = place.shift, place.person
    of_shift(
        shift=shift, people=[person], kind="shift-handed-back", key=f"handed back {place.id}", now=now,
        sentence=lambda: _("You are off the crew, so somebody else will do: %(shift)s."),
    )  # fmt: skip
    name = plain(person)
    of_shift(
        shift=shift, people=coordinators, kind="shift-handed-back", key=f"handed back {place.id}", now=now,
        sentence=lambda: _("{name} is off the crew; a place is open again: %(shift)s.").format(name=name),
    )  # fmt: skip


def given_back(*, place: ShiftPlace, coordinators: Iterable[Person], now: dt.datetime) -> None:
    """Somebody gave a place back so late that whoever runs the crew must know."""
    name = plain(place.person)
    of_shift(
        shift=place.shift, people=coordinators, kind="shift-handed-back", key=f"given back {place.id}", now=now,
        sentence=lambda: _("{name} cannot come after all; a place is open again: %(shift)s.").format(name=name),
    )  # fmt: skip


def taken_off(*, place: ShiftPlace, now: dt.datetime) -> None:
    """A coordinator took somebody off a shift."""
    of_shift(
        shift=place.shift, people=[place.person], kind="shift-taken-off", key=f"taken off {place.id}", now=now,
        sentence=lambda: _("You need not come, somebody took you off: %(shift)s."),
    )  # fmt: skip


def taken_over(*, place: ShiftPlace, by: Person, now: dt.datetime) -> None:
    """Whoever was asked takes the place over."""
    name = plain(by)
    of_shift(
        shift=place.shift, people=[place.person], kind="shift-taken", key=f"taken over {place.id}", now=now,
        sentence=lambda: _("{name} takes over from you: %(shift)s.").format(name=name),
    )  # fmt: skip


def declined(*, place: ShiftPlace, by: Person, now: dt.datetime) -> None:
    """Whoever was asked says no."""
    name = plain(by)
    of_shift(
        shift=place.shift, people=[place.person], kind="shift-taken", key=f"declined {place.id} {by.id}", now=now,
        sentence=lambda: _("{name} cannot take over, so it stays yours: %(shift)s.").format(name=name),
    )  # fmt: skip


def plain(person: Person) -> str:
    """A name as it may stand in a sentence that still has a place to fill."""
    return person.name.replace("%", "%%")
