"""A push service on loopback and a browser's keys: it keeps what it is posted, and answers as told."""

import base64
import json
import os
import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

import http_ece
import pytest
from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric import ec


class PushService:
    """One device of one browser behind a push service."""

    def __init__(self) -> None:
        self.key = ec.generate_private_key(ec.SECP256R1())
        self.secret = os.urandom(16)
        self.posts: list[tuple[dict[str, str], bytes]] = []
        self.answer = 201
        outer = self

        class Handler(BaseHTTPRequestHandler):
            def do_POST(self) -> None:  # noqa: N802  the library's name
                body = self.rfile.read(int(self.headers["Content-Length"]))
                outer.posts.append(({name.lower(): text for name, text in self.headers.items()}, body))
                self.send_response(outer.answer)
                if outer.answer == 307:
                    self.send_header("Location", "http://127.0.0.1:9/elsewhere")
                self.send_header("Content-Length", "0")
                self.end_headers()

            def log_message(self, *_: Any) -> None:
                return

        self.server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
        self.thread = threading.Thread(target=self.server.serve_forever, daemon=True)
        self.thread.start()

    @property
    def endpoint(self) -> str:
        """Where this device is reached."""
        return f"http://127.0.0.1:{self.server.server_port}/device/1"

    def keys(self) -> dict[str, str]:
        """What the browser tells the site."""
        point = self.key.public_key().public_bytes(
            serialization.Encoding.X962, serialization.PublicFormat.UncompressedPoint
        )
        return {"p256dh": in_text(point), "auth": in_text(self.secret)}

    def notes(self) -> list[dict[str, str]]:
        """What the device reads, decrypted by the library of RFC 8188."""
        return [
            json.loads(
                http_ece.decrypt(body, private_key=self.key, auth_secret=self.secret, version="aes128gcm")
            )
            for _, body in self.posts
        ]

    def stop(self) -> None:
        """Stop answering."""
        self.server.shutdown()
        self.server.server_close()
        self.thread.join()


def in_text(raw: bytes) -> str:
    """Bytes in base64url without padding, as browsers write them."""
    return base64.urlsafe_b64encode(raw).rstrip(b"=").decode()


@pytest.fixture
def push_service(settings: Any) -> Iterator[PushService]:
    """A running push service that this process's settings know."""
    settings.PUSH_HOSTS = ["127.0.0.1"]
    service = PushService()
    yield service
    service.stop()
