"""What both web servers share; the addresses and the certificate come on the command line."""

from typing import Any

from rinklog.console.tether import tether

worker_class = "gthread"
workers = 2
threads = 4
preload_app = True  # a killed worker is replaced by a fork, in milliseconds
timeout = 120  # a 20 MB photo over a weak signal
graceful_timeout = 8
keepalive = 15
backlog = 256
accesslog = None  # addresses of people and one-time links do not belong in a log
errorlog = "-"
control_socket_disable = True


def post_fork(server: Any, worker: Any) -> None:
    """A worker must not outlive a master that was killed."""
    tether(worker.ppid)
