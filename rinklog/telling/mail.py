"""One mail through the site's mail server: either certainly sent, certainly not, or honestly unknown.

Django's own backend opens the connection (TLS, login); the steps of RFC 5321 are taken one by one here, because
whether a failure came before or after the body decides whether the mail may be tried again.
"""

import smtplib
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from email.utils import parseaddr

from django.core.mail.backends.smtp import EmailBackend
from django.core.mail.message import sanitize_address

from rinklog.telling.outcome import ClaimLost, HandOver, Outcome, What

# What smtplib and the socket below it raise while nobody answers as they should.
NO_ANSWER = (OSError, smtplib.SMTPException)


class MailServerDown(Exception):
    """No mail gets through now. The argument is what it said."""


@contextmanager
def mail_line() -> Iterator[smtplib.SMTP]:
    """An open connection to the mail server, signed in. Errors: MailServerDown."""
    backend = EmailBackend()  # from settings; never silent
    try:
        backend.open()
    except NO_ANSWER as error:
        raise MailServerDown(said(error)) from error
    assert backend.connection is not None  # open() raised otherwise
    try:
        yield backend.connection
    finally:
        # Whatever was sent is sent; a server that does not say goodbye changes nothing.
        with suppress(*NO_ANSWER):
            backend.close()


def post(line: smtplib.SMTP, *, sender: str, address: str, message: bytes, hand_over: HandOver) -> Outcome:
    """Post one mail; `hand_over` is called when the server has taken both addresses and before the body goes."""
    try:
        line.ehlo_or_helo_if_needed()
        accepted = line.mail(sender)
        if accepted[0] != 250:
            return Outcome(What.DOWN, answer(accepted))  # our own address: nobody's mail would go
        accepted = line.rcpt(address)
        if accepted[0] not in (250, 251):
            start_over(line)
            return Outcome(What.NEVER if accepted[0] >= 500 else What.LATER, answer(accepted))
    except NO_ANSWER as error:
        return Outcome(What.DOWN, said(error))
    try:
        hand_over()
    except ClaimLost:
        start_over(line)
        raise
    outcome = hand_body(line, message)
    if outcome.what in (What.LATER, What.NEVER):
        start_over(line)
    return outcome


def start_over(line: smtplib.SMTP) -> None:
    """Leave a half-made mail behind, so that the next one can use the line."""
    with suppress(*NO_ANSWER):
        line.rset()


def hand_body(line: smtplib.SMTP, message: bytes) -> Outcome:
    """Send the body. A refusal in so many words is certain; silence is not."""
    try:
        accepted = line.data(message)
    except smtplib.SMTPDataError as error:  # refused before the body
        return Outcome(What.NEVER if error.smtp_code >= 500 else What.LATER, said(error))
    except NO_ANSWER as error:
        return Outcome(What.UNKNOWN, said(error))
    if accepted[0] == 250:
        return Outcome(What.SENT)
    return Outcome(What.NEVER if accepted[0] >= 500 else What.LATER, answer(accepted))


def bare(address: str) -> str:
    """The address alone, without a name before it, as a server reads it (other alphabets in Punycode)."""
    return parseaddr(sanitize_address(address, "utf-8"))[1]


def answer(reply: tuple[int, bytes]) -> str:
    """A server's reply as text."""
    return f"{reply[0]} {reply[1].decode(errors='replace')}"[:200]


def said(error: BaseException) -> str:
    """An error as text, without the login and password that nobody should read in a page."""
    if isinstance(error, smtplib.SMTPAuthenticationError):
        return f"{error.smtp_code} login refused"
    return f"{type(error).__name__}: {error}"[:200]
