"""Drill holes against the rule for machines: Naperville Park District IL, Maintenance guidelines (2023 plan)."""

import datetime as dt

import pytest
from django.test import Client

from rinklog.reports.thickness import Hole
from rinklog.rink.machine_rule import MachineRule
from rinklog.work.models import Entry
from tests.support.cast import NOW, Cast

NAPERVILLE = MachineRule(holes=3, least_m=0.1016)  # 4 in in 3 to 4 holes
PATH = "/r/{}/records/thickness/2026-01/"


@pytest.mark.parametrize(
    ("holes_mm", "met"),
    [
        ([101.6, 101.6, 101.6], True),
        ([150, 95, 150], False),
        ([150, 150], False),
        ([101.5, 110, 110, 110], False),
        ([110, 110, 110, 110], True),
        ([], False),
    ],
)
def test_every_hole_must_be_thick_enough_and_there_must_be_enough_of_them(
    holes_mm: list[float], met: bool
) -> None:
    assert NAPERVILLE.met_by([mm / 1000 for mm in holes_mm]) is met


def test_white_ice_counts_half() -> None:
    # Minnesota DNR: white ice is half as strong, 10 cm of it count 5.
    hole = Hole(root_id=None, at=NOW, zone="A1", by="", clear_m=0.05, white_m=0.10, water_below_m=None)  # type: ignore[arg-type]
    assert hole.counted_m == pytest.approx(0.10)


def drill(cast: Cast, clear_mm: float, minutes: int = 0) -> Entry:
    """Cleo drills a hole in one zone."""
    return cast.work(
        "drill-hole",
        now=NOW + dt.timedelta(minutes=minutes),
        zone_ids=(cast.zones[0].id,),
        details={"clear_ice_m": clear_mm / 1000},
    )


@pytest.mark.django_db
def test_the_page_says_what_the_rule_says_and_never_that_ice_is_safe(cast: Cast, client: Client) -> None:
    client.force_login(cast.eli)
    path = PATH.format(cast.rink.slug)
    drill(cast, 110)
    drill(cast, 120, 1)
    assert "1 more hole is needed" in client.get(path).content.decode()
    drill(cast, 101.6, 2)
    page = client.get(path).content.decode()
    assert "was met on this day; thinnest hole 101.6 mm. Whoever drives checks again." in page
    drill(cast, 95, 3)
    page = client.get(path).content.decode()
    assert "was not met: thinnest hole 95.0 mm" in page
    assert " safe" not in page.lower()


@pytest.mark.django_db
def test_holes_of_another_rink_or_month_are_not_shown(cast: Cast, client: Client) -> None:
    drill(cast, 110)
    client.force_login(cast.eli)
    assert "No drill hole" in client.get(PATH.format(cast.rink.slug).replace("-01/", "-02/")).content.decode()
    client.force_login(cast.rut)
    assert "No drill hole" in client.get(PATH.format(cast.other_rink.slug)).content.decode()
    assert client.get(PATH.format(cast.other_rink.slug).replace("-01/", "-13/")).status_code == 404
