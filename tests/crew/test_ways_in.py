"""Invitations, resets, the claim, roles: used as often as they say, by whom they say, and no oftener."""

import datetime as dt
from contextlib import suppress
from uuid import uuid4

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rinklog.crew import queries, services, ways_in
from rinklog.crew.models import Invitation, Membership, ResetLink
from rinklog.crew.tokens import code_of, token_of
from rinklog.facts import Refused
from rinklog.upkeep.services import make_claim_link
from tests.support.cast import NOW, Cast

DAY = dt.timedelta(days=1)


def made(cast: Cast, role: str = "volunteer", **more: object) -> Invitation:
    """An invitation by Ada."""
    return ways_in.invite(id=uuid4(), rink=cast.rink, role=role, by=cast.ada, now=NOW, **more)  # type: ignore[arg-type]


def new(login: str = "fia") -> ways_in.NewPerson:
    return ways_in.NewPerson(login, login.capitalize(), "snow off the boards")


def accept(invitation: Invitation, login: str, now: dt.datetime = NOW) -> Membership:
    return ways_in.accept_invitation(invitation=invitation, person=None, new=new(login), now=now)


def test_an_invitation_lets_in_as_many_as_it_says_and_no_more(cast: Cast) -> None:
    invitation = made(cast, uses=2)
    assert accept(invitation, "fia").role == "volunteer"
    accept(invitation, "gro")
    with pytest.raises(Refused):
        accept(invitation, "hal")
    assert not queries.login_taken("hal")
    assert queries.invitation_by_link(token=token_of(invitation.id), now=NOW) is None


def test_an_invitation_ends_at_its_hour_and_by_withdrawal(cast: Cast) -> None:
    invitation, other = made(cast, days=7), made(cast)
    with pytest.raises(Refused):
        accept(invitation, "fia", now=NOW + 7 * DAY)
    assert accept(invitation, "fia", now=NOW + 7 * DAY - dt.timedelta(seconds=1))
    ways_in.withdraw_invitation(invitation=other, now=NOW)
    with pytest.raises(Refused):
        accept(other, "gro")


def test_a_code_opens_however_it_is_typed_and_neither_code_nor_token_is_stored(cast: Cast) -> None:
    invitation = made(cast)
    code, token = code_of(invitation.id), token_of(invitation.id)
    for typed in (code, code.lower(), code.replace("-", " "), f"  {code.replace('-', '')} "):
        assert queries.invitation_by_code(typed, NOW) == invitation
    stored = str(list(Invitation.objects.values()))
    assert code not in stored
    assert token not in stored
    assert queries.invitation_by_code("AAAA-AAAA", NOW) is None


def test_an_invitation_never_changes_what_a_member_is_and_brings_back_who_left(cast: Cast) -> None:
    invitation = made(cast, role="guest", uses=5)
    same = ways_in.accept_invitation(invitation=invitation, person=cast.ada, new=None, now=NOW)
    assert same.role == "keeper"
    invitation.refresh_from_db()
    assert invitation.uses_left == 5
    dag = queries.member(cast.rink, cast.dag.id)
    assert dag is not None
    services.end_membership(member=dag, by=cast.dag, now=NOW)
    back = ways_in.accept_invitation(invitation=invitation, person=cast.dag, new=None, now=NOW + DAY)
    assert (back.role, back.since, back.left_at) == ("guest", NOW + DAY, None)


def test_a_coordinator_invites_no_keeper_and_invitations_go_with_the_role(cast: Cast) -> None:
    for role in ("keeper", "coordinator"):
        with pytest.raises(Refused):
            ways_in.invite(id=uuid4(), rink=cast.rink, role=role, by=cast.bo, now=NOW)
    for stranger in (cast.cleo, cast.eli, cast.rut):
        with pytest.raises(Refused):
            ways_in.invite(id=uuid4(), rink=cast.rink, role="guest", by=stranger, now=NOW)
    his = ways_in.invite(id=uuid4(), rink=cast.rink, role="guest", by=cast.bo, now=NOW)
    bo = queries.member(cast.rink, cast.bo.id)
    assert bo is not None
    services.change_role(member=bo, role="volunteer", by=cast.ada, now=NOW)
    with pytest.raises(Refused):
        accept(his, "fia")


