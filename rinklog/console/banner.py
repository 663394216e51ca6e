"""What `up` says when it is ready: where to open the site, and how to claim it."""

from django.utils.translation import gettext as _

from rinklog.console.ports import Ports


def banner(ports: Ports, addresses: list[str], token: str) -> str:
    """The few lines that a keeper reads in the terminal."""
    local = f"http://localhost:{ports.http}"
    lines = ["", _("rinklog is up."), _("  On this machine:  %s/") % local]
    if ports.https:
        lines += [
            _("  On a phone:       %s/") % f"https://{bracketed(a)}:{ports.https}" for a in addresses[:3]
        ]
        lines.append(_("  The phone warns once: the certificate is this machine's own."))
    if ports.https_moved:
        lines.append(_("  HTTPS is on port %s, because the usual one is taken.") % ports.https)
    if token:
        lines += ["", _("  Nobody keeps this site yet. Claim it with this link, once, within a week:")]
        lines.append(f"  {local}/claim/{token}/")
    return "\n".join([*lines, "", _("  Ctrl-C stops everything."), ""])


def bracketed(address: str) -> str:
    """An address as it stands in a link."""
    return f"[{address}]" if ":" in address else address
