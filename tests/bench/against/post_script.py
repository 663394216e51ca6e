"""The other side of `outbox-drain`: the same posts from a script, one after the other on one connection."""

import json
from http.client import HTTPConnection
from uuid import uuid4


def send(port: int, session: str, path: str, posts: list[list[list[str]]]) -> None:
    """Send every post and read its answer; all must be taken."""
    line = HTTPConnection("127.0.0.1", port, timeout=60)
    cookie = f"rinklog_session={session}"
    line.request("GET", "/hello/", headers={"Cookie": cookie})
    answer = line.getresponse()
    token = json.loads(answer.read())["token"]
    given = [value for name, value in answer.getheaders() if name.lower() == "set-cookie"]
    cookie = "; ".join([cookie, *(value.split(";")[0] for value in given)])
    for fields in posts:
        edge = uuid4().hex
        parts = "".join(
            f'--{edge}\r\nContent-Disposition: form-data; name="{name}"\r\n\r\n{value}\r\n'
            for name, value in fields
        )
        headers = {
            "Content-Type": f"multipart/form-data; boundary={edge}",
            "Cookie": cookie,
            "X-CSRFToken": token,
            "X-Outbox": "1",
        }
        line.request("POST", path, f"{parts}--{edge}--\r\n".encode(), headers)
        answer = line.getresponse()
        body = answer.read()
        assert answer.status == 200, body
    line.close()
