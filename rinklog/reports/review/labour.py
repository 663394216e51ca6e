"""Labour hours: by person, role, kind and week, and who carries the load."""

from collections import defaultdict
from typing import Any
from uuid import UUID

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy
from django.utils.translation import pgettext_lazy

from rinklog.reports.review.facts import Facts
from rinklog.reports.review.tables import CREW, Column, Shape, Table
from rinklog.reports.review.told import told
from rinklog.reports.review.words import TOTAL
from rinklog.work.kinds import KINDS

_HOURS = Column("labour_h", lazy("Labour"), "h", 2)
_SHARE = Column("share_percent", pgettext_lazy("part", "Share"), "%", 1)
_ENTRIES = Column("entries", lazy("Entries"), digits=0)
PEOPLE_SHAPE = Shape(
    "labour-by-person",
    lazy("Labour by person"),
    (
        Column("person", lazy("Person")),
        Column("role", lazy("Role"), words="role"),
        _ENTRIES,
        _HOURS,
        _SHARE,
    ),
    readers=CREW,
)
ROLES_SHAPE = Shape(
    "labour-by-role",
    lazy("Labour by role"),
    (Column("role", lazy("Role"), words="role"), Column("people", lazy("People"), digits=0), _HOURS, _SHARE),
)
KINDS_SHAPE = Shape(
    "labour-by-kind",
    lazy("Labour by kind of work"),
    (Column("kind", lazy("Kind"), words="kind"), _HOURS, _SHARE),
)


def total_min(facts: Facts) -> float:
    """All labour of the season [min]."""
    return sum(one.minutes for one in facts.labour)


def by_person(facts: Facts) -> Table:
    """One row a person, the most hours first; two people of one name are told apart by a number."""
    sums: dict[UUID, list[Any]] = {}
    for one in facts.labour:
        row = sums.setdefault(one.person_id, [one.name, 0, 0.0])
        row[1] += one.entries
        row[2] += one.minutes
    ordered = sorted(sums.items(), key=lambda item: (-item[1][2], item[1][0], str(item[0])))
    whole, taken, rows = total_min(facts), set[str](), []
    for id, (name, entries, minutes) in ordered:
        shown, number = name, 2
        while shown in taken:
            shown, number = f"{name} ({number})", number + 1
        taken.add(shown)
        rows.append((shown, facts.roles.get(id, ""), entries, minutes / 60, _share(minutes, whole)))
    return Table.of(PEOPLE_SHAPE, rows, _load([minutes for _name, _n, minutes in sums.values()]))


def _load(minutes: list[float]) -> list[str]:
    """Who carries the load, in one sentence."""
    whole = sum(minutes)
    if len(minutes) < 2 or whole <= 0:
        return []
    run, people = 0.0, 0
    for one in sorted(minutes, reverse=True):
        run, people = run + one, people + 1
        if run >= whole / 2:
            break
    said = {"people": people, "all": len(minutes), "share": f"{100 * max(minutes) / whole:.0f}"}
    return [
        told(
            lambda: (
                _(
                    "Half of the hours lie on %(people)d of %(all)d people; "
                    "the one with the most did %(share)s %% of them."
                )
                % said
            )
        )
    ]


def by_role(facts: Facts) -> Table:
    """One row a role, as people's roles are now."""
    sums: dict[str, float] = defaultdict(float)
    people: dict[str, set[UUID]] = defaultdict(set)
    for one in facts.labour:
        role = facts.roles.get(one.person_id, "")
        sums[role] += one.minutes
        people[role].add(one.person_id)
    whole = total_min(facts)
    ordered = sorted(sums.items(), key=lambda item: -item[1])
    rows = [(role, len(people[role]), minutes / 60, _share(minutes, whole)) for role, minutes in ordered]
    return Table.of(ROLES_SHAPE, rows)


def by_kind(facts: Facts) -> Table:
    """One row a kind of work, and their sum."""
    sums: dict[str, float] = defaultdict(float)
    for one in facts.labour:
        sums[one.kind] += one.minutes
    whole = total_min(facts)
    rows = [(kind, sums[kind] / 60, _share(sums[kind], whole)) for kind in KINDS if kind in sums]
    return Table.of(KINDS_SHAPE, [*rows, (TOTAL, whole / 60, _share(whole, whole))])


def _share(part: float, whole: float) -> float | None:
    return 100 * part / whole if whole > 0 else None
