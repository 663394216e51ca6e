"""A real mail server on loopback that keeps what it is sent, and can be slow, full or rude when told."""

import asyncio
import email
import email.policy
from collections import Counter
from collections.abc import Iterator
from email.message import EmailMessage
from typing import Any, cast

import pytest
from aiosmtpd.controller import Controller
from aiosmtpd.smtp import SMTP, Envelope, Session

from tests.support.processes import free_port


class Sink:
    """What arrived, and how the server behaves."""

    def __init__(self) -> None:
        self.arrived: list[EmailMessage] = []
        self.to: list[str] = []
        self.asked: list[str] = []
        self.rcpt_answers: dict[str, str] = {}
        self.data_answer = "250 kept"
        self.hold_rcpt_s = 0.0
        self.hold_data_s = 0.0
        self.port = free_port()
        self._controller: Controller | None = None

    async def handle_RCPT(  # noqa: N802  the library's name
        self, server: SMTP, session: Session, envelope: Envelope, address: str, options: list[str]
    ) -> str:
        """Take an address, or answer as told."""
        self.asked.append(address)
        await asyncio.sleep(self.hold_rcpt_s)
        answer = self.rcpt_answers.get(address, "250 known")
        if answer.startswith("250"):
            envelope.rcpt_tos.append(address)
        return answer

    async def handle_DATA(self, server: SMTP, session: Session, envelope: Envelope) -> str:  # noqa: N802
        """Keep a mail the moment its body is whole; the answer may come late."""
        if self.data_answer.startswith("250"):
            read = email.message_from_bytes(cast(bytes, envelope.content), policy=email.policy.default)
            self.arrived.append(cast(EmailMessage, read))
            self.to.extend(envelope.rcpt_tos)
        await asyncio.sleep(self.hold_data_s)
        return self.data_answer

    def start(self) -> None:
        """Listen."""
        self._controller = Controller(cast(Any, self), hostname="127.0.0.1", port=self.port)
        self._controller.start()

    def stop(self) -> None:
        """Stop listening; calls are refused from now on."""
        if self._controller is not None:
            self._controller.stop()
            self._controller = None

    @property
    def url(self) -> str:
        """Its address for RINKLOG_SMTP_URL."""
        return f"smtp://127.0.0.1:{self.port}"

    def bodies(self) -> list[str]:
        """The text of each mail, in order of arrival."""
        return [one.get_content() for one in self.arrived]

    def times_said(self, words: list[str]) -> Counter[str]:
        """How often each of some sentences arrived, in whatever mail."""
        whole = "\n".join(self.bodies())
        return Counter({word: whole.count(word) for word in words})


@pytest.fixture
def mail_sink(settings: Any) -> Iterator[Sink]:
    """A running sink, named in this process's settings as the site's mail server."""
    sink = Sink()
    sink.start()
    settings.EMAIL_HOST, settings.EMAIL_PORT, settings.EMAIL_TIMEOUT = "127.0.0.1", sink.port, 5
    settings.EMAIL_HOST_USER = settings.EMAIL_HOST_PASSWORD = ""
    settings.DEFAULT_FROM_EMAIL = "rink@rimvinkel.example"
    yield sink
    sink.stop()
