"""The steps of `up`, in order: a place, the ports, the database, the files, the children, the banner."""

import fcntl
import os
import sys
from collections.abc import Callable
from io import StringIO
from pathlib import Path

from django.conf import settings
from django.core.management import call_command
from django.db import Error as DatabaseError
from django.db import connections
from django.utils import timezone

from rinklog.archive.demo import place
from rinklog.console import network
from rinklog.console.banner import banner
from rinklog.console.certificate import Certificate, own_certificate
from rinklog.console.children import children
from rinklog.console.ports import Ports, open_ports
from rinklog.console.staticfiles import collect_static
from rinklog.console.supervisor import Supervisor
from rinklog.crew.models import Membership, Person
from rinklog.rink.models import Rink
from rinklog.telling.vapid import key_file
from rinklog.upkeep import services

Say = Callable[[str], None]


class CannotServeError(Exception):
    """One sentence: why the site cannot be served."""


def serve(*, port: int, demo: bool, say: Say) -> None:
    """Serve until a signal; raises CannotServeError before anything was started."""
    data = settings.DATA_DIR
    lock = hold(data)
    ports = take_ports(port)
    prepare()
    demo_words = demo_of_the_site(wanted=demo)
    certificate = None if settings.BEHIND_PROXY else certificate_of(data / "tls")
    supervisor = Supervisor(data / "logs")
    for child in children(ports, certificate):
        supervisor.add(child)
    token = "" if has_keeper() else services.make_claim_link(now=timezone.now())
    connections.close_all()
    say(banner(ports, network.lan_addresses(), token) + demo_words)
    supervisor.run()
    os.close(lock)


def hold(data: Path) -> int:
    """Make the data folder ours for as long as this process lives."""
    try:
        data.mkdir(parents=True, exist_ok=True)
        handle = os.open(data / "up.lock", os.O_RDWR | os.O_CREAT, 0o600)
    except OSError as error:
        raise CannotServeError(
            f"the data folder {data} cannot be written ({error.strerror}); --data DIR."
        ) from error
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError as error:
        raise CannotServeError(
            f"another `up` already serves {data}; stop it, or give this one --data DIR."
        ) from error
    return handle


def take_ports(port: int) -> Ports:
    """Listen before anything else is done, so that a taken port costs nobody a wait."""
    try:
        return open_ports(port, https=not settings.BEHIND_PROXY)
    except (OSError, OverflowError) as error:
        reason = getattr(error, "strerror", None) or "permitted are 1 to 65535"
        raise CannotServeError(f"port {port} cannot be used ({reason}); give another with --port.") from error


def prepare() -> None:
    """Bring database and files up to this version."""
    progress("preparing the database")
    try:
        call_command("migrate", interactive=False, verbosity=0)
        services.forget_heartbeats()
    except DatabaseError as error:
        raise CannotServeError(f"the database does not answer: {str(error).splitlines()[0]}") from error
    key_file()  # phones ask for push under this key from the first day on
    if collect_static(settings.STATIC_ROOT, settings.DATA_DIR / "static-stamp"):
        progress("collected the static files")


def demo_of_the_site(*, wanted: bool) -> str:
    """Fill the invented rink when asked, and say at every start who can sign in as long as it is there.

    Its passwords are known to everybody, so it never joins a site that has people of its own.
    """
    here = Rink.objects.filter(name=place.RINK, place=place.TOWN).exists()
    if not (wanted or here):
        return ""
    if not here and Person.objects.exists():
        raise CannotServeError(
            f"the site in {settings.DATA_DIR} has people of its own, and everybody knows the demo's passwords; "
            "give the demo a folder of its own with --data DIR."
        )
    if not here:
        progress("filling the invented rink")
    said = StringIO()
    call_command("fill_demo", stdout=said)
    return "".join(f"  {line}\n" for line in said.getvalue().splitlines())


def certificate_of(folder: Path) -> Certificate:
    """The certificate named by the environment, else the site's own."""
    given = Certificate(Path(settings.CERTIFICATE), Path(settings.CERTIFICATE_KEY))
    if settings.CERTIFICATE or settings.CERTIFICATE_KEY:
        for name, path in (("RINKLOG_CERT", given.certificate), ("RINKLOG_CERT_KEY", given.key)):
            if not path.is_file() or not os.access(path, os.R_OK):
                raise CannotServeError(
                    f"{name} is {str(path)!r}, which is no readable file; set both or none."
                )
        return Certificate(given.certificate.resolve(), given.key.resolve())
    addresses = ["127.0.0.1", "::1", *network.lan_addresses()]
    return own_certificate(folder, names=network.names(), addresses=addresses, now=timezone.now())


def has_keeper() -> bool:
    """Whether anybody keeps a rink of this site."""
    return Membership.objects.filter(role=Membership.Role.KEEPER, left_at=None).exists()


def progress(sentence: str) -> None:
    """Progress goes to stderr; stdout is the banner's."""
    print(f"rinklog: {sentence}", file=sys.stderr, flush=True)
