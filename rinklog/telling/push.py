"""One Web Push (RFC 8030, encrypted by RFC 8291) to one device. The library is imported where it is used."""

import json
from email.utils import parseaddr
from urllib.parse import urlsplit

from django.conf import settings

from rinklog.telling.models import Device
from rinklog.telling.outcome import HandOver, Outcome, What
from rinklog.telling.vapid import key_file

TIMEOUT_S = 15
KEPT_S = 24 * 3600
"""How long a push service keeps a message for a phone that is off [s]: what is older is read in the inbox."""
LOOPBACK = ("127.0.0.1", "localhost", "::1")


def is_push_service(endpoint: str) -> bool:
    """Whether an address is one of a push service that this site posts to: a browser names it, so it is checked."""
    try:
        parts = urlsplit(endpoint)
        host, odd = parts.hostname or "", bool(parts.username or parts.password)
    except ValueError:
        return False
    named = any(
        host == known or known.startswith(".") and host.endswith(known) for known in settings.PUSH_HOSTS
    )
    return named and not odd and (parts.scheme == "https" or host in LOOPBACK)


def push(*, device: Device, note: dict[str, str], hand_over: HandOver) -> Outcome:
    """Push one note; `hand_over` is called before the request goes."""
    import requests
    from pywebpush import WebPushException, webpush

    if not is_push_service(device.endpoint):
        return Outcome(What.GONE)
    hand_over()
    try:
        webpush(
            {"endpoint": device.endpoint, "keys": {"p256dh": device.p256dh, "auth": device.auth}},
            json.dumps(note),
            vapid_private_key=str(key_file()),
            vapid_claims={"sub": f"mailto:{contact()}"},
            headers={"Urgency": "high"},
            ttl=KEPT_S,
            timeout=TIMEOUT_S,
            requests_session=one_hop(),
        )
    except WebPushException as error:
        return outcome_of(error.status_code, str(error.message))
    except (requests.ConnectTimeout, requests.exceptions.SSLError) as error:
        return Outcome(What.LATER, type(error).__name__)
    except requests.RequestException as error:
        refused = "NewConnectionError" in str(error) or "Connection refused" in str(error)
        return Outcome(What.LATER if refused else What.UNKNOWN, type(error).__name__)
    except ValueError as error:  # keys that are no keys
        return Outcome(What.GONE, type(error).__name__)
    return Outcome(What.SENT)


def contact() -> str:
    """Whom a push service may write to (RFC 8292, section 2.1); a site without mail names an address nobody has."""
    address = parseaddr(settings.DEFAULT_FROM_EMAIL)[1]
    return address if "." in address.rpartition("@")[2] else "rinklog@rinklog.invalid"


def one_hop() -> "requests.Session":  # type: ignore[name-defined]  # noqa: F821
    """A session that follows no redirection: a push service answers itself."""
    import requests

    session = requests.Session()
    session.max_redirects = 0
    return session


def outcome_of(status: int | None, reason: str) -> Outcome:
    """What a push service's refusal means (RFC 8030, sections 5 and 7.3)."""
    detail = reason.splitlines()[0][:200] if reason else str(status)
    if status in (404, 410):
        return Outcome(What.GONE, detail)
    if status is None or status == 429 or status >= 500:
        return Outcome(What.LATER, detail)
    return Outcome(What.NEVER, detail)
