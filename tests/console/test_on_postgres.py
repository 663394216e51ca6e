"""The same site on PostgreSQL: tables, the invented season, and pages of every sort read from it."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.support.site import ROOT

pytestmark = [pytest.mark.servers, pytest.mark.slow]

# Each asks the database for something that SQLite and PostgreSQL do differently: dates, sums, JSON, order, windows.
PAGES = (
    "",
    "log/",
    "log/?kind=flood&since=2020-01-01",
    "map/",
    "hazards/",
    "season/",
    "records/",
    "setup/",
    "crew/",
)
LOOK = f"""
import django, json
django.setup()
from django.db import connection
from django.test import Client
from rinklog.crew.models import Person
from rinklog.rink.models import Rink
from rinklog.work.models import Entry
client = Client()
client.force_login(Person.objects.get(login="runa"))
slug = Rink.objects.get().slug
print(json.dumps({{
    "vendor": connection.vendor, "entries": Entry.objects.count(),
    "pages": {{page: client.get(f"/r/{{slug}}/{{page}}").status_code for page in {PAGES!r}}},
}}))
"""


def run(*command: str, environ: dict[str, str]) -> str:
    """Run one command against that database; its stdout."""
    ended = subprocess.run(command, cwd=ROOT, env=environ, capture_output=True, text=True, timeout=240)
    assert ended.returncode == 0, ended.stderr[-2000:]
    return ended.stdout


def test_tables_a_season_and_its_pages_stand_on_postgresql(tmp_path: Path, postgres_server: str) -> None:
    environ = os.environ | {
        "DATABASE_URL": postgres_server,
        "RINKLOG_DATA": str(tmp_path),
        "RINKLOG_NO_BOOTSTRAP": "1",
        "RINKLOG_HOSTS": "testserver",
        "DJANGO_SETTINGS_MODULE": "rinklog.settings",
    }
    run(sys.executable, "manage.py", "migrate", environ=environ)
    run(sys.executable, "manage.py", "fill_demo", environ=environ)
    seen = json.loads(run(sys.executable, "-c", LOOK, environ=environ).splitlines()[-1])
    assert seen["vendor"] == "postgresql"
    assert seen["entries"] > 50
    assert seen["pages"] == dict.fromkeys(PAGES, 200)
    assert not (tmp_path / "rinklog.sqlite3").exists()
