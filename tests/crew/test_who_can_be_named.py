"""Who can be named on a rink's work."""

import pytest

from rinklog.crew.models import Membership
from rinklog.crew.queries import crew_of
from tests.support.cast import NOW, make_cast

pytestmark = pytest.mark.django_db


def test_guests_and_people_who_left_cannot_be_named_on_work() -> None:
    cast = make_cast()
    Membership.objects.filter(person=cast.bo).update(left_at=NOW)
    assert [person.login for person in crew_of(cast.rink)] == ["ada", "cleo", "dag"]


def test_a_guest_of_another_rink_is_still_crew_of_this_one() -> None:
    cast = make_cast()
    guest = Membership.Role.GUEST
    Membership.objects.create(person=cast.dag, rink=cast.other_rink, role=guest, since=NOW)
    assert "dag" in [person.login for person in crew_of(cast.rink)]
