"""Why a roster gives each person what it gives: plain keys and figures; words are made above."""

from dataclasses import dataclass

from rinklog.plan.roster.problem import Problem, Worker
from rinklog.plan.roster.solve import Proposal


@dataclass(frozen=True)
class Why:
    """One person's share: nights, minutes before and after, skills they bring, and why not more.

    `key`: "on" (has nights), "no-night" (can come on none), "lacks" (misses permissions that all need), "had-more"
    (everybody proposed has less behind them), "not-needed" (the places went to others with as little).
    """

    worker: str
    key: str
    nights: tuple[str, ...] = ()
    fixed: tuple[str, ...] = ()
    minutes_before: int = 0
    minutes_after: int = 0
    brings: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    liked: int = 0
    disliked: int = 0

    @property
    def count(self) -> int:
        """How many nights."""
        return len(self.nights)


def explain(proposal: Proposal) -> list[Why]:
    """Everybody's share with its reason, those with most nights first."""
    found = [_why(proposal, worker) for worker in proposal.problem.workers]
    return sorted(found, key=lambda why: (-len(why.nights), why.minutes_before, why.worker))


def _why(proposal: Proposal, worker: Worker) -> Why:
    nights = tuple(proposal.nights_of(worker.id))
    problem, before = proposal.problem, worker.minutes_so_far
    if not nights:
        key, missing = _why_none(proposal, worker)
        return Why(worker.id, key, minutes_before=before, minutes_after=before, missing=missing)
    wishes = [worker.wishes.get(night, 0) for night in nights]
    return Why(
        worker.id,
        "on",
        nights,
        tuple(night for night in nights if (worker.id, night) in problem.fixed),
        before,
        proposal.minutes_after(worker.id),
        tuple(sorted({skill for night in nights for skill in _brings(proposal, worker, night)})),
        liked=wishes.count(1),
        disliked=wishes.count(-1),
    )


def _brings(proposal: Proposal, worker: Worker, night: str) -> set[str]:
    """The skills of a night that this person alone brings."""
    problem: Problem = proposal.problem
    others = [
        problem.worker[other].holds
        for other, where in proposal.pairs
        if where == night and other != worker.id
    ]
    return set(problem.night[night].skills & worker.holds) - set().union(*others)


def _why_none(proposal: Proposal, worker: Worker) -> tuple[str, tuple[str, ...]]:
    problem = proposal.problem
    asked = [night for night in problem.nights if (worker.id, night.id) not in problem.banned]
    missing = frozenset().union(*(night.everybody - worker.holds for night in asked))
    if asked and all(night.everybody - worker.holds for night in asked):
        return "lacks", tuple(sorted(missing))
    if not any(problem.fits(worker, night) for night in problem.nights):
        return "no-night", ()
    chosen = {other for other, _night in proposal.pairs}
    behind = [problem.worker[other].minutes_so_far for other in chosen]
    return ("had-more" if behind and worker.minutes_so_far > max(behind) else "not-needed"), ()
