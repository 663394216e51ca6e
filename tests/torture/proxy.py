"""The bad connection: a real proxy on loopback between the phones and the site, TLS on both sides.

It reads requests whole, so that it can do to them what networks do: lose the request or only its answer, hold it until
others have overtaken it, deliver it twice, cut the line in the middle of an answer.
"""

import asyncio
import contextlib
import ssl
from pathlib import Path

from tests.torture.fates import AGAIN_S, LATE_S, STALL_S, Fates
from tests.torture.http import Message, read_answer, read_request

LIMIT = 2**25
PATIENCE_S = 60.0


class Proxy:
    """Listens on a port of loopback; `upstream` is the site's HTTPS port, which moves with every restart."""

    def __init__(self, fates: Fates, certificate: Path, key: Path) -> None:
        self.fates, self.upstream, self.port = fates, 0, 0
        self.dead = False  # no signal at all
        self._door = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        self._door.load_cert_chain(certificate, key)
        self._out = ssl.create_default_context(
            cafile=str(certificate)
        )  # the site must show this very certificate
        self._tasks: set[asyncio.Task[None]] = set()

    async def start(self) -> None:
        """Listen."""
        self._server = await asyncio.start_server(self._serve, "127.0.0.1", 0, ssl=self._door, limit=LIMIT)
        self.port = self._server.sockets[0].getsockname()[1]

    async def stop(self) -> None:
        """Stop listening, and forget what is still on its way."""
        self._server.close()
        for task in self._tasks:
            task.cancel()

    async def _serve(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        task = asyncio.current_task()
        assert task
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)
        try:
            while (request := await read_request(reader)) and await self._deal(request, writer):
                pass
        except (OSError, asyncio.CancelledError):
            pass
        finally:
            broken(writer)

    async def _deal(self, request: Message, writer: asyncio.StreamWriter) -> bool:
        """Carry one request as its fate has it; False breaks the line."""
        fate = "no signal" if self.dead else self.fates.draw()
        if fate in ("no signal", "lost before"):
            return False
        if fate == "late":
            await asyncio.sleep(self.fates.between(LATE_S))
        if fate == "again later":
            self._later(request)
        if fate == "doubled":
            answers = await asyncio.gather(self._ask(request), self._ask(request))
            answer = answers[self.fates.dice.randrange(2)]
        else:
            answer = await self._ask(request)
        if fate == "stalled":
            await asyncio.sleep(self.fates.between(STALL_S))
        if answer is None or fate in ("lost after", "stalled"):
            return False
        said = answer.whole[: len(answer.whole) // 2] if fate == "cut" else answer.whole
        writer.write(said)
        await writer.drain()
        return fate != "cut" and answer.header("connection").lower() != "close"

    def _later(self, request: Message) -> None:
        """Deliver a copy when the phone has long gone on."""

        async def again() -> None:
            await asyncio.sleep(self.fates.between(AGAIN_S))
            await self._ask(request)

        task = asyncio.create_task(again())
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    async def _ask(self, request: Message) -> Message | None:
        """The site's answer, over a connection of its own; None while it is down."""
        writer = None
        try:
            async with asyncio.timeout(PATIENCE_S):
                reader, writer = await asyncio.open_connection(
                    "127.0.0.1", self.upstream, ssl=self._out, server_hostname="localhost", limit=LIMIT
                )
                writer.write(request.whole)
                await writer.drain()
                return await read_answer(reader, request.first.split()[0])
        except (OSError, TimeoutError):
            return None
        finally:
            if writer:
                broken(writer)


def broken(writer: asyncio.StreamWriter) -> None:
    """Break a line off, as a lost signal does: without a farewell."""
    with contextlib.suppress(Exception):
        writer.transport.abort()
