"""A weather service on this machine: it answers what a test tells it, well or badly, and remembers how it was asked."""

import gzip
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

DATE = "Thu, 15 Jan 2026 12:00:00 GMT"


@dataclass
class Reply:
    """One answer. `says` more bytes than the body has cuts it off; `pause_s` waits before each of its pieces."""

    body: bytes = b""
    status: int = 200
    headers: dict[str, str] = field(default_factory=dict)
    says: int = 0
    pause_s: float = 0.0
    pieces: int = 1
    hang_up: bool = False


@dataclass
class Service:
    """What the service answers next: a list is used up one by one, its last stays."""

    url: str
    replies: list[Reply]
    asked: list[tuple[str, dict[str, str]]] = field(default_factory=list)

    @property
    def paths(self) -> list[str]:
        """The paths that were asked for, with their queries."""
        return [path for path, _ in self.asked]

    def will(self, *replies: Reply) -> None:
        """Answer so from now on."""
        self.replies[:] = replies


class _Handler(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def do_GET(self) -> None:  # noqa: N802  the name that http.server calls
        service: Service = self.server.service  # type: ignore[attr-defined]
        service.asked.append((self.path, {key.lower(): value for key, value in self.headers.items()}))
        reply = service.replies.pop(0) if len(service.replies) > 1 else service.replies[0]
        self.close_connection = True
        if reply.hang_up:
            return
        time.sleep(reply.pause_s)
        body = reply.body
        if reply.headers.get("Content-Encoding") == "gzip":
            body = gzip.compress(body)
        self.send_response_only(reply.status)
        # Said aloud: a client that uses the line again may find it closed, and counts that as a failed try.
        for name, value in {"Date": DATE, "Connection": "close", **reply.headers}.items():
            self.send_header(name, value)
        if reply.status != 304:
            self.send_header("Content-Length", str(reply.says or len(body)))
        self.end_headers()
        try:
            self._send(reply, body)
        except OSError:
            return  # whoever asked has left

    def _send(self, reply: Reply, body: bytes) -> None:
        size = max(1, len(body) // reply.pieces)
        for start in range(0, len(body), size):
            if start:
                time.sleep(reply.pause_s)
            self.wfile.write(body[start : start + size])
            self.wfile.flush()

    def log_message(self, *_: Any) -> None:
        """Say nothing."""


@contextmanager
def weather_service() -> Iterator[Service]:
    """A service on a free port of this machine, ended with the test."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), _Handler)
    server.daemon_threads = True
    service = Service(f"http://127.0.0.1:{server.server_address[1]}", [Reply(status=500)])
    server.service = service  # type: ignore[attr-defined]
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.05}, daemon=True)
    thread.start()
    try:
        yield service
    finally:
        server.shutdown()
        thread.join()
        server.server_close()
