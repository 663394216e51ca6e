"""Sending, off the road of whoever tells: every minute, and at once when something must not wait."""

import logging
import smtplib
import time
from collections.abc import Callable
from functools import partial

from celery import shared_task
from celery.exceptions import SoftTimeLimitExceeded
from django.conf import settings
from django.utils import timezone

from rinklog.telling import letters, mail, push, queries, sending
from rinklog.telling.models import Delivery
from rinklog.telling.outcome import HandOver, Outcome, What
from rinklog.upkeep.again import AGAIN

log = logging.getLogger(__name__)
LINES_AT_ONCE = 300
# Well before the task is cut off; the next minute goes on. Pushes go first, and have not long: alarms are among them.
PUSH_S, LONGEST_S = 60.0, 200.0
Channel = Delivery.Channel
Way = Callable[[sending.Claimed, HandOver], Outcome]


@shared_task(name="telling.send_waiting", **AGAIN)
def send_waiting() -> None:
    """Send what is due and tidy up after workers that died. Safe to run twice, and beside another."""
    sending.clean_up(now=timezone.now())
    lines = sending.lines_due(now=timezone.now(), most=LINES_AT_ONCE)
    began = time.monotonic()
    send_pushes([line for line in lines if line.channel == Channel.PUSH], began + PUSH_S)
    send_mails([line for line in lines if line.channel == Channel.MAIL], began + LONGEST_S)


def send_mails(lines: list[sending.Line], until: float) -> None:
    """Send all mails over one connection; one that breaks keeps the rest for the next minute."""
    if not lines or not queries.mail_is_set_up():
        return
    try:
        with mail.mail_line() as line:
            for one in lines:
                ended = send_one(one, partial(post, line))
                if time.monotonic() > until or ended in (What.DOWN, What.UNKNOWN):
                    return
    except mail.MailServerDown as down:
        log.warning("%d mails wait: the mail server does not answer (%s)", len(lines), down)
        sending.note_down(lines=lines, detail=str(down))


def send_pushes(lines: list[sending.Line], until: float) -> None:
    """Push to device after device: each has its own service, so one that does not answer stops nobody else."""
    for one in lines:
        if time.monotonic() > until:
            return
        send_one(one, push_to)


def send_one(one: sending.Line, way: Way) -> What | None:
    """Send what one line has due. A fault of ours costs this line only: its claim lapses, everybody else gets theirs."""
    claimed = sending.claim(line=one, now=timezone.now())
    if claimed is None:
        return None
    try:
        return sending.send(claimed=claimed, by_way=partial(way, claimed), clock=timezone.now)
    except SoftTimeLimitExceeded:
        raise
    except Exception:
        log.exception("sending to %s by %s failed", one.person_id, one.channel)
        return What.DOWN


def post(line: smtplib.SMTP, claimed: sending.Claimed, hand_over: HandOver) -> Outcome:
    """The way by mail."""
    wishes = queries.wishes_of(claimed.person)
    if not (wishes.by_mail and wishes.mail_address and claimed.person.is_active):
        return Outcome(What.UNWANTED)
    letter = letters.mail(
        person=claimed.person, rink=claimed.rink, messages=claimed.messages, wishes=wishes, now=timezone.now()
    )
    return mail.post(
        line,
        sender=mail.bare(settings.DEFAULT_FROM_EMAIL),
        address=mail.bare(wishes.mail_address),
        message=letter.message().as_bytes(linesep="\r\n"),  # type: ignore[call-arg]  # Django's own
        hand_over=hand_over,
    )


def push_to(claimed: sending.Claimed, hand_over: HandOver) -> Outcome:
    """The way by push."""
    if claimed.device is None or not claimed.person.is_active:
        return Outcome(What.UNWANTED)
    note = letters.note(person=claimed.person, rink=claimed.rink, messages=claimed.messages)
    return push.push(device=claimed.device, note=note, hand_over=hand_over)
