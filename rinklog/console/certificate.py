"""A certificate of the site's own, so that phones on the local network get HTTPS from the first start."""

import ipaddress
import os
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

LIVES = timedelta(days=397)  # phones refuse server certificates that live much longer
RENEW_BEFORE = timedelta(days=30)


@dataclass(frozen=True)
class Certificate:
    """The two files that a web server needs."""

    certificate: Path
    key: Path


def own_certificate(folder: Path, *, names: list[str], addresses: list[str], now: datetime) -> Certificate:
    """Return the site's certificate; a missing or ending one, or one that lacks an address, is made anew."""
    pair = Certificate(folder / "certificate.pem", folder / "key.pem")
    if not _serves(pair, names, addresses, now):
        folder.mkdir(parents=True, exist_ok=True)
        _make(pair, names, addresses, now)
    return pair


def _serves(pair: Certificate, names: list[str], addresses: list[str], now: datetime) -> bool:
    """Whether the files are there, fresh, and name every way to this machine."""
    if not (pair.certificate.exists() and pair.key.exists()):
        return False
    try:
        found = x509.load_pem_x509_certificate(pair.certificate.read_bytes())
        ways = found.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except (ValueError, x509.ExtensionNotFound):
        return False
    named = set(ways.get_values_for_type(x509.DNSName))
    named |= {str(address) for address in ways.get_values_for_type(x509.IPAddress)}
    return found.not_valid_after_utc > now + RENEW_BEFORE and named >= {*names, *addresses}


def _make(pair: Certificate, names: list[str], addresses: list[str], now: datetime) -> None:
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"rinklog on {names[0]}"[:64])])
    ways: list[x509.GeneralName] = [x509.DNSName(name) for name in names]
    ways += [x509.IPAddress(ipaddress.ip_address(address)) for address in addresses]
    certificate = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now + LIVES)
        .add_extension(x509.SubjectAlternativeName(ways), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(key, hashes.SHA256())
    )
    _write(
        pair.key,
        key.private_bytes(
            serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
        ),
    )
    _write(pair.certificate, certificate.public_bytes(serialization.Encoding.PEM))


def _write(path: Path, content: bytes) -> None:
    """Put a file in place whole, readable by its owner only."""
    draft = path.with_suffix(".new")
    handle = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(handle, "wb") as file:
        file.write(content)
    draft.replace(path)
