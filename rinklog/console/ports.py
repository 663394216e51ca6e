"""The two ports of a site, opened once by the parent so that a restarted child finds its callers waiting."""

from dataclasses import dataclass
from socket import socket

from rinklog.console import network

HTTPS_ABOVE = 443


@dataclass(frozen=True)
class Ports:
    """Listening sockets for plain HTTP and for HTTPS; without HTTPS the port is 0."""

    http: int
    https: int
    http_sockets: list[socket]
    https_sockets: list[socket]

    @property
    def https_moved(self) -> bool:
        """Whether HTTPS had to go elsewhere than a person would expect."""
        return self.https not in (0, self.http + HTTPS_ABOVE)


def open_ports(port: int, *, https: bool) -> Ports:
    """Open the port asked for, or fail with OSError; HTTPS 443 above it or on the next free one."""
    http_sockets = network.listen(port)
    if not https:
        return Ports(port, 0, http_sockets, [])
    wanted = port + HTTPS_ABOVE
    https_port, https_sockets = network.listen_near(wanted if wanted < 65536 else 8443)
    return Ports(port, https_port, http_sockets, https_sockets)
