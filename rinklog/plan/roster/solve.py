"""Solving a roster to proven optimum, one aim after the other: fill, skills, fairness in hours, wishes."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from rinklog.plan.roster.model import Floats, Model, Row
from rinklog.plan.roster.problem import Pair, Problem

LONGEST_S = 60.0
RELAXED = ("availability", "permissions", "rest", "week")


class NotProven(Exception):
    """The solver ended before it could prove an optimum."""


@dataclass(frozen=True)
class Lack:
    """A night that is not filled, or lacks a skill, and the rules without which it would be: none, too few people."""

    night: str
    people: int
    skills: tuple[str, ...]
    rules: tuple[str, ...] = ()


@dataclass(frozen=True)
class Proposal:
    """Who goes when; `pairs` hold what was fixed too. All of it is optimal, in the order of the aims."""

    problem: Problem
    pairs: frozenset[Pair]
    lacks: tuple[Lack, ...]

    def nights_of(self, worker: str) -> list[str]:
        """A worker's nights, in order."""
        return [night.id for night in self.problem.nights if (worker, night.id) in self.pairs]

    def minutes_after(self, worker: str) -> int:
        """A worker's time this season with what is proposed [min]."""
        new = sum(self.problem.night[night].minutes for night in self.nights_of(worker))
        return self.problem.worker[worker].minutes_so_far + new


def propose(problem: Problem) -> Proposal:
    """The best roster, and for what it lacks the rules that stand in the way. Errors: NotProven."""
    model = Model(problem)
    found = solve_in_order(model, model.objectives)
    lacks = _lacks(model, found)
    return Proposal(problem, _pairs(model, found), _with_rules(problem, lacks) if lacks else ())


def solve_in_order(model: Model, objectives: Sequence[Floats]) -> Floats:
    """Minimise one objective after the other, each without losing what was reached before. Errors: NotProven."""
    if not model.width:
        return np.zeros(0)
    rows, found = list(model.rows), np.zeros(model.width)
    for objective in objectives:
        if not objective.any():
            continue
        found = solve_once(model, rows, objective)
        reached = float(np.rint(objective @ found))  # every objective counts whole things
        rows.append(({int(at): float(objective[at]) for at in np.flatnonzero(objective)}, -np.inf, reached))
    return found


def solve_once(model: Model, rows: Sequence[Row], objective: Floats) -> Floats:
    """One run of the solver. Errors: NotProven."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    matrix, least, most = matrix_of(rows, model.width)
    ended: Any = milp(
        objective,
        integrality=model.whole,
        bounds=Bounds(model.lowest, model.highest),
        constraints=LinearConstraint(matrix, least, most),
        options={"mip_rel_gap": 0.0, "time_limit": LONGEST_S},
    )
    if ended.status != 0:
        raise NotProven(ended.message)
    values: Floats = ended.x.copy()
    pairs = slice(0, model.first_step)
    values[pairs] = np.rint(values[pairs])
    return values


def matrix_of(rows: Sequence[Row], width: int) -> tuple[Any, Floats, Floats]:
    """The rows as a sparse matrix with their limits."""
    from scipy.sparse import csr_array

    counts = [len(columns) for columns, _least, _most in rows]
    data = np.fromiter((value for columns, _l, _m in rows for value in columns.values()), float)
    indices = np.fromiter((column for columns, _l, _m in rows for column in columns), int)
    pointers = np.concatenate([[0], np.cumsum(counts)])
    matrix = csr_array((data, indices, pointers), shape=(len(rows), width))
    return matrix, np.array([row[1] for row in rows]), np.array([row[2] for row in rows])


def _pairs(model: Model, found: Floats) -> frozenset[Pair]:
    return frozenset(pair for pair, column in model.place.items() if found[column] > 0.5)


def _lacks(model: Model, found: Floats) -> list[Lack]:
    """What is missing, night by night."""
    lacks = []
    for number, night in enumerate(model.problem.nights):
        people = round(float(found[model.first_night + number]))
        skills = tuple(
            skill
            for at, (where, skill) in enumerate(model.lacks)
            if where == night.id and found[model.first_lack + at] > 0.5
        )
        if people or skills:
            lacks.append(Lack(night.id, people, skills))
    return lacks


def _with_rules(problem: Problem, lacks: list[Lack]) -> tuple[Lack, ...]:
    """For each lack the rules of which each one alone stands in its way."""
    helped: dict[str, list[str]] = {lack.night: [] for lack in lacks}
    for rule in RELAXED:
        model = Model(replace(problem, without=frozenset({rule})))
        left = {lack.night: lack for lack in _lacks(model, solve_in_order(model, model.objectives[:1]))}
        for lack in lacks:
            now = left.get(lack.night)
            if now is None or (now.people, len(now.skills)) < (lack.people, len(lack.skills)):
                helped[lack.night].append(rule)
    return tuple(replace(lack, rules=tuple(helped[lack.night])) for lack in lacks)
