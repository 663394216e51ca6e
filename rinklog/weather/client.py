"""Asking a weather service over HTTP with good manners: who we are, only when something may be new, never too long.

Nothing here knows rows or the clock: what came of it goes back to `pulling.py`, which decides and remembers.
"""

import datetime as dt
import time
from collections.abc import Mapping
from dataclasses import dataclass
from email.utils import parsedate_to_datetime
from urllib.parse import urljoin, urlsplit

import urllib3
from django.utils.translation import gettext as _
from urllib3.exceptions import (
    ConnectTimeoutError,
    HTTPError,
    IncompleteRead,
    MaxRetryError,
    NewConnectionError,
    ProtocolError,
    ReadTimeoutError,
)

CONNECT_S, READ_S = 5.0, 10.0
WHOLE_S = 25.0
"""The longest one answer may take from the first byte to the last."""
MOST_BYTES = 8 * 2**20
PIECE_BYTES = 65_536
TRIES = 2
BACK_OFF_S = 0.5
MOST_REDIRECTS = 3
REDIRECTS = (301, 302, 303, 307, 308)
WORTH_ANOTHER_TRY = (500, 502, 503, 504)
LONGEST_LIFE = dt.timedelta(hours=12)


class NoAnswer(Exception):
    """Nothing usable came; the sentence says what did. `wait` is how long the service asked to be left alone."""

    def __init__(self, code: str, sentence: str, wait: dt.timedelta | None = None) -> None:
        super().__init__(sentence)
        self.code, self.sentence, self.wait = code, sentence, wait


@dataclass(frozen=True)
class Manners:
    """Who asks whom: the service's name for sentences, and our name and contact for its operators."""

    name: str
    agent: str


@dataclass(frozen=True)
class Answer:
    """What came: no body when it is still what we have. `life` is how long it need not be asked for again."""

    body: bytes | None
    etag: str
    last_modified: str
    life: dt.timedelta | None


def get(url: str, manners: Manners, *, etag: str = "", last_modified: str = "") -> Answer:
    """Ask for an address. `etag` and `last_modified` are those of the answer we have. Errors: NoAnswer."""
    headers = {"User-Agent": manners.agent, "Accept-Encoding": "gzip", "Accept": "*/*"}
    if etag:
        headers["If-None-Match"] = etag
    if last_modified:
        headers["If-Modified-Since"] = last_modified
    with urllib3.PoolManager(num_pools=2) as pool:
        for _turn in range(MOST_REDIRECTS + 1):
            response = _request(pool, url, headers, manners)
            if response.status not in REDIRECTS:
                return _answer(response, manners)
            response.close()
            url = _next(url, response, manners)
    raise NoAnswer("redirects", _("%(name)s sends us round in circles.") % {"name": manners.name})


def _request(
    pool: urllib3.PoolManager, url: str, headers: dict[str, str], manners: Manners
) -> urllib3.BaseHTTPResponse:
    retry = urllib3.Retry(
        total=TRIES,
        redirect=False,
        status_forcelist=WORTH_ANOTHER_TRY,
        backoff_factor=BACK_OFF_S,
        respect_retry_after_header=False,
        raise_on_status=False,
    )
    try:
        return pool.request(
            "GET",
            url,
            headers=headers,
            timeout=urllib3.Timeout(connect=CONNECT_S, read=READ_S),
            retries=retry,
            redirect=False,
            preload_content=False,
        )
    except HTTPError as error:
        raise _silence(error, manners) from None


def _silence(error: HTTPError, manners: Manners) -> NoAnswer:
    """What a failed call was."""
    cause = error.reason if isinstance(error, MaxRetryError) and error.reason else error
    if isinstance(cause, NewConnectionError):
        return NoAnswer("unreachable", _("%(name)s cannot be reached.") % {"name": manners.name})
    if isinstance(cause, ConnectTimeoutError | ReadTimeoutError):
        seconds = f"{CONNECT_S if isinstance(cause, ConnectTimeoutError) else READ_S:g}"
        sentence = _("%(name)s did not answer within %(seconds)s s.")
        return NoAnswer("slow", sentence % {"name": manners.name, "seconds": seconds})
    if isinstance(cause, IncompleteRead | ProtocolError):
        return NoAnswer("cut-off", _("The answer of %(name)s was cut off.") % {"name": manners.name})
    sentence = _("%(name)s cannot be reached (%(kind)s).")
    return NoAnswer("unreachable", sentence % {"name": manners.name, "kind": type(cause).__name__})


