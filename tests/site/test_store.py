"""The store: what counts for the shopping list, and how long liners lasted."""

import datetime as dt
from uuid import uuid4

import pytest

from rinklog.facts import Refused
from rinklog.rink.models import Season
from rinklog.site.models import StoredItem
from rinklog.site.queries.store import liners, usable
from rinklog.site.services.store import ItemContent, keep_item
from tests.support.cast import NOW, Cast
from tests.support.sites import a_stored_item


def test_only_what_is_good_and_large_enough_is_there(cast: Cast) -> None:
    a_stored_item(cast)
    a_stored_item(cast, name="old liner", length_m=30.0)
    a_stored_item(cast, name="unmeasured liner", length_m=None)
    for state, quantity in (("good", 40), ("mend", 5), ("gone", 9)):
        a_stored_item(cast, thing="board", name=f"boards, {state}", quantity=quantity, state=state)
    found = StoredItem.objects.all()
    assert usable(found, (42.5, 22.5)) == {"board": 40, "liner": 1}
    assert usable(found, (22.5, 42.5)) == {"board": 40, "liner": 1}  # turned round
    assert usable(found, (43.5, 22.5)) == {"board": 40}
    assert usable(found) == {"board": 40}


def test_what_is_gone_has_a_day_and_not_before_it_was_bought(cast: Cast) -> None:
    assert a_stored_item(cast, state="gone").gone_on == NOW.date()
    assert a_stored_item(cast, gone_on=dt.date(2025, 1, 1)).gone_on is None  # it is still good
    with pytest.raises(Refused, match="before it was bought"):
        a_stored_item(cast, state="gone", bought_on=dt.date(2025, 2, 1), gone_on=dt.date(2025, 1, 1))
    with pytest.raises(Refused, match="still to come"):
        a_stored_item(cast, bought_on=dt.date(2027, 1, 1))


def test_counting_again_changes_the_line_and_makes_no_second_one(cast: Cast) -> None:
    id = uuid4()
    for quantity in (3, 2):
        keep_item(
            id=id,
            rink=cast.rink,
            content=ItemContent("hose", "hose 25 mm", quantity, "barn loft"),
            by=cast.dag,
            now=NOW,
            today=NOW.date(),
        )
    assert StoredItem.objects.get().quantity == 2


def test_a_liner_lasts_the_seasons_it_served(cast: Cast) -> None:
    day = dt.date
    seasons = [Season(starts_on=day(year, 11, 15)) for year in (2020, 2021, 2022, 2023, 2024, 2025)]
    lives = [
        (day(2020, 10, 1), day(2022, 4, 1), 2),  # winters of 2020 and 2021
        (day(2020, 12, 1), day(2023, 4, 1), 3),  # bought within its first winter
        (day(2021, 10, 1), day(2022, 4, 1), 1),
        (day(2022, 10, 1), None, 4),  # still there: counts as so long at least
    ]
    items = [
        StoredItem(
            thing="liner", name="liner", state="gone" if gone else "good", bought_on=bought, gone_on=gone
        )
        for bought, gone, _ in lives
    ]
    found = liners(items, seasons, day(2026, 1, 15))
    assert [count for _, count in found.lives] == [count for *_, count in lives]
    # By hand: S = 3/4 after 1, 1/2 after 2: half of them last two seasons or less.
    assert (found.worn_out, found.median_seasons) == (3, 2)
    assert liners(items[:2], seasons, day(2026, 1, 15)).median_seasons is None