def test_the_last_keeper_stays_until_somebody_else_keeps(cast: Cast) -> None:
    ada, bo = (queries.member(cast.rink, person.id) for person in (cast.ada, cast.bo))
    assert ada is not None
    assert bo is not None
    with pytest.raises(Refused, match="last keeper"):
        services.change_role(member=ada, role="volunteer", by=cast.ada, now=NOW)
    with pytest.raises(Refused, match="last keeper"):
        services.end_membership(member=ada, by=cast.ada, now=NOW)
    services.change_role(member=bo, role="keeper", by=cast.ada, now=NOW)
    services.end_membership(member=ada, by=cast.ada, now=NOW)
    assert queries.role_on(cast.rink, cast.ada) is None


def test_only_a_keeper_of_the_same_rink_changes_or_removes_a_member(cast: Cast) -> None:
    dag = queries.member(cast.rink, cast.dag.id)
    assert dag is not None
    for by in (cast.bo, cast.cleo, cast.rut):
        with pytest.raises(Refused):
            services.change_role(member=dag, role="guest", by=by, now=NOW)
        with pytest.raises(Refused):
            services.end_membership(member=dag, by=by, now=NOW)


def test_a_name_stays_on_what_a_person_did_before_leaving(cast: Cast) -> None:
    entry = cast.flood(by=cast.dag)
    dag = queries.member(cast.rink, cast.dag.id)
    assert dag is not None
    services.end_membership(member=dag, by=cast.ada, now=NOW)
    entry.refresh_from_db()
    assert entry.by.name == "Dag"
    assert cast.dag not in queries.crew_of(cast.rink)


def test_a_reset_works_once_and_not_across_rinks_nor_after_its_maker_stepped_down(cast: Cast) -> None:
    token = ways_in.make_reset(person=cast.dag, by=cast.ada, now=NOW)
    link = queries.reset_by_link(token=token, now=NOW)
    assert link is not None
    assert queries.reset_by_link(token=token, now=NOW + 2 * DAY) is None
    ways_in.use_reset(link=link, password="a whole new winter", now=NOW)
    assert queries.reset_by_link(token=token, now=NOW) is None
    with pytest.raises(Refused):
        ways_in.use_reset(link=link, password="once more", now=NOW)
    cast.dag.refresh_from_db()
    assert cast.dag.check_password("a whole new winter")

    pending = ways_in.make_reset(person=cast.cleo, by=cast.ada, now=NOW)
    services.join(person=cast.cleo, rink=cast.other_rink, role="guest", now=NOW)
    with pytest.raises(Refused, match="also on a crew"):
        ways_in.make_reset(person=cast.cleo, by=cast.ada, now=NOW)
    assert queries.reset_by_link(token=pending, now=NOW) is None
    assert ResetLink.objects.filter(person=cast.cleo).exists()


@pytest.mark.django_db
def test_a_site_is_claimed_once_and_never_when_somebody_keeps_it() -> None:
    token = make_claim_link(now=NOW)
    with pytest.raises(Refused):
        ways_in.claim_site(token="guessed", new=new(), now=NOW)
    person = ways_in.claim_site(token=token, new=new("ada"), now=NOW)
    assert queries.may_make_rink(person)
    with pytest.raises(Refused):
        ways_in.claim_site(token=token, new=new("mal"), now=NOW)


def test_a_claim_left_over_opens_nothing_once_a_rink_is_kept(cast: Cast) -> None:
    token = make_claim_link(now=NOW)
    with pytest.raises(Refused):
        ways_in.claim_site(token=token, new=new("mal"), now=NOW)
    assert not queries.login_taken("mal")


STEPS = st.lists(
    st.tuples(
        st.sampled_from(("ada", "bo", "cleo")),
        st.sampled_from(("ada", "bo", "cleo")),
        st.sampled_from((*Membership.Role.values, "leave")),
    ),
    max_size=12,
)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(steps=STEPS)
def test_whatever_people_do_the_rink_keeps_a_keeper(cast: Cast, steps: list[tuple[str, str, str]]) -> None:
    for by, whom, what in steps:
        member = queries.member(cast.rink, getattr(cast, whom).id)
        if member is None:
            continue
        with suppress(Refused):
            if what == "leave":
                services.end_membership(member=member, by=getattr(cast, by), now=NOW)
            else:
                services.change_role(member=member, role=what, by=getattr(cast, by), now=NOW)
    keepers = Membership.objects.filter(rink=cast.rink, role="keeper", left_at=None)
    assert keepers.exists()
    for person in (cast.ada, cast.bo, cast.cleo):  # as they were, for the next example
        Membership.objects.filter(rink=cast.rink, person=person).update(left_at=None)