def _next(url: str, response: urllib3.BaseHTTPResponse, manners: Manners) -> str:
    """Where a redirect leads; only within the same service."""
    there = urljoin(url, response.headers.get("Location", ""))
    if urlsplit(there)[:2] != urlsplit(url)[:2]:
        host = urlsplit(there).hostname or "?"
        sentence = _("%(name)s sends us to another host, %(host)s; that is not followed.")
        raise NoAnswer("redirects", sentence % {"name": manners.name, "host": host[:80]})
    return there


def _answer(response: urllib3.BaseHTTPResponse, manners: Manners) -> Answer:
    if response.status not in (200, 203, 304):
        response.close()
        raise refusal(response.status, response.headers, manners)
    try:
        body = None if response.status == 304 else _body(response, manners)
    except HTTPError as error:
        raise _silence(error, manners) from None
    finally:
        response.close()
    head = response.headers
    return Answer(body, head.get("ETag", "")[:200], head.get("Last-Modified", "")[:60], life(head))


def _body(response: urllib3.BaseHTTPResponse, manners: Manners) -> bytes:
    began, size, pieces = time.monotonic(), 0, []
    while piece := response.read1(PIECE_BYTES):
        pieces.append(piece)
        size += len(piece)
        if size > MOST_BYTES:
            sentence = _("%(name)s sent more than %(most)d MB; allowed is at most that.")
            raise NoAnswer("too-large", sentence % {"name": manners.name, "most": MOST_BYTES // 2**20})
        if time.monotonic() - began > WHOLE_S:
            sentence = _("%(name)s was still sending after %(seconds)s s; it was given up.")
            raise NoAnswer("slow", sentence % {"name": manners.name, "seconds": f"{WHOLE_S:g}"})
    return b"".join(pieces)


def refusal(status: int, headers: Mapping[str, str], manners: Manners) -> NoAnswer:
    """What an answer that is no success means."""
    said = {"name": manners.name, "status": status}
    if status in (401, 403):
        sentence = _(
            "%(name)s refuses us (%(status)d). Its terms ask who is calling: "
            "check the contact address of the weather sources."
        )
        return NoAnswer("refused", sentence % said)
    if status == 429:
        wait = _wait(headers)
        sentence = _("%(name)s says that we ask too often (429); it is left alone for %(minutes)d minutes.")
        return NoAnswer(
            "too-often", sentence % (said | {"minutes": -(-wait.seconds // 60) + wait.days * 1440}), wait
        )
    if status in (404, 422):
        return NoAnswer("nowhere", _("%(name)s has nothing for this place (%(status)d).") % said)
    return NoAnswer("failed", _("%(name)s answered %(status)d.") % said)


def _wait(headers: Mapping[str, str]) -> dt.timedelta:
    """How long a service asks to be left alone, between a minute and a day; a quarter of an hour if it does not say."""
    said = headers.get("Retry-After", "")
    seconds = 900.0
    if said.strip().isdigit():
        seconds = float(said.strip()[:9])
    elif (until := _date(said)) and (sent := _date(headers.get("Date", ""))):
        seconds = (until - sent).total_seconds()
    return dt.timedelta(seconds=min(max(seconds, 60.0), 86_400.0))


def life(headers: Mapping[str, str]) -> dt.timedelta | None:
    """How long an answer is fresh: by max-age, else Expires less Date, so that no clock of ours is compared to theirs."""
    for part in headers.get("Cache-Control", "").lower().split(","):
        name, _sep, value = part.strip().partition("=")
        if name == "max-age" and value.isdigit():
            return min(dt.timedelta(seconds=int(value[:9])), LONGEST_LIFE)
    until, sent = _date(headers.get("Expires", "")), _date(headers.get("Date", ""))
    if until is None or sent is None:
        return None
    return min(max(until - sent, dt.timedelta(0)), LONGEST_LIFE)


def _date(text: str) -> dt.datetime | None:
    try:
        at = parsedate_to_datetime(text)
    except (ValueError, TypeError, IndexError):
        return None
    return at if at.tzinfo else at.replace(tzinfo=dt.UTC)
