"""Sending what is due, a line at a time: what one person waits for by one way from one rink goes out together.

The order is the promise. Claim (conditional update), speak to the server, mark as handed over (conditional on the
claim), let the body go, settle. A worker that dies before the mark leaves a claim that lapses; one that dies after it
leaves a fate that nobody knows, and that is never tried again. So each message leaves at most once.
"""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from uuid import UUID, uuid4

from django.db import transaction
from django.db.models import F

from rinklog.crew.models import Person
from rinklog.rink.models import Rink
from rinklog.telling.fates import Fate
from rinklog.telling.models import Delivery, Device, Message
from rinklog.telling.outcome import ClaimLost, Outcome, What

State = Delivery.State
CLAIM_LAPSES = dt.timedelta(minutes=2)
TRIED_FOR = dt.timedelta(days=3)
TOGETHER = 50
"""Most messages in one mail."""


@dataclass(frozen=True)
class Line:
    """What goes out together."""

    rink_id: UUID
    person_id: UUID
    channel: str
    device_id: UUID | None


@dataclass(frozen=True)
class Claimed:
    """The deliveries that this worker, and nobody else, may send now."""

    id: UUID
    rink: Rink
    person: Person
    device: Device | None
    messages: list[Message]

    def hand_over(self, now: dt.datetime) -> None:
        """Mark them just before the first byte that counts. Errors: ClaimLost when the claim has lapsed meanwhile."""
        mine = Delivery.objects.filter(claim=self.id, state=State.WAITING, handed_at=None)
        with transaction.atomic():
            if mine.update(handed_at=now) != len(self.messages):
                raise ClaimLost


def lines_due(*, now: dt.datetime, most: int) -> list[Line]:
    """Who waits for something that may go now: what is urgent first, then the longest waiting."""
    due = Delivery.objects.filter(state=State.WAITING, claim=None, due_at__lte=now)
    due = due.order_by("-message__urgent", "due_at", "id")
    rows = due.values_list("message__rink", "message__person", "channel", "device")
    return list(dict.fromkeys(Line(*row) for row in rows[: most * TOGETHER]))[:most]


def claim(*, line: Line, now: dt.datetime) -> Claimed | None:
    """Take what a line has due; None when somebody else took it all."""
    waiting = Delivery.objects.filter(
        message__rink=line.rink_id,
        message__person=line.person_id,
        channel=line.channel,
        device=line.device_id,
        state=State.WAITING,
        claim=None,
        due_at__lte=now,
    )
    ids = list(waiting.order_by("message__made_at", "id").values_list("id", flat=True)[:TOGETHER])
    mark = uuid4()
    free = Delivery.objects.filter(id__in=ids, state=State.WAITING, claim=None)
    if not free.update(claim=mark, claimed_at=now, tries=F("tries") + 1):
        return None
    mine = Delivery.objects.filter(claim=mark).order_by("message__made_at", "id")
    rows = list(mine.select_related("message__rink", "message__person", "device"))
    first = rows[0]
    return Claimed(
        mark, first.message.rink, first.message.person, first.device, [row.message for row in rows]
    )


def send(
    *, claimed: Claimed, by_way: Callable[[Callable[[], None]], Outcome], clock: Callable[[], dt.datetime]
) -> What | None:
    """Send what was claimed and write down what came of it; None when the claim was lost and nothing was sent."""
    try:
        outcome = by_way(lambda: claimed.hand_over(clock()))
    except ClaimLost:
        return None
    settle(claimed=claimed, outcome=outcome, now=clock())
    return outcome.what


def settle(*, claimed: Claimed, outcome: Outcome, now: dt.datetime) -> None:
    """Write down how a try ended."""
    mine = Delivery.objects.filter(claim=claimed.id).exclude(state=State.SENT)
    if outcome.what in (What.LATER, What.DOWN):
        put_back(claimed=claimed, outcome=outcome, now=now)
    elif outcome.what == What.GONE:
        forget(claimed=claimed, now=now)
    else:
        state, fate = ENDS[outcome.what]
        mine.update(state=state, fate=fate, detail=outcome.detail, settled_at=now)


ENDS = {
    What.SENT: (State.SENT, ""),
    What.NEVER: (State.FAILED, Fate.REFUSED),
    What.UNWANTED: (State.FAILED, Fate.UNWANTED),
    What.UNKNOWN: (State.FAILED, Fate.UNKNOWN),
}


def put_back(*, claimed: Claimed, outcome: Outcome, now: dt.datetime) -> None:
    """It certainly did not go: let it wait, and longer each time if its reader's side said so."""
    mine = Delivery.objects.filter(claim=claimed.id, state=State.WAITING)
    fate = Fate.NO_ANSWER if outcome.what == What.DOWN else Fate.NOT_NOW
    again = {"claim": None, "claimed_at": None, "handed_at": None, "fate": fate, "detail": outcome.detail}
    if outcome.what == What.DOWN:
        mine.update(**again)
        return
    for row in mine:
        pause = dt.timedelta(minutes=min(2**row.tries, 60))
        Delivery.objects.filter(id=row.id).update(due_at=now + pause, **again)


def note_down(*, lines: list[Line], detail: str) -> None:
    """The server does not answer: say so on what waits for it, which nobody has claimed."""
    waiting = Delivery.objects.filter(state=State.WAITING, claim=None, channel=lines[0].channel)
    people = {line.person_id for line in lines}
    waiting.filter(message__person__in=people).update(fate=Fate.NO_ANSWER, detail=detail[:200])


@transaction.atomic
def forget(*, claimed: Claimed, now: dt.datetime) -> None:
    """The device is gone (its push service said so): forget it, and everything that waits for it."""
    theirs = Delivery.objects.filter(
        device=claimed.device, channel=Delivery.Channel.PUSH, state=State.WAITING
    )
    theirs.update(state=State.GONE, fate=Fate.FORGOTTEN, settled_at=now)
    if claimed.device is not None:
        claimed.device.delete()


def clean_up(*, now: dt.datetime) -> int:
    """After workers that died: free what was not handed over, give up what was. Give up what was tried for days.

    Returns how many rows changed.
    """
    waiting = Delivery.objects.filter(state=State.WAITING)
    lapsed = waiting.filter(claimed_at__lt=now - CLAIM_LAPSES)
    ended = {"state": State.FAILED, "settled_at": now}
    freed = lapsed.filter(handed_at=None).update(claim=None, claimed_at=None)
    cut_off = lapsed.filter(handed_at__isnull=False).update(fate=Fate.UNKNOWN, **ended)
    old = waiting.filter(claim=None, due_at__lt=now, message__made_at__lt=now - TRIED_FOR)
    ids = list(old.values_list("id", flat=True)[:1000])  # an update cannot join
    given_up = waiting.filter(id__in=ids, claim=None).update(fate=Fate.GAVE_UP, **ended)
    return freed + cut_off + given_up
