"""Who may do what: one table. Everything else asks it."""

from enum import StrEnum

from rinklog.crew.models import Membership

Role = Membership.Role


class Right(StrEnum):
    """Something a person may or may not do on a rink."""

    SEE = "see"  # read the log, the map, hazards, the season
    LOG = "log"  # record work, photos, hazards, walks, headcounts, accident reports
    SET_OPEN = "set-open"  # set the rink open, partly open or closed
    SEE_ACCIDENTS = "see-accidents"  # read accident and near-miss reports
    SEE_MONEY = "see-money"  # read what the season cost and who paid
    AMEND_ANY = "amend-any"  # amend or withdraw what somebody else recorded
    INSPECT_FORMALLY = "inspect-formally"  # the formal inspections
    RUN_CREW = "run-crew"  # invite volunteers and guests, see people
    KEEP = "keep"  # set-up, roles, rules, import, backup, reset passwords


_VOLUNTEER = frozenset({Right.SEE, Right.LOG})
_COORDINATOR = _VOLUNTEER | {
    Right.SET_OPEN,
    Right.SEE_ACCIDENTS,
    Right.SEE_MONEY,
    Right.AMEND_ANY,
    Right.INSPECT_FORMALLY,
    Right.RUN_CREW,
}

RIGHTS: dict[str, frozenset[Right]] = {
    Role.GUEST: frozenset({Right.SEE}),
    Role.VOLUNTEER: _VOLUNTEER,
    Role.COORDINATOR: _COORDINATOR,
    Role.KEEPER: frozenset(Right),
}


def may(role: str | None, right: Right) -> bool:
    """Whether a role holds a right; nobody (None) holds none."""
    return right in RIGHTS.get(role or "", frozenset())


def may_invite(role: str | None, invited: str) -> bool:
    """Whether a role may invite somebody as `invited`: a keeper as anything, a coordinator as volunteer or guest."""
    return may(role, Right.KEEP) or (may(role, Right.RUN_CREW) and invited in (Role.VOLUNTEER, Role.GUEST))
