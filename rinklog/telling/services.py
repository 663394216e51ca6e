"""Telling people something, and what they say about being told.

`tell` is the only entry for everybody else. Keyword-only, one transaction each, safe to call twice.
"""

import datetime as dt
from collections.abc import Iterable
from zoneinfo import ZoneInfo

from django.db import transaction

from rinklog.crew.models import Person
from rinklog.rink.models import Rink
from rinklog.telling.kinds import kind_named
from rinklog.telling.models import Delivery, Device, Message, Wishes
from rinklog.telling.queries import mail_is_set_up
from rinklog.telling.quiet import after_quiet, gathered_until


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
