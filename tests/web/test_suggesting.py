"""Suggestions beside the opening form: to those who may set it, for closing only, gone when they no longer speak."""

import datetime as dt
import re

import pytest
from django.test import Client
from django.utils import timezone

from tests.support.cast import Cast
from tests.support.filling import forecast


@pytest.fixture
def bo(cast: Cast, client: Client) -> Client:
    client.force_login(cast.bo)
    return client


def page(client: Client, cast: Cast, rest: str = "set/") -> str:
    answer = client.get(f"/r/{cast.rink.slug}/records/opening/{rest}")
    assert answer.status_code == 200
    return re.sub(r"\s+", " ", answer.content.decode())


def test_mild_air_speaks_for_closing_and_a_tap_fills_the_form(bo: Client, cast: Cast) -> None:
    forecast(cast, timezone.now(), air_c=3.0)
    assert "The air is 3.0 °C; this rink closes above 0.0 °C." in page(bo, cast)
    assert "?close=warm" in page(bo, cast, "")
    filled = page(bo, cast, "set/?close=warm")
    assert re.search(r'value="closed"[^>]*checked', filled)
    assert 'value="too warm"' in filled


def test_cold_air_says_nothing_and_nothing_ever_fills_in_open(bo: Client, cast: Cast) -> None:
    forecast(cast, timezone.now(), air_c=-9.0)
    for query in ("", "?close=warm", "?close=open", "?close=%00", "?close=" + "x" * 3000):
        shown = page(bo, cast, f"set/{query}")
        assert "What speaks for closing" not in shown
        assert not re.search(r'name="state"[^>]*checked', shown)


def test_who_may_not_set_it_is_not_asked_to(cast: Cast, client: Client) -> None:
    forecast(cast, timezone.now(), air_c=3.0)
    client.force_login(cast.cleo)
    assert "What speaks for closing" not in page(client, cast, "")


def test_the_last_look_proposes_a_grade_by_the_published_criteria(bo: Client, cast: Cast) -> None:
    now = timezone.now()
    assert "By the published criteria" not in page(bo, cast)
    inner = [cast.zones[n].id for n in (5, 6, 9, 10)]  # 25 m² each
    earlier = now - dt.timedelta(minutes=5)  # two looks at one moment have no order
    cast.work("inspection", now=earlier, zone_ids=tuple(inner), conditions=dict.fromkeys(inner, "good"))
    shown = page(bo, cast)
    assert "flaws on 0 % of what was looked at, not drilled" in shown
    assert "that is “good”" in shown
    cast.work("drill-hole", now=now, details={"clear_ice_m": 0.11})
    assert "thinnest hole 110 mm" in page(bo, cast)
    assert "that is “excellent”" in page(bo, cast)
    cast.work(
        "inspection",
        now=now,
        zone_ids=tuple(inner),
        conditions={**dict.fromkeys(inner, "good"), inner[0]: "thin"},
    )
    assert "A zone was wet, thin or soft" in page(bo, cast)
