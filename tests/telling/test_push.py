"""Push to a service on loopback: encrypted for the device, signed by the site, forgotten when the device is gone."""

import base64
import datetime as dt
import json
from pathlib import Path
from typing import Any

import pytest
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import encode_dss_signature

from rinklog.facts import Refused
from rinklog.telling.models import Delivery, Device
from rinklog.telling.push import is_push_service
from rinklog.telling.services import MOST_DEVICES, Wanted, add_device, wish
from rinklog.telling.vapid import key_file, public_key
from tests.support.cast import NOW, Cast
from tests.support.messages import tell_one
from tests.support.push_service import PushService
from tests.telling.conftest import Clock

MINUTE, HOUR = dt.timedelta(minutes=1), dt.timedelta(hours=1)


def on_phone(cast: Cast, service: PushService, **more: str) -> Device:
    """Cleo's phone asks for push."""
    values = {"endpoint": service.endpoint, "name": "Chrome Android", **service.keys()} | more
    return add_device(person=cast.cleo, now=NOW, **values)


def fates() -> list[tuple[str, str]]:
    """State and fate of every delivery, in order."""
    return list(Delivery.objects.order_by("id").values_list("state", "fate"))


def test_the_device_reads_what_was_said_once(cast: Cast, clock: Clock, push_service: PushService) -> None:
    on_phone(cast, push_service)
    tell_one(cast, cast.cleo, cast.dag, kind="storm-watch", text="Wind turns to 14 m/s at nine.")
    clock.send()
    clock.send(NOW + HOUR)
    (note,) = push_service.notes()
    assert (note["title"], note["text"]) == ("Millpond Rink", "Wind turns to 14 m/s at nine.")
    assert note["url"] == f"/r/{cast.rink.slug}/log/"
    assert fates() == [("sent", "")]


def test_the_site_signs_with_the_key_that_the_browser_was_told(
    cast: Cast, clock: Clock, push_service: PushService
) -> None:
    on_phone(cast, push_service)
    tell_one(cast, cast.cleo, kind="leak")
    clock.send()
    ((headers, _body),) = push_service.posts
    assert headers["content-encoding"] == "aes128gcm"
    assert headers["ttl"] == "86400"
    # RFC 8292: "vapid t=JWT, k=key"; the JWT is signed by ES256 (RFC 7515), checked here by hand.
    scheme, _, rest = headers["authorization"].partition(" ")
    parts = dict(part.strip().split("=", 1) for part in rest.split(","))
    assert (scheme, parts["k"]) == ("vapid", public_key())
    signed, _, signature = parts["t"].rpartition(".")
    raw = unpadded(signature)
    point = ec.EllipticCurvePublicKey.from_encoded_point(ec.SECP256R1(), unpadded(parts["k"]))
    der = encode_dss_signature(int.from_bytes(raw[:32]), int.from_bytes(raw[32:]))
    point.verify(der, signed.encode(), ec.ECDSA(hashes.SHA256()))
    claims = json.loads(unpadded(signed.split(".")[1]))
    assert claims["aud"] == push_service.endpoint.removesuffix("/device/1")
    assert claims["sub"].startswith("mailto:")


def unpadded(text: str) -> bytes:
    """The bytes of base64url without padding."""
    return base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))


@pytest.mark.parametrize("answer", [404, 410])
def test_a_device_that_is_gone_is_forgotten_with_all_that_waits_for_it(
    cast: Cast, clock: Clock, push_service: PushService, answer: int
) -> None:
    on_phone(cast, push_service)
    tell_one(cast, cast.cleo, kind="leak")
    tell_one(cast, cast.cleo)  # gathered, still waiting
    push_service.answer = answer
    clock.send()
    assert not Device.objects.exists()
    assert fates() == [("gone", "forgotten")] * 2
    clock.send(NOW + HOUR)
    assert len(push_service.posts) == 1


def test_a_busy_service_is_asked_again_and_a_refusal_is_final(
    cast: Cast, clock: Clock, push_service: PushService
) -> None:
    on_phone(cast, push_service)
    tell_one(cast, cast.cleo, kind="leak")
    push_service.answer = 503
    clock.send()
    assert fates() == [("waiting", "not-now")]
    push_service.answer = 400
    clock.send(NOW + 10 * MINUTE)
    assert fates() == [("failed", "refused")]


