"""Snow fences on their pages."""

from uuid import uuid4

import pytest
from django.test import Client
from django.utils import timezone

from rinklog.site.models import Exposure, FenceLook, SnowFence
from tests.support.cast import Cast
from tests.support.hazards import put_up
from tests.support.sites import a_fence

pytestmark = pytest.mark.django_db


@pytest.fixture
def base(cast: Cast, client: Client) -> str:
    """The address of the fences, with the keeper signed in."""
    client.force_login(cast.ada)
    return f"/r/{cast.rink.slug}/setup/fences/"


def test_a_fence_is_written_down_and_measured(base: str, cast: Cast, client: Client) -> None:
    assert "No fence is written down yet." in client.get(base).content.decode()
    form = {
        "id": str(uuid4()), "name": "meadow", "wind": "315", "height": "1.2 m", "build": "porous", "length": "90 m",
        "setback": "30 m",
    }  # fmt: skip
    assert client.post(f"{base}new/", form).status_code == 302
    fence = SnowFence.objects.get()
    page = client.get(base).content.decode()
    # 12.7 t/m and 42 m: Tabler, reference values of the task.
    for expected in (
        "meadow",
        "12.7 t/m",
        "42.00 m is the published setback",
        "No drift on the ice was noted",
    ):
        assert expected in page, expected
    put_up(cast, kind="drift", wind_from_deg=300.0, drift_depth_m=0.3)
    client.force_login(cast.cleo)
    seen = {"id": str(uuid4()), "on": str(timezone.now().date()), "reach": "22 m", "depth": "0.9 m"}
    assert client.post(f"{base}{fence.id}/look/", seen).status_code == 302
    page = client.get(base).content.decode()
    for expected in ("22.00 m", "up to 1.44 m", "1 drift on the ice came with its wind", "wind from 300°"):
        assert expected in page, expected
    again = client.post(f"{base}{fence.id}/look/", seen | {"reach": "23 m"})
    assert again.status_code == 422
    assert "open the page anew to note both" in again.content.decode()
    assert FenceLook.objects.count() == 1


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"height": "9 m"}, "Height is “9 m”; allowed is 0.30 m to 6.00 m."),
        ({"wind": "up"}, "Across the wind from is “up”; allowed are north, north-east"),
        ({"name": ""}, "Name is empty; it is needed."),
    ],
)
def test_a_bad_fence_is_a_sentence(base: str, client: Client, change: dict[str, str], sentence: str) -> None:
    form = {
        "id": str(uuid4()), "name": "x", "wind": "0", "height": "1 m", "build": "solid", "length": "9 m", "setback": "9",
    }  # fmt: skip
    answer = client.post(f"{base}new/", form | change)
    assert answer.status_code == 422
    assert sentence in answer.content.decode()


def test_what_lies_upwind_may_be_half_known(base: str, cast: Cast, client: Client) -> None:
    assert client.post(f"{base}upwind/", {"fetch_7": "500 m", "snow_water": "100 mm"}).status_code == 302
    said = Exposure.objects.get()
    assert (said.fetches_m, said.snow_water_mm) == ([None] * 7 + [500.0], pytest.approx(100.0))
    answer = client.post(f"{base}upwind/", {"fetch_0": "-5 m"})
    assert answer.status_code == 422
    assert "Open ground to the north is “-5 m”; allowed is" in answer.content.decode()


def test_a_look_at_no_number_keeps_the_page_and_what_was_typed(base: str, cast: Cast, client: Client) -> None:
    fence = a_fence(cast)
    answer = client.post(
        f"{base}{fence.id}/look/", {"id": str(uuid4()), "on": "2026-01-15", "reach": "far", "depth": "1"}
    )
    assert answer.status_code == 422
    assert "It reaches behind the fence is “far”; allowed is" in answer.content.decode()
