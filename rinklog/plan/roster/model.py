"""The roster as an integer programme: 0-1 variables for people and nights, and linear rules between them.

Columns: one for each pair that may come together; then, for each worker, steps of time of rising price; then the
people each night lacks; then the skills each night lacks.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from rinklog.plan.roster.problem import WEEK, Night, Pair, Problem, Worker

Floats = NDArray[np.float64]
Row = tuple[dict[int, float], float, float]
"""Coefficients by column, least and most."""


@dataclass(frozen=True)
class Model:
    """Rows and columns for a solver. Objectives are minimised in order: lack, unfairness, wishes against."""

    problem: Problem

    @cached_property
    def place(self) -> dict[Pair, int]:
        """The column of each pair."""
        return {pair: number for number, pair in enumerate(self.problem.pairs)}

    @cached_property
    def steps(self) -> list[tuple[str, int]]:
        """For each worker as many steps of time as they could get, with the price of each.

        The n-th unit u on top of H minutes raises H² by u (2 H + (2 n - 1) u): the dearer, the more somebody did.
        All together the prices of the steps taken add up to the rise of the sum of squared minutes (over u), which is
        least when hours are even.
        """
        found, unit = [], self.problem.unit
        for worker in self.problem.workers:
            most = sum(self.units(night) for _column, night in self.of_worker[worker.id])
            before = worker.minutes_so_far
            found += [(worker.id, 2 * before + (2 * step - 1) * unit) for step in range(1, most + 1)]
        return found

    @cached_property
    def of_worker(self) -> dict[str, list[tuple[int, Night]]]:
        """Each worker's columns with their nights."""
        found: dict[str, list[tuple[int, Night]]] = defaultdict(list)
        for (worker, night), column in self.place.items():
            found[worker].append((column, self.problem.night[night]))
        return found

    @cached_property
    def lacks(self) -> list[tuple[str, str]]:
        """Each skill that a night wants."""
        return [(night.id, skill) for night in self.problem.nights for skill in sorted(night.skills)]

    @property
    def first_step(self) -> int:
        """The column of the first step of time."""
        return len(self.place)

    @property
    def first_night(self) -> int:
        """The column of the first night's missing people."""
        return self.first_step + len(self.steps)

    @property
    def first_lack(self) -> int:
        """The column of the first missing skill."""
        return self.first_night + len(self.problem.nights)

    @property
    def width(self) -> int:
        """How many columns there are."""
        return self.first_lack + len(self.lacks)

    def units(self, night: Night) -> int:
        """How many units of time a night takes."""
        return night.minutes // self.problem.unit

    @cached_property
    def rows(self) -> list[Row]:
        """Every rule."""
        return [*self._filling(), *self._skills(), *self._time(), *self._rest(), *self._week()]

    def _filling(self) -> Iterator[Row]:
        """People on a night and people missing make up what it needs."""
        on: dict[str, list[int]] = defaultdict(list)
        for (_worker, where), column in self.place.items():
            on[where].append(column)
        for number, night in enumerate(self.problem.nights):
            columns = dict.fromkeys(on[night.id], 1.0) | {self.first_night + number: 1.0}
            fixed = sum((worker.id, night.id) in self.problem.fixed for worker in self.problem.workers)
            yield columns, float(night.people), float(max(night.people, fixed))

    def _skills(self) -> Iterator[Row]:
        """Somebody on the night has the skill, or it is missing."""
        for number, (night, skill) in enumerate(self.lacks):
            able = {
                column: 1.0
                for (worker, where), column in self.place.items()
                if where == night and skill in self.problem.worker[worker].holds
            }
            yield able | {self.first_lack + number: 1.0}, 1.0, np.inf

    def _time(self) -> Iterator[Row]:
        """A worker's nights take as many steps of time as they last."""
        mine: dict[str, list[int]] = defaultdict(list)
        for number, (worker_id, _price) in enumerate(self.steps):
            mine[worker_id].append(self.first_step + number)
        for worker_id, columns in self.of_worker.items():
            nights = {column: float(self.units(night)) for column, night in columns}
            yield nights | dict.fromkeys(mine[worker_id], -1.0), 0.0, 0.0

    def _rest(self) -> Iterator[Row]:
        """Of nights too near to each other one is done: at each start, those that have begun and are not rested from."""
        rest = dt.timedelta(0) if "rest" in self.problem.without else self.problem.rules.rest
        for worker_id, columns in self.of_worker.items():
            for _column, night in columns:
                near = [
                    (column, other)
                    for column, other in columns
                    if other.starts_at <= night.starts_at < other.ends_at + rest
                ]
                if len(near) > 1:
                    yield self._at_most(1, worker_id, near)

    def _week(self) -> Iterator[Row]:
        """At most so many in any seven days, those elsewhere counted."""
        if "week" in self.problem.without:
            return
        for worker in self.problem.workers:
            columns = self.of_worker[worker.id]
            starts = {night.starts_at for _column, night in columns} | {
                begins for begins, _ends in worker.busy
            }
            for start in sorted(starts):
                near = [
                    (column, night) for column, night in columns if start <= night.starts_at < start + WEEK
                ]
                allowed = self.problem.rules.most_a_week - self._elsewhere(worker, start)
                if len(near) > max(allowed, 0):
                    yield self._at_most(max(allowed, 0), worker.id, near)

    @staticmethod
    def _elsewhere(worker: Worker, start: dt.datetime) -> int:
        return sum(start <= begins < start + WEEK for begins, _ends in worker.busy)

    def _at_most(self, most: int, worker_id: str, near: list[tuple[int, Night]]) -> Row:
        """A limit that what is fixed may exceed, and nothing else."""
        fixed = sum((worker_id, night.id) in self.problem.fixed for _column, night in near)
        return {column: 1.0 for column, _night in near}, -np.inf, float(max(most, fixed))

    @cached_property
    def lowest(self) -> Floats:
        """The least of each column: one for what is fixed."""
        low = np.zeros(self.width)
        for pair in self.problem.fixed & self.place.keys():
            low[self.place[pair]] = 1.0
        return low

    @cached_property
    def highest(self) -> Floats:
        """The most of each column."""
        high = np.ones(self.width)
        for number, night in enumerate(self.problem.nights):
            high[self.first_night + number] = night.people
        return high

    @cached_property
    def whole(self) -> NDArray[np.int_]:
        """Which columns are whole numbers: pairs; the others follow by themselves."""
        return np.concatenate([np.ones(len(self.place)), np.zeros(self.width - len(self.place))]).astype(int)

    @cached_property
    def objectives(self) -> list[Floats]:
        """What is minimised, the weightiest first: people and then skills missing, unevenness, wishes unheard.

        A missing person outweighs all missing skills together, so that one solution answers both, in that order.
        """
        lack, uneven, unheard = (np.zeros(self.width) for _each in range(3))
        lack[self.first_night : self.first_lack] = len(self.lacks) + 1
        lack[self.first_lack :] = 1
        uneven[self.first_step : self.first_night] = [price for _worker, price in self.steps]
        for (worker, night), column in self.place.items():
            unheard[column] = -self.problem.worker[worker].wishes.get(night, 0)
        return [lack, uneven, unheard]
