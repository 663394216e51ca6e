"""Reviews, links and payments for tests."""

from uuid import UUID, uuid4

from django.utils import timezone

from rinklog.crew.tokens import token_of
from rinklog.money.services import choose_currency, record_payment
from rinklog.reports.services import ask_for_review, build_review, share_season
from rinklog.rink.models import Season
from tests.support.cast import NOW, Cast


def a_review(cast: Cast) -> UUID:
    """The season whose review is built."""
    built, _due = ask_for_review(season=cast.season, now=timezone.now())
    build_review(id=built.id, now=timezone.now())
    return cast.season.id


def a_shared_link(cast: Cast) -> str:
    """The token of a link to the first rink's review."""
    link = share_season(
        id=uuid4(), season=Season.objects.get(id=a_review(cast)), for_whom="the council", with_money=False,
        by=cast.ada, now=NOW,
    )  # fmt: skip
    return token_of(link.id)


def a_payment(cast: Cast) -> UUID:
    """A payment of the first rink."""
    choose_currency(rink=cast.rink, code="NOK", by=cast.ada, now=NOW)
    day = NOW.date()
    said = {"on": day, "kind": "fuel", "cents": 12050, "what": "propane"}
    return record_payment(id=uuid4(), rink=cast.rink, by=cast.ada, now=NOW, today=day, **said).id  # type: ignore[arg-type]
