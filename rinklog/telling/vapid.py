"""The site's own key for Web Push (VAPID, RFC 8292): made once, kept in the data folder, readable by its owner only."""

import base64
import os
from functools import cache
from pathlib import Path
from tempfile import NamedTemporaryFile

from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric import ec
from django.conf import settings

NAME = "push-key.pem"


def key_file() -> Path:
    """The file of the private key, made if it is not there; of two processes at once, the first one's key stays."""
    path = Path(settings.DATA_DIR) / NAME
    if not path.exists():
        path.parent.mkdir(parents=True, exist_ok=True)
        key = ec.generate_private_key(ec.SECP256R1())
        text = key.private_bytes(
            serialization.Encoding.PEM,
            serialization.PrivateFormat.PKCS8,
            serialization.NoEncryption(),
        )
        with NamedTemporaryFile(dir=path.parent, prefix=NAME) as draft:
            draft.write(text)
            draft.flush()
            try:
                os.link(draft.name, path)
            except FileExistsError:
                return path
    return path


@cache
def _public_key(text: bytes) -> str:
    key = serialization.load_pem_private_key(text, password=None)
    point = key.public_key().public_bytes(
        serialization.Encoding.X962, serialization.PublicFormat.UncompressedPoint
    )
    return base64.urlsafe_b64encode(point).rstrip(b"=").decode()


def public_key() -> str:
    """The public key as a browser wants it: the uncompressed point in base64url."""
    return _public_key(key_file().read_bytes())


def are_keys(p256dh: str, auth: str) -> bool:
    """Whether a browser's two keys are what RFC 8291 asks for: a point on P-256 and 16 bytes, in base64url."""
    try:
        point, secret = (
            base64.b64decode(pad(text), altchars=b"-_", validate=True) for text in (p256dh, auth)
        )
        ec.EllipticCurvePublicKey.from_encoded_point(ec.SECP256R1(), point)
    except ValueError:
        return False
    return len(secret) == 16


def pad(text: str) -> str:
    """Base64 as Python reads it; browsers leave the padding away."""
    return text + "=" * (-len(text) % 4)
