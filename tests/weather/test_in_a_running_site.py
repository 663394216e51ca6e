"""The whole way on a real site: a keeper saves the sources, the worker asks, the forecast lies in the database."""

import datetime as dt
import json
import os
import subprocess
import sys
from collections.abc import Callable
from http.client import HTTPConnection
from urllib.parse import urlencode

import pytest

from tests.support.forecasts import met_norway
from tests.support.processes import wait_for
from tests.support.site import ROOT, Site
from tests.support.sqlite import execute
from tests.support.weather_service import Reply, Service

pytestmark = [pytest.mark.servers, pytest.mark.slow]
MAKE_KEEPER = """
import django, json
django.setup()
from django.test import Client
from rinklog.rink.models import Rink
from tests.support.cast import make_cast
cast, client = make_cast(), Client()
Rink.objects.update(latitude=60.1, longitude=10.2)
client.force_login(cast.ada)
print(json.dumps([client.cookies["rinklog_session"].value, cast.rink.slug]))
"""


def keeper_of(site: Site) -> list[str]:
    """Put the cast into a running site; returns the keeper's session and the rink's slug."""
    environ = {**os.environ, "RINKLOG_DATA": str(site.data), "DJANGO_SETTINGS_MODULE": "rinklog.settings"}
    ended = subprocess.run(
        [sys.executable, "-c", MAKE_KEEPER], cwd=ROOT, env=environ, capture_output=True, text=True
    )
    assert ended.returncode == 0, ended.stderr
    return json.loads(ended.stdout)  # type: ignore[no-any-return]


def test_what_a_keeper_switches_on_is_asked_by_the_worker(
    start_site: Callable[..., Site], service: Service
) -> None:
    service.will(Reply(met_norway(dt.datetime.now(dt.UTC) - dt.timedelta(hours=1), [-5.0] * 48)))
    site = start_site(RINKLOG_WEATHER_URL_MET_NORWAY=service.url).wait_until_healthy()
    session, slug = keeper_of(site)
    token = "a" * 32
    headers = {
        "Content-Type": "application/x-www-form-urlencoded",
        "Cookie": f"rinklog_session={session}; rinklog_csrf={token}",
        "X-CSRFToken": token,
    }
    line = HTTPConnection("127.0.0.1", site.port, timeout=30)
    said = urlencode({"turn_met-norway": "1", "contact": "ada@rimvinkel.example"})
    line.request("POST", f"/r/{slug}/weather/sources/", said, headers)
    assert line.getresponse().status == 302
    line.close()

    def stored() -> bool:
        rows = execute(
            site.data / "rinklog.sqlite3", "SELECT count(*) FROM weather_forecasthour WHERE air_c = -5"
        )
        return rows[0][0] >= 46

    wait_for(stored, seconds=60, what="the forecast is stored")
    assert service.paths == ["/weatherapi/locationforecast/2.0/complete?lat=60.1&lon=10.2"]
