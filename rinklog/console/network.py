"""This machine on its network: its names, its addresses, and sockets on its ports."""

import fcntl
import ipaddress
import re
import socket
import struct
from contextlib import suppress
from pathlib import Path

SIOCGIFADDR = 0x8915
# Bridges and tunnels that no phone can reach.
INNER = re.compile(r"^(lo|docker|br-|veth|virbr|tun|tap|wg|lxc)")


def names() -> list[str]:
    """The names under which this machine may be reached."""
    host = re.sub(r"[^a-z0-9-]", "", socket.gethostname().split(".")[0].lower())[:60].strip("-") or "rinklog"
    return list(dict.fromkeys([host, f"{host}.local", "localhost"]))


def lan_addresses() -> list[str]:
    """The addresses at which a phone on the same network reaches this machine; IPv4 first."""
    found = [_ipv4(name) for _, name in socket.if_nameindex() if not INNER.match(name)]
    return [address for address in [*found, *_ipv6()] if address]


def _ipv4(interface: str) -> str:
    """An interface's IPv4 address, or nothing."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            reply = fcntl.ioctl(probe.fileno(), SIOCGIFADDR, struct.pack("256s", interface.encode()[:15]))
        except OSError:
            return ""
    return socket.inet_ntoa(reply[20:24])


def _ipv6() -> list[str]:
    """Every global or site IPv6 address; link-local ones cannot be written in a browser."""
    table = Path("/proc/net/if_inet6")
    rows = [line.split() for line in table.read_text().splitlines()] if table.exists() else []
    every = [
        ipaddress.ip_address(int(row[0], 16).to_bytes(16, "big")) for row in rows if not INNER.match(row[5])
    ]
    return [str(address) for address in every if not address.is_link_local]


def listen(port: int) -> list[socket.socket]:
    """Listen on a port of every interface; OSError when another program has it."""
    opened = [_listen(socket.AF_INET, "0.0.0.0", port)]
    if socket.has_ipv6:
        with suppress(OSError):  # a machine without IPv6 is reached by IPv4
            opened.append(_listen(socket.AF_INET6, "::", port))
    return opened


def _listen(family: socket.AddressFamily, host: str, port: int) -> socket.socket:
    made = socket.socket(family, socket.SOCK_STREAM)
    try:
        made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        if family == socket.AF_INET6:
            made.setsockopt(socket.IPPROTO_IPV6, socket.IPV6_V6ONLY, 1)
        made.bind((host, port))
        made.listen(256)
    except OSError:
        made.close()
        raise
    return made


def listen_near(port: int, tries: int = 50) -> tuple[int, list[socket.socket]]:
    """Listen on a port or the next free one after it."""
    for candidate in range(port, min(port + tries, 65536)):
        try:
            return candidate, listen(candidate)
        except OSError:
            continue
    raise OSError(f"no free port from {port} to {port + tries - 1}")
