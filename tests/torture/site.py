"""The site under torture: `up` as shipped, killed without warning and started again on the same folder."""

import asyncio
import base64
import hashlib
import signal
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

from tests.support.site import Site, wait_until_gone

SLOW_START_S = 180.0


class TorturedSite:
    """One folder, served by one `up` after another."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.kills = folder, 0
        self.up: Site | None = None

    async def start(self, *words: str) -> int:
        """Serve; returns the HTTPS port when the site is healthy."""
        self.up = await asyncio.to_thread(Site, self.folder, *words)
        await asyncio.to_thread(self.up.wait_until_healthy, SLOW_START_S)
        return int(self.up.https_url.rpartition(":")[2])

    async def kill(self) -> None:
        """End `up` and all below it at once, as a power cut does."""
        assert self.up
        below = self.up.processes()
        self.up.process.send_signal(signal.SIGKILL)
        await asyncio.to_thread(self.up.process.wait, 30)
        await asyncio.to_thread(wait_until_gone, below)
        self.kills += 1

    async def stop(self) -> None:
        """End it properly, so that everything is on the disk."""
        if self.up:
            await asyncio.to_thread(self.up.stop)

    @property
    def certificate(self) -> Path:
        """The certificate that the site made for itself."""
        return self.folder / "tls" / "certificate.pem"

    @property
    def key(self) -> Path:
        """Its key; the proxy shows the same certificate."""
        return self.folder / "tls" / "key.pem"

    def pin(self) -> str:
        """SHA-256 of the certificate's public key, base64: Chromium trusts this one and checks all others as ever.

        A phone whose user has accepted the site's certificate is in the same place; switching all checks off would not
        do, since a service worker is refused behind a certificate error.
        """
        found = x509.load_pem_x509_certificate(self.certificate.read_bytes())
        key = found.public_key().public_bytes(Encoding.DER, PublicFormat.SubjectPublicKeyInfo)
        return base64.b64encode(hashlib.sha256(key).digest()).decode()
