"""HTTP/1.1 messages read whole from a stream (RFC 9112): just enough to lose, hold and double them."""

import asyncio
from dataclasses import dataclass

NO_BODY = (204, 304)


@dataclass(frozen=True)
class Message:
    """One request or answer: its first line and headers as they came, its body with its framing."""

    head: bytes
    body: bytes

    @property
    def whole(self) -> bytes:
        """Every byte of it."""
        return self.head + self.body

    @property
    def first(self) -> str:
        """The request line or the status line."""
        return self.head.split(b"\r\n", 1)[0].decode("latin-1")

    def header(self, name: str) -> str:
        """The value of a header, or nothing."""
        for line in self.head.split(b"\r\n")[1:]:
            key, _, value = line.partition(b":")
            if key.strip().lower() == name.encode():
                return value.strip().decode("latin-1")
        return ""


async def read_request(stream: asyncio.StreamReader) -> Message | None:
    """The next request of a connection, or None when it ends."""
    return await _read(stream, answers_to="")


async def read_answer(stream: asyncio.StreamReader, method: str) -> Message | None:
    """The answer to a request of that method, or None when the other side fell silent."""
    return await _read(stream, answers_to=method)


async def _read(stream: asyncio.StreamReader, *, answers_to: str) -> Message | None:
    try:
        head = await stream.readuntil(b"\r\n\r\n")
        message = Message(head, b"")
        if answers_to and (answers_to == "HEAD" or int(message.first.split()[1]) in NO_BODY):
            return message
        if message.header("transfer-encoding").lower() == "chunked":
            return Message(head, await _chunks(stream))
        if length := message.header("content-length"):
            return Message(head, await stream.readexactly(int(length)))
        return Message(head, await stream.read()) if answers_to else message
    except (asyncio.IncompleteReadError, asyncio.LimitOverrunError, OSError):
        return None


async def _chunks(stream: asyncio.StreamReader) -> bytes:
    taken = b""
    while True:
        line = await stream.readuntil(b"\r\n")
        size = int(line.split(b";")[0], 16)
        taken += line + await stream.readexactly(size + 2)
        if size == 0:
            return taken
