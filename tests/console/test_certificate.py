"""The site's own certificate, read back by OpenSSL rather than by the library that wrote it."""

import datetime as dt
import stat
import subprocess
from pathlib import Path

from rinklog.console.certificate import own_certificate

NOW = dt.datetime(2026, 1, 15, 20, 30, tzinfo=dt.UTC)
NAMES = ["hut", "hut.local", "localhost"]
ADDRESSES = ["127.0.0.1", "192.0.2.7"]  # RFC 5737: an address for documentation


def made(folder: Path, *, addresses: list[str] = ADDRESSES, now: dt.datetime = NOW) -> bytes:
    """Make or find the certificate and return its bytes."""
    pair = own_certificate(folder, names=NAMES, addresses=addresses, now=now)
    return pair.certificate.read_bytes()


def test_openssl_reads_every_name_and_address(tmp_path: Path) -> None:
    made(tmp_path)
    command = ["openssl", "x509", "-in", str(tmp_path / "certificate.pem"), "-noout", "-text"]
    text = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    for part in (
        "DNS:hut,",
        "DNS:hut.local,",
        "DNS:localhost,",
        "IP Address:127.0.0.1,",
        "IP Address:192.0.2.7",
    ):
        assert part in text
    assert "CA:FALSE" in text
    assert "Not After : Feb 16 20:30:00 2027 GMT" in text  # 397 days after 15 January 2026


def test_it_is_kept_until_a_month_before_its_end(tmp_path: Path) -> None:
    first = made(tmp_path)
    assert made(tmp_path, now=NOW + dt.timedelta(days=366)) == first
    assert made(tmp_path, now=NOW + dt.timedelta(days=368)) != first


def test_a_new_address_makes_it_anew_and_a_lost_one_does_not(tmp_path: Path) -> None:
    first = made(tmp_path)
    assert made(tmp_path, addresses=["127.0.0.1"]) == first
    assert made(tmp_path, addresses=["127.0.0.1", "192.0.2.8"]) != first


def test_a_damaged_one_is_made_anew(tmp_path: Path) -> None:
    made(tmp_path)
    (tmp_path / "certificate.pem").write_text("torn")
    assert made(tmp_path).startswith(b"-----BEGIN CERTIFICATE-----")


def test_the_key_is_its_owners_alone(tmp_path: Path) -> None:
    made(tmp_path)
    assert stat.S_IMODE((tmp_path / "key.pem").stat().st_mode) == 0o600
