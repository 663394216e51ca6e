"""The other side of `contentful-paint`: a static page with the same text and nothing else, from the plainest server."""

import gzip
import threading
from html import escape
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer


def serve(text: str) -> ThreadingHTTPServer:
    """Serve the text on a free port of loopback, packed; call shutdown() on what is returned."""
    lines = "".join(f"<p>{escape(line)}</p>" for line in text.splitlines() if line.strip())
    head = '<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">'
    page = gzip.compress(f"{head}<title>Bare</title>{lines}".encode())

    class Handler(BaseHTTPRequestHandler):
        protocol_version = "HTTP/1.1"

        def do_GET(self) -> None:  # noqa: N802
            self.send_response(200 if self.path == "/" else 404)
            self.send_header("Content-Type", "text/html; charset=utf-8")
            self.send_header("Content-Encoding", "gzip")
            self.send_header("Content-Length", str(len(page)))
            self.end_headers()
            self.wfile.write(page)

        def log_message(self, format: str, *args: object) -> None:
            """Say nothing."""

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    return server
