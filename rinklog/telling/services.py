"""Telling people something, and what they say about being told.

`tell` is the only entry for everybody else. Keyword-only, one transaction each, safe to call twice.
"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from uuid import uuid4
from zoneinfo import ZoneInfo

from celery import current_app
from django.db import transaction
from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.crew.tokens import hash_of, token_of
from rinklog.facts import Refused
from rinklog.rink.models import Rink
from rinklog.telling.fates import Fate
from rinklog.telling.kinds import kind_named
from rinklog.telling.models import CalendarLink, Delivery, Device, Message, Wishes
from rinklog.telling.push import is_push_service
from rinklog.telling.queries import mail_is_set_up
from rinklog.telling.quiet import after_quiet, gathered_until
from rinklog.telling.vapid import are_keys
from rinklog.upkeep.queue import soon

MOST_DEVICES = 10
SEND = "telling.send_waiting"  # by name: tasks stand above services


@dataclass(frozen=True)
class Wanted:
    """How somebody wants to be told."""

    by_mail: bool = False
    mail_address: str = ""
    gather: str = Wishes.Gather.HOUR
    quiet_from: dt.time | None = None
    quiet_to: dt.time | None = None
    origin: str = ""


@transaction.atomic
def tell(
    *,
    rink: Rink,
    people: Iterable[Person],
    kind: str,
    text: str,
    url: str,
    key: str,
    now: dt.datetime,
    urgent: bool = False,
) -> int:
    """Tell people one thing about a rink; returns how many had not been told it.

    Arguments: kind [telling/kinds.py], text [in words, in the reader's units], url [path on this site or ""], key
    [what happened: a person hears of a key once, ever], urgent [at once instead of gathered; kinds may be so by
    themselves]. Everybody gets it in the inbox; mail and push follow each person's wishes. Errors: ValueError.
    """
    sort = kind_named(kind)
    check_words(text=text, url=url, key=key)
    wanted = [
        Message(
            rink=rink,
            person=person,
            kind=kind,
            text=text,
            url=url,
            key=key,
            urgent=urgent or sort.urgent,
            made_at=now,
        )
        for person in {person.id: person for person in people}.values()
    ]
    Message.objects.bulk_create(wanted, ignore_conflicts=True)
    # Of two that tell the same at once, each goes on only with the rows it made.
    made = set(Message.objects.filter(id__in=[one.id for one in wanted]).values_list("id", flat=True))
    new = [one for one in wanted if one.id in made]
    send_out(rink=rink, messages=new, wakes=sort.wakes, now=now)
    return len(new)


def check_words(*, text: str, url: str, key: str) -> None:
    """Refuse what no reader could use. These are faults of a program, so they are raised, not shown."""
    if not text.strip():
        raise ValueError("text is empty; a message needs words.")
    if url and (not url.startswith("/") or url.startswith("//")):
        raise ValueError(f"url is {url!r}; allowed is a path of this site that starts with one /.")
    if not 0 < len(key) <= 200:
        raise ValueError(f"key has {len(key)} characters; allowed are 1 to 200.")


def send_out(*, rink: Rink, messages: list[Message], wakes: bool, now: dt.datetime) -> None:
    """Write down each way out that its reader wants, and when it may go."""
    people = [one.person_id for one in messages]
    wishes = Wishes.objects.in_bulk(people)
    devices: dict[object, list[Device]] = {}
    for device in Device.objects.filter(person__in=people):
        devices.setdefault(device.person_id, []).append(device)
    mailing, zone = mail_is_set_up(), ZoneInfo(rink.time_zone)
    rows = []
    for one in messages:
        if not one.person.is_active:
            continue
        wish = wishes.get(one.person_id) or Wishes(person_id=one.person_id)
        due = due_at(wish=wish, zone=zone, urgent=one.urgent, wakes=wakes, now=now)
        if mailing and wish.by_mail and wish.mail_address:
            rows.append(Delivery(message=one, channel=Delivery.Channel.MAIL, due_at=due))
        for device in devices.get(one.person_id, []):
            rows.append(Delivery(message=one, channel=Delivery.Channel.PUSH, device=device, due_at=due))
    Delivery.objects.bulk_create(rows)
    if any(row.due_at <= now for row in rows):
        soon(current_app.signature(SEND))


def due_at(*, wish: Wishes, zone: ZoneInfo, urgent: bool, wakes: bool, now: dt.datetime) -> dt.datetime:
    """When a message may go to somebody with these wishes."""
    due = now if urgent else gathered_until(now, zone, wish.gather)
    if wakes or wish.quiet_from is None or wish.quiet_to is None:
        return due
    return after_quiet(due, zone, wish.quiet_from, wish.quiet_to)


def mark_read(*, message: Message, now: dt.datetime) -> None:
    """A person has read one message."""
    Message.objects.filter(id=message.id, read_at=None).update(read_at=now)


def mark_all_read(*, person: Person, rink: Rink, until: dt.datetime, now: dt.datetime) -> int:
    """A person has read all that they were shown: what came after `until` stays unread. Returns how many were new."""
    shown = Message.objects.filter(person=person, rink=rink, read_at=None, made_at__lte=until)
    return shown.update(read_at=now)


def wish(*, person: Person, wanted: Wanted) -> None:
    """Set how a person wants to be told from now on; what already waits keeps its hour."""
    Wishes.objects.update_or_create(person=person, defaults=asdict(wanted))


@transaction.atomic
def add_device(
    *, person: Person, endpoint: str, p256dh: str, auth: str, name: str, now: dt.datetime
) -> Device:
    """Take the push address of a browser. One that another person had used is theirs no more.

    Raises Refused for an address that is no push service's, for keys that are no keys, and past the last place.
    """
    if not is_push_service(endpoint) or len(endpoint) > 600:
        raise Refused("endpoint", _("This browser names a push service that this site does not know."))
    if not are_keys(p256dh, auth):
        raise Refused("p256dh", _("This browser sent no usable keys for push; try again."))
    others = Device.objects.filter(person=person).exclude(endpoint=endpoint)
    if others.count() >= MOST_DEVICES:
        raise Refused("endpoint", _("You have %(n)d devices; remove one first.") % {"n": MOST_DEVICES})
    keys = {"person": person, "p256dh": p256dh, "auth": auth, "name": name[:60]}
    device, _made = Device.objects.update_or_create(
        endpoint=endpoint, defaults=keys, create_defaults=keys | {"made_at": now}
    )
    return device


@transaction.atomic
def remove_device(*, device: Device, now: dt.datetime) -> None:
    """Forget a browser; what waits for it is let go."""
    waiting = Delivery.objects.filter(device=device, state=Delivery.State.WAITING)
    waiting.update(state=Delivery.State.GONE, fate=Fate.FORGOTTEN, settled_at=now)
    device.delete()


@transaction.atomic
def make_calendar_link(*, person: Person, rink: Rink, what: str, now: dt.datetime) -> CalendarLink:
    """The person's open link to some shifts of a rink, made if there is none. Errors: Refused."""
    if what not in CalendarLink.What.values:
        allowed = ", ".join(CalendarLink.What.values)
        sentence = _("“%(value)s” is no calendar; allowed are %(allowed)s.")
        raise Refused("what", sentence % {"value": what, "allowed": allowed})
    id = uuid4()
    made = CalendarLink(
        id=id, person=person, rink=rink, what=what, token_hash=hash_of(token_of(id)), made_at=now
    )
    CalendarLink.objects.bulk_create([made], ignore_conflicts=True)  # of two taps at once, one makes it
    return CalendarLink.objects.get(person=person, rink=rink, what=what, revoked_at=None)


def revoke_calendar_link(*, person: Person, rink: Rink, what: str, now: dt.datetime) -> None:
    """Close a link: whoever has it gets nothing from now on."""
    links = CalendarLink.objects.filter(person=person, rink=rink, what=what, revoked_at=None)
    links.update(revoked_at=now)
