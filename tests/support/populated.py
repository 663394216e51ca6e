"""The cast of the tests inside a real, running site, and a phone that posts floods to it."""

import json
import os
import subprocess
import sys
from dataclasses import dataclass
from http.client import HTTPConnection, HTTPException
from urllib.parse import urlencode
from uuid import UUID, uuid4

from tests.support.site import ROOT, Site
from tests.support.sqlite import execute

MAKE_CAST = """
import django, json
django.setup()
from django.test import Client
from tests.support.cast import make_cast
cast, client = make_cast(), Client()
client.force_login(cast.cleo)
print(json.dumps({
    "session": client.cookies["rinklog_session"].value, "slug": cast.rink.slug,
    "zones": [zone.id for zone in cast.zones[:2]], "person": str(cast.cleo.id),
}))
"""


@dataclass
class Phone:
    """Cleo's phone, signed in to a real site."""

    site: Site
    session: str
    slug: str
    zones: list[int]
    person: str

    def post_flood(self, id: UUID, *, litres: int = 400, hang_up: bool = False) -> int:
        """Post one flood; returns the status, or 0 for silence. `hang_up` ends the call before the answer."""
        token = "a" * 32
        headers = {
            "Content-Type": "application/x-www-form-urlencoded",
            "Cookie": f"rinklog_session={self.session}; rinklog_csrf={token}",
            "X-CSRFToken": token,
        }
        line = HTTPConnection("127.0.0.1", self.site.port, timeout=30)
        try:
            line.request("POST", f"/r/{self.slug}/log/flood/", self.form(id, litres), headers)
            return 0 if hang_up else line.getresponse().status
        except (OSError, HTTPException):
            return 0
        finally:
            line.close()

    def form(self, id: UUID, litres: int) -> str:
        """What the form sends."""
        fields: dict[str, object] = {
            "id": str(id),
            "zones": self.zones,
            "by": "amount",
            "amount": str(litres),
            "water": "cold",
            "tool": "hose",
            "started": "2026-01-15T21:00",
            f"minutes-{self.person}": "45",
        }
        return urlencode(fields, doseq=True)

    def stored(self) -> list[tuple[UUID, float]]:
        """The id and the water [m³] of every entry in the site's database."""
        rows = execute(self.site.data / "rinklog.sqlite3", "SELECT id, water_m3 FROM work_entry")
        return [(UUID(id), water_m3) for id, water_m3 in rows]


def phone_on(site: Site) -> Phone:
    """Put the cast into a running site and return Cleo's phone."""
    environ = {**os.environ, "RINKLOG_DATA": str(site.data), "DJANGO_SETTINGS_MODULE": "rinklog.settings"}
    ended = subprocess.run(
        [sys.executable, "-c", MAKE_CAST], cwd=ROOT, env=environ, capture_output=True, text=True
    )
    assert ended.returncode == 0, ended.stderr
    return Phone(site, **json.loads(ended.stdout))


def new_id() -> UUID:
    """An id as a phone makes it."""
    return uuid4()
