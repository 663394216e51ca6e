"""Reading messages and how people want to be told. Nothing here writes."""

from uuid import UUID

from django.conf import settings
from django.db.models import Count, OuterRef, QuerySet, Subquery
from django.db.models.functions import Coalesce

from rinklog.crew.models import Person
from rinklog.crew.queries import role_on
from rinklog.crew.tokens import hash_of
from rinklog.rink.models import Rink
from rinklog.telling.models import CalendarLink, Device, Message, Wishes


def inbox(person: Person, rink: Rink) -> QuerySet[Message]:
    """What a person was told about a rink, the latest first, with what became of each way out."""
    told = Message.objects.filter(person=person, rink=rink).order_by("-made_at", "-id")
    return told.prefetch_related("deliveries")


def message(person: Person, rink: Rink, id: UUID) -> Message | None:
    """One message to a person about a rink."""
    return Message.objects.filter(person=person, rink=rink, id=id).first()


def unread(person: Person, rink: Rink) -> int:
    """How many messages about a rink a person has not read."""
    return Message.objects.filter(person=person, rink=rink, read_at=None).count()


def unread_of_member() -> Coalesce:
    """The same as a column of a membership, so that a page needs no query of its own for it."""
    mine = Message.objects.filter(person=OuterRef("person"), rink=OuterRef("rink"), read_at=None)
    counted = mine.order_by().values("person").annotate(n=Count("id")).values("n")
    return Coalesce(Subquery(counted), 0)


def wishes_of(person: Person) -> Wishes:
    """How a person wants to be told; the usual wishes while they have said nothing."""
    return Wishes.objects.filter(person=person).first() or Wishes(person=person)


def devices_of(person: Person) -> QuerySet[Device]:
    """The browsers in which a person asked for push."""
    return Device.objects.filter(person=person).order_by("made_at", "id")


def mail_is_set_up() -> bool:
    """Whether this site can send mail at all."""
    return bool(settings.EMAIL_HOST)


def device(person: Person, id: UUID) -> Device | None:
    """One of a person's browsers."""
    return Device.objects.filter(person=person, id=id).first()


def calendar_links(person: Person, rink: Rink) -> dict[str, CalendarLink]:
    """A person's open calendar links of a rink, by what they show."""
    rows = CalendarLink.objects.filter(person=person, rink=rink, revoked_at=None)
    return {link.what: link for link in rows}


def calendar_link(token: str) -> CalendarLink | None:
    """The open link behind a token, as long as its person is on that rink's crew."""
    link = (
        CalendarLink.objects.select_related("person", "rink")
        .filter(token_hash=hash_of(token), revoked_at=None, person__is_active=True)
        .first()
    )
    return link if link and role_on(link.rink, link.person) else None
