"""The processes of a site: what runs, with which command line and environment."""

import os
import sys
from socket import socket

from django.conf import settings

from rinklog.console.certificate import Certificate
from rinklog.console.ports import Ports
from rinklog.console.supervisor import Child

CELERY = [sys.executable, "-m", "celery", "-A", "rinklog.celery"]


def children(ports: Ports, certificate: Certificate | None) -> list[Child]:
    """Web, worker and clock."""
    environ = environment(ports)
    made = [web("web", ports.http_sockets, [], environ)]
    if certificate:
        pair = ["--certfile", str(certificate.certificate), "--keyfile", str(certificate.key)]
        made.append(web("web-https", ports.https_sockets, pair, environ))
    # Two for what takes long, the estimate and the advice, and one that is free to send an alarm meanwhile.
    worker = [*CELERY, "worker", "--pool", "prefork", "--concurrency", "3", "--loglevel", "INFO"]
    quiet = ["--without-gossip", "--without-mingle", "--without-heartbeat", "--hostname", "worker@localhost"]
    made.append(Child("worker", [*worker, *quiet], environ))
    diary = str(settings.DATA_DIR / "beat")
    made.append(
        Child("beat", [*CELERY, "beat", "--loglevel", "INFO", "--schedule", diary, "--pidfile="], environ)
    )
    return made


def environment(ports: Ports) -> dict[str, str]:
    """What every child is told."""
    return {
        **os.environ,
        "RINKLOG_DATA": str(settings.DATA_DIR),
        "RINKLOG_HTTPS_PORT": str(ports.https),
        "PYTHONPATH": os.pathsep.join(
            filter(None, [str(settings.BASE_DIR), os.environ.get("PYTHONPATH", "")])
        ),
        "PYTHONUNBUFFERED": "1",
    }


def web(name: str, sockets: list[socket], extra: list[str], environ: dict[str, str]) -> Child:
    """A gunicorn master on sockets that the parent keeps."""
    handles = [opened.fileno() for opened in sockets]
    binds = [word for handle in handles for word in ("--bind", f"fd://{handle}")]
    command = [
        sys.executable,
        "-m",
        "gunicorn",
        "-c",
        "python:rinklog.console.gunicorn_settings",
        *binds,
        *extra,
    ]
    return Child(name, [*command, "rinklog.wsgi:application"], environ, handles)
