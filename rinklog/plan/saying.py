"""What people are told about shifts, each in their own language, each thing once."""

import datetime as dt
from collections.abc import Callable, Iterable
from zoneinfo import ZoneInfo

from django.utils.translation import gettext as _
from django.utils.translation import ngettext, override

from rinklog.crew.models import Person
from rinklog.dates import written
from rinklog.plan.addresses import hand_over_path, on_ice_path, permissions_path, shift_path
from rinklog.plan.models import HandOver, OnIce, Permission, Shift
from rinklog.plan.words import name_of, when
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


def called_off(*, shift: Shift, people: Iterable[Person], reason: str, now: dt.datetime) -> None:
    """A shift is called off."""
    why = reason.replace("%", "%%")
    of_shift(
        shift=shift, people=people, kind="shift-called-off", key=f"off {shift.id}", now=now, urgent=True,
        sentence=lambda: _("Called off: %(shift)s. {reason}").format(reason=why).strip(),
    )  # fmt: skip


def moved(*, shift: Shift, people: Iterable[Person], was: dt.datetime, now: dt.datetime) -> None:
    """A shift has another time than it had."""
    zone = ZoneInfo(shift.rink.time_zone)
    of_shift(
        shift=shift, people=people, kind="shift-moved", key=f"moved {shift.id} {shift.changed}", now=now,
        urgent=True, sentence=lambda: _("Moved: %(shift)s, before that {was}.").format(was=when(was, zone)),
    )  # fmt: skip


def not_off_the_ice(*, stay: OnIce, people: Iterable[Person], now: dt.datetime) -> None:
    """Somebody meant to be off the ice and is not."""
    zone = ZoneInfo(stay.rink.time_zone)
    say(
        rink=stay.rink,
        people=people,
        kind="off-ice-alarm",
        text=lambda: (
            _("%(name)s meant to be off the ice by %(when)s and is not. Call or go and look.")
            % {"name": stay.person.name, "when": when(stay.off_by, zone)}
        ),
        url=on_ice_path(stay.rink),
        key=f"off ice {stay.id} {stay.off_by:%Y%m%dT%H%M}",
        now=now,
        urgent=True,
    )


def questioned(*, shift: Shift, people: Iterable[Person], decides: bool, key: str, now: dt.datetime) -> None:
    """The forecast has turned against a shift: some decide, the others on it hear that it is open."""
    of_shift(
        shift=shift, people=people, kind="shift-questioned", key=key, now=now,
        sentence=lambda: _("The forecast has turned: %(shift)s. Keep it, move it, or call it off.")
        if decides
        else _("The forecast has turned: %(shift)s. A coordinator decides; you will hear."),
    )  # fmt: skip


def kept(*, shift: Shift, people: Iterable[Person], key: str, now: dt.datetime) -> None:
    """Somebody decided that a questioned shift takes place."""
    of_shift(
        shift=shift, people=people, kind="shift-questioned", key=key, now=now,
        sentence=lambda: _("It takes place in spite of the forecast: %(shift)s."),
    )  # fmt: skip


def unfilled(*, shift: Shift, people: Iterable[Person], lacking: int, key: str, now: dt.datetime) -> None:
    """A shift comes up and lacks people."""
    of_shift(
        shift=shift, people=people, kind="shift-unfilled", key=key, now=now,
        sentence=lambda: ngettext(
            "One person is still missing: %(shift)s.", "{n} people are still missing: %(shift)s.", lacking
        ).replace("{n}", str(lacking)),
    )  # fmt: skip


def asked_for(*, shift: Shift, people: Iterable[Person], now: dt.datetime) -> None:
    """A shift needs somebody; these could come."""
    of_shift(
        shift=shift, people=people, kind="shift-offered", now=now,
        key=f"needs people {shift.id} {shift.starts_at:%Y%m%dT%H%M}",
        sentence=lambda: _("Somebody is needed, and you could come: %(shift)s."),
    )  # fmt: skip


def reminded(*, shift: Shift, people: Iterable[Person], leads: bool, now: dt.datetime) -> None:
    """A shift of one's own comes up; who leads also calls it off when it is not cold."""
    of_shift(
        shift=shift, people=people, kind="shift-reminder", key=f"soon {shift.id} {shift.changed}", now=now,
        sentence=lambda: _("You lead: %(shift)s. Call it off if it is not cold.")
        if leads
        else _("Soon: %(shift)s."),
    )  # fmt: skip


def running_out(*, permission: Permission, people: Iterable[Person], now: dt.datetime) -> None:
    """A permission runs out."""
    say(
        rink=permission.rink,
        people=people,
        kind="permission-expires",
        text=lambda: (
            _("%(name)s: “%(what)s” runs out on %(day)s.")
            % {
                "name": permission.person.name,
                "what": permission.get_what_display(),
                "day": written(permission.until, "j M Y") if permission.until else "",
            }
        ),
        url=permissions_path(permission.rink),
        key=f"runs out {permission.id} {permission.until}",
        now=now,
    )


def handed_over(
    *, hand_over: HandOver, people: Iterable[Person], text: Callable[[], str], now: dt.datetime
) -> None:
    """The shift before has written down what the next one must know."""
    say(
        rink=hand_over.rink,
        people=people,
        kind="handed-over",
        text=lambda: text() % {"name": hand_over.by.name},
        url=hand_over_path(hand_over),
        key=f"hand-over {hand_over.id}",
        now=now,
    )
