"""The lists and the store on their pages."""

from typing import Any
from uuid import uuid4

import pytest
from django.test import Client

from rinklog.rink.queries import seasons
from rinklog.site.models import SiteTask, StoredItem
from rinklog.site.services.lists import finish_task
from tests.support.cast import NOW, Cast
from tests.support.photos import a_photo
from tests.support.sites import a_list, a_stored_item, a_survey

pytestmark = pytest.mark.django_db


@pytest.fixture
def base(cast: Cast, client: Client) -> str:
    """The address of the set-up, with the coordinator signed in."""
    client.force_login(cast.bo)
    return f"/r/{cast.rink.slug}/setup/"


def test_a_list_is_begun_and_worked_through(base: str, cast: Cast, client: Client) -> None:
    assert "Nothing is on it yet" in client.get(f"{base}list/set-up/").content.decode()
    assert client.post(f"{base}list/set-up/begin/").status_code == 302
    tasks = {one.key: one for one in SiteTask.objects.all()}
    client.force_login(cast.cleo)
    page = client.get(f"{base}list/set-up/").content.decode()
    assert "0 of 20 done" in page
    assert "practice of Burlington ON" in page
    early = client.post(f"{base}task/{tasks['liner'].id}/done/")
    assert early.status_code == 422
    assert "“Lay the liner, just before the water” comes after" in early.content.decode()
    assert "Done all the same" in early.content.decode()
    assert client.post(f"{base}task/{tasks['liner'].id}/done/", {"anyway": "1"}).status_code == 302
    assert client.post(f"{base}task/{tasks['hose'].id}/done/", {"on": "soon"}).status_code == 422
    assert "1 of 20 done" in client.get(f"{base}list/set-up/").content.decode()
    client.post(f"{base}task/{tasks['liner'].id}/again/")
    assert "0 of 20 done" in client.get(f"{base}list/set-up/").content.decode()
    assert client.get(f"{base}list/summer/").status_code == 404


def test_a_task_of_ones_own_has_people_a_day_and_what_comes_before(
    base: str, cast: Cast, client: Client
) -> None:
    tasks = a_list(cast)
    form: dict[str, Any] = {
        "id": str(uuid4()), "title": "Borrow the post driver", "when": "before-frost", "due_on": "2026-11-01",
        "needs": [str(tasks["permits"].id)], "people": [str(cast.dag.id)], "note": "from Rimvinkel Nord",
    }  # fmt: skip
    assert client.post(f"{base}list/set-up/new/", form).status_code == 302
    page = client.get(f"{base}list/set-up/").content.decode()
    for expected in ("Borrow the post driver", "Dag", "from Rimvinkel Nord", "1 Nov", "after: Permission"):
        assert expected in page, expected
    for change, sentence in (
        ({"title": ""}, "Task is empty; it is needed."),
        ({"when": "never"}, "When it suits is “never”; allowed are"),
        ({"needs": ["x"]}, "“x” is not in the list."),
    ):
        answer = client.post(f"{base}list/set-up/new/", form | {"id": str(uuid4())} | change)
        assert answer.status_code == 422
        assert sentence in answer.content.decode()


def test_words_of_the_usual_list_stay_its_own(base: str, cast: Cast, client: Client) -> None:
    task = a_list(cast)["liner"]
    form = {
        "id": str(task.id),
        "title": "Lay the liner, just before the water",
        "when": "calm",
        "note": "white up",
    }
    assert client.post(f"{base}task/{task.id}/", form).status_code == 302
    task.refresh_from_db()
    assert (task.title, task.note) == ("", "white up")


def test_the_store_takes_things_off_the_shopping_list(base: str, cast: Cast, client: Client) -> None:
    a_survey(cast)
    form = {
        "id": str(uuid4()),
        "thing": "stake",
        "name": "steel stakes",
        "quantity": "60",
        "state": "good",
        "buy": "40",
    }
    assert client.post(f"{base}store/new/", form | {"place": "barn loft"}).status_code == 302
    page = client.get(f"{base}store/").content.decode()
    for expected in ("60 × steel stakes", "barn loft", "40 × steel stakes", "Stakes"):
        assert expected in page, expected
    rows = client.get(f"{base}site/shopping.csv").content.decode().splitlines()
    needed, there, to_buy = next(row for row in rows if row.startswith("stake,")).split(",")[1:4]
    assert (float(there), float(to_buy)) == (60, float(needed) - 60)
    for change, sentence in (
        ({"quantity": "-1"}, "How many: allowed is a whole number from 0 to 100000."),
        ({"thing": "water"}, "Kind is “water”; allowed are"),
        (
            {"state": "gone", "bought_on": "2026-01-10", "gone_on": "2026-01-01"},
            "It went before it was bought",
        ),
        ({"name": ""}, "What it is is empty; it is needed."),
    ):
        answer = client.post(f"{base}store/new/", form | {"id": str(uuid4())} | change)
        assert answer.status_code == 422
        assert sentence in answer.content.decode()
    assert StoredItem.objects.count() == 1


def test_a_thing_has_its_photos(base: str, cast: Cast, client: Client) -> None:
    item = a_stored_item(cast)
    photo = a_photo(cast, subject="item", subject_id=item.id)
    page = client.get(f"{base}store/{item.id}/").content.decode()
    assert f"/photo/{photo.id}/small.jpg" in page
    assert f"/photo/{photo.id}/small.jpg" in client.get(f"{base}store/").content.decode()


def test_closing_the_season_begins_the_next_list_and_tells_what_is_left(cast: Cast, client: Client) -> None:
    client.force_login(cast.ada)
    down = a_list(cast, "take-down")
    finish_task(task=down["nets"], on=NOW.date(), today=NOW.date(), by=cast.dag)
    address = f"/r/{cast.rink.slug}/setup/close/"
    assert (
        f"{len(down) - 1} tasks of the take-down list are not done." in client.get(address).content.decode()
    )
    today = str(max(NOW.date(), cast.season.starts_on))
    answer = client.post(address, {"ends_on": today, "next_starts_on": "2027-11-15"})
    assert answer.status_code == 302, answer.content.decode()
    opened = seasons(cast.rink).first()
    assert opened is not None
    assert SiteTask.objects.filter(season=opened, list="take-down").count() == len(down)
    assert SiteTask.objects.filter(season=opened, list="set-up").count() == 20
