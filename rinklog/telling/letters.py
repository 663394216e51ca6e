"""The words of a mail and of a push: one message as it is, several as a digest."""

import datetime as dt
from email.utils import format_datetime, parseaddr
from zoneinfo import ZoneInfo

from django.conf import settings
from django.core.mail import EmailMessage
from django.utils import translation
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from rinklog.crew.models import Person
from rinklog.dates import written
from rinklog.rink.models import Rink
from rinklog.telling.models import Message, Wishes
from rinklog.telling.stopping import stop_token

SUBJECT_LONGEST = 100


def subject(rink: Rink, messages: list[Message]) -> str:
    """One line that says what it is about."""
    if len(messages) == 1:
        line = f"{rink.name}: {' '.join(messages[0].text.split())}"
        return line if len(line) <= SUBJECT_LONGEST else line[: SUBJECT_LONGEST - 1].rstrip() + "…"
    counted = ngettext("%(n)d message", "%(n)d messages", len(messages)) % {"n": len(messages)}
    return f"{rink.name}: {counted}"


def paragraph(message: Message, zone: ZoneInfo, origin: str) -> str:
    """A message with when it was said and where it leads."""
    said = written(message.made_at.astimezone(zone), "D j M H:i")
    link = f"\n{origin}{message.url}" if origin and message.url else ""
    return f"{said}\n{message.text}{link}"


def mail(
    *, person: Person, rink: Rink, messages: list[Message], wishes: Wishes, now: dt.datetime
) -> EmailMessage:
    """The mail to one person: plain text, its id made from the first message, so that a double could be told."""
    zone = ZoneInfo(rink.time_zone)
    domain = parseaddr(settings.DEFAULT_FROM_EMAIL)[1].rpartition("@")[2] or "localhost"
    stop = stop_address(person, wishes)
    with translation.override(person.language):
        parts = [paragraph(one, zone, wishes.origin) for one in messages]
        parts.append(f"-- \n{foot(rink, wishes.origin, stop)}")
        return EmailMessage(
            subject=subject(rink, messages),
            body="\n\n".join(parts) + "\n",
            from_email=settings.DEFAULT_FROM_EMAIL,
            to=[wishes.mail_address],
            headers={
                "Message-ID": f"<{messages[0].id}@{domain}>",
                "Date": format_datetime(now),
                # RFC 3834: no holiday answers to this.
                "Auto-Submitted": "auto-generated",
                **stop_headers(stop),
            },
        )


def foot(rink: Rink, origin: str, stop: str) -> str:
    """Why somebody gets this, and how it ends."""
    where = f"{origin}/me/telling/" if origin else _("You, How you are told")
    said = _("You asked %(rink)s for this mail. Change it: %(where)s") % {"rink": rink.name, "where": where}
    return said + ("\n" + _("Not for you? Stop it: %(stop)s") % {"stop": stop} if stop else "")


def stop_address(person: Person, wishes: Wishes) -> str:
    """Where this mail can be stopped; nothing while no address of the site is known."""
    if not wishes.origin:
        return ""
    return f"{wishes.origin}/mail/stop/{stop_token(person=person, address=wishes.mail_address)}/"


def stop_headers(stop: str) -> dict[str, str]:
    """What mail programs make a button of (RFC 2369; in one click by RFC 8058, which wants HTTPS)."""
    if not stop:
        return {}
    one_click = {"List-Unsubscribe-Post": "List-Unsubscribe=One-Click"} if stop.startswith("https:") else {}
    return {"List-Unsubscribe": f"<{stop}>", **one_click}


def note(*, person: Person, rink: Rink, messages: list[Message]) -> dict[str, str]:
    """What a push carries: title, text, where it leads, and a tag under which it replaces itself."""
    with translation.override(person.language):
        inbox = f"/r/{rink.slug}/inbox/"
        texts = [" ".join(one.text.split()) for one in messages]
        return {
            "title": rink.name if len(messages) == 1 else subject(rink, messages),
            "text": "\n".join(texts)[:1500],
            "url": messages[0].url or inbox if len(messages) == 1 else inbox,
            "tag": str(messages[0].id),
        }