def test_a_service_that_is_not_there_is_asked_again(
    cast: Cast, clock: Clock, push_service: PushService, settings: Any
) -> None:
    on_phone(cast, push_service)
    tell_one(cast, cast.cleo, kind="leak")
    Device.objects.update(endpoint="http://127.0.0.1:9/nobody")  # the discard port: nobody listens
    clock.send()
    assert fates() == [("waiting", "not-now")]


def test_a_redirection_is_not_followed(cast: Cast, clock: Clock, push_service: PushService) -> None:
    on_phone(cast, push_service)
    tell_one(cast, cast.cleo, kind="leak")
    push_service.answer = 307
    clock.send()
    assert len(push_service.posts) == 1
    assert fates()[0][0] != "sent"


def test_what_can_wait_rings_once_an_hour_at_most(
    cast: Cast, clock: Clock, push_service: PushService
) -> None:
    wish(person=cast.cleo, wanted=Wanted(gather="hour"))
    on_phone(cast, push_service)
    for n in range(3):
        tell_one(cast, cast.cleo, text=f"News {n}.")
    clock.send(NOW + HOUR)
    (note,) = push_service.notes()
    assert note["title"] == "Millpond Rink: 3 messages"
    assert note["text"] == "News 0.\nNews 1.\nNews 2."
    assert note["url"] == f"/r/{cast.rink.slug}/inbox/"


@pytest.mark.parametrize(
    "endpoint",
    [
        "https://elsewhere.example/push",
        "http://fcm.googleapis.com/fcm/send/x",  # not encrypted
        "https://fcm.googleapis.com.elsewhere.example/x",
        "https://evilpush.services.mozilla.com.example/x",
        "https://user@fcm.googleapis.com/x",
        "https://169.254.169.254/latest",
        "https://[::1/x",
        "file:///etc/passwd",
        "",
    ],
)
def test_the_site_posts_to_known_push_services_only(cast: Cast, endpoint: str) -> None:
    assert not is_push_service(endpoint)
    keys = PushService.keys(fake_browser())
    with pytest.raises(Refused):
        add_device(person=cast.cleo, endpoint=endpoint, name="", now=NOW, **keys)


def test_the_usual_services_are_known() -> None:
    for host in ("fcm.googleapis.com", "updates.push.services.mozilla.com", "web.push.apple.com"):
        assert is_push_service(f"https://{host}/some/device")


def fake_browser() -> Any:
    """A browser's keys without a service behind it."""

    class Browser:
        key = ec.generate_private_key(ec.SECP256R1())
        secret = b"sixteen bytes ok"

    return Browser()


@pytest.mark.parametrize(
    "wrong",
    [
        {"p256dh": "AAAA"},
        {"auth": "AAAA"},
        {"p256dh": "no base64 at all!"},
        {"p256dh": "B" + "A" * 86},  # 65 bytes that are no point of the curve
    ],
)
def test_keys_that_are_no_keys_are_refused(
    cast: Cast, push_service: PushService, wrong: dict[str, str]
) -> None:
    with pytest.raises(Refused, match="no usable keys"):
        on_phone(cast, push_service, **wrong)


def test_a_device_has_one_owner_and_a_person_a_few_devices(cast: Cast, push_service: PushService) -> None:
    mine = on_phone(cast, push_service)
    again = on_phone(cast, push_service)
    assert mine.id == again.id
    taken = add_device(
        person=cast.dag, endpoint=push_service.endpoint, name="", now=NOW, **push_service.keys()
    )
    assert (taken.id, taken.person_id) == (mine.id, cast.dag.id)
    for n in range(MOST_DEVICES):
        on_phone(cast, push_service, endpoint=f"{push_service.endpoint}{n}")
    with pytest.raises(Refused, match=f"You have {MOST_DEVICES} devices"):
        on_phone(cast, push_service, endpoint=f"{push_service.endpoint}more")


def test_the_key_is_made_once_and_for_its_owners_eyes_only(tmp_path: Path, settings: Any) -> None:
    settings.DATA_DIR = tmp_path / "new"
    first = public_key()
    assert public_key() == first
    assert key_file().stat().st_mode & 0o777 == 0o600
    # The uncompressed point of P-256 is 65 bytes that begin with 4 (SEC 1, section 2.3.3).
    assert (len(unpadded(first)), unpadded(first)[0]) == (65, 4)
    kept = serialization.load_pem_private_key(key_file().read_bytes(), password=None)
    assert isinstance(kept, ec.EllipticCurvePrivateKey)
    settings.DATA_DIR = tmp_path / "other"
    assert public_key() != first
