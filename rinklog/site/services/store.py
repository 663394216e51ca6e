"""Writing the store."""

import datetime as dt
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.db import transaction
from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.facts import Conflict, Refused
from rinklog.rink.models import Rink
from rinklog.site.models import StoredItem

MOST_ITEMS = 500


@dataclass(frozen=True)
class ItemContent:
    """A thing as a person says it. Lengths [m]."""

    thing: str
    name: str
    quantity: int = 1
    place: str = ""
    state: str = StoredItem.State.GOOD
    length_m: float | None = None
    width_m: float | None = None
    bought_on: dt.date | None = None
    gone_on: dt.date | None = None
    buy: int = 0
    note: str = ""


def keep_item(
    *, id: UUID, rink: Rink, content: ItemContent, by: Person, now: dt.datetime, today: dt.date
) -> StoredItem:
    """Write a thing down, or count it again. What is gone without a day went today. Errors: Refused, Conflict."""
    gone = content.state == StoredItem.State.GONE
    gone_on = (content.gone_on or today) if gone else None
    for field, day in (("bought_on", content.bought_on), ("gone_on", gone_on)):
        if day is not None and day > today:
            raise Refused(field, _("The day is still to come; allowed is up to today."))
    if content.bought_on and gone_on and gone_on < content.bought_on:
        raise Refused("gone_on", _("It went before it was bought; correct one of the two days."))
    values: dict[str, Any] = vars(content) | {"gone_on": gone_on, "counted_at": now, "by": by}
    values |= {
        "name": content.name.strip()[:80],
        "place": content.place.strip()[:120],
        "note": content.note[:400],
    }
    with transaction.atomic():
        list(Rink.objects.select_for_update().filter(id=rink.id))
        known = StoredItem.objects.filter(id=id).first()
        if known is not None and known.rink_id != rink.id:
            raise Conflict(None)
        if known is None and StoredItem.objects.filter(rink=rink).count() >= MOST_ITEMS:
            raise Refused(
                "name", _("The store has %(most)d lines already; remove one first.") % {"most": MOST_ITEMS}
            )
        return StoredItem.objects.update_or_create(
            id=id, defaults=values, create_defaults=values | {"rink": rink}
        )[0]


def remove_item(*, item: StoredItem) -> None:
    """Drop a line that was a mistake; what wore out is rather called gone."""
    StoredItem.objects.filter(id=item.id).delete()
