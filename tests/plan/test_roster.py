"""The fair roster against brute force on small cases, and against the usual way of asking whoever did least."""

import datetime as dt
import itertools
import random

import pytest

from rinklog.plan.roster.explain import explain
from rinklog.plan.roster.problem import Night, Pair, Problem, Rules, Worker
from rinklog.plan.roster.solve import propose

FIRST = dt.datetime(2026, 1, 15, 19, tzinfo=dt.UTC)
DAY = dt.timedelta(days=1)


def night(number: int, people: int = 1, minutes: int = 120, **more: object) -> Night:
    start = FIRST + number * DAY
    return Night(f"n{number}", start, start + dt.timedelta(minutes=minutes), people, **more)  # type: ignore[arg-type]


def worker(name: str, nights: int | list[int], hours: float = 0, **more: object) -> Worker:
    can = range(nights) if isinstance(nights, int) else nights
    ids = frozenset(f"n{number}" for number in can)
    return Worker(name, minutes_so_far=round(60 * hours), can=ids, **more)  # type: ignore[arg-type]


# --- brute force: every set of pairs, judged by the rules as they are written, without the programme's own code ---


def keeps_the_rules(problem: Problem, chosen: set[Pair]) -> bool:
    for one in problem.workers:
        mine = sorted((n for n in problem.nights if (one.id, n.id) in chosen), key=lambda n: n.starts_at)
        for n in mine:
            if (one.id, n.id) not in problem.fixed and (n.id not in one.can or n.everybody - one.holds):
                return False
        for a, b in itertools.combinations(mine, 2):
            if b.starts_at < a.ends_at + problem.rules.rest:
                return False
        for a in mine:
            if (
                sum(a.starts_at <= b.starts_at < a.starts_at + 7 * DAY for b in mine)
                > problem.rules.most_a_week
            ):
                return False
    return all(sum((w.id, n.id) in chosen for w in problem.workers) <= n.people for n in problem.nights)


def worth(problem: Problem, chosen: set[Pair]) -> tuple[int, int, int, int]:
    """People missing, skills missing, sum of squared minutes over the season, wishes against."""
    missing = sum(n.people - sum((w.id, n.id) in chosen for w in problem.workers) for n in problem.nights)
    lacking = sum(
        not any(skill in w.holds and (w.id, n.id) in chosen for w in problem.workers)
        for n in problem.nights
        for skill in n.skills
    )
    squares = sum(
        (w.minutes_so_far + sum(n.minutes for n in problem.nights if (w.id, n.id) in chosen)) ** 2
        for w in problem.workers
    )
    against = -sum(
        w.wishes.get(n.id, 0) for w in problem.workers for n in problem.nights if (w.id, n.id) in chosen
    )
    return missing, lacking, squares, against


def brute_force(problem: Problem) -> tuple[int, int, int, int]:
    pairs = [
        (w.id, n.id) for w in problem.workers for n in problem.nights if (w.id, n.id) not in problem.banned
    ]
    best = None
    for bits in itertools.product((False, True), repeat=len(pairs)):
        chosen = {pair for pair, bit in zip(pairs, bits, strict=True) if bit}
        if problem.fixed <= chosen and keeps_the_rules(problem, chosen):
            value = worth(problem, chosen)
            best = value if best is None or value < best else best
    assert best is not None
    return best


def some_problem(seed: int) -> Problem:
    rnd = random.Random(seed)
    count = rnd.choice([3, 4])
    nights = tuple(
        night(
            number,
            rnd.choice([1, 2]),
            rnd.choice([120, 120, 180]),
            skills=frozenset({"torch"}) if rnd.random() < 0.3 else frozenset(),
            everybody=frozenset({"waiver"}) if rnd.random() < 0.2 else frozenset(),
        )
        for number in range(count)
    )
    workers = tuple(
        Worker(
            name,
            frozenset(skill for skill in ("torch", "waiver") if rnd.random() < 0.6),
            60 * rnd.randrange(0, 9),
            frozenset(n.id for n in nights if rnd.random() < 0.8),
            {n.id: rnd.choice([-1, 0, 1]) for n in nights},
        )
        for name in ("ann", "ben", "cas")[: 3 if count == 4 else rnd.choice([2, 3])]
    )
    rules = Rules(rnd.choice([1, 2, 3]), dt.timedelta(hours=rnd.choice([0, 20, 40])))
    return Problem(nights, workers, rules)


@pytest.mark.parametrize("seed", range(60))
def test_no_other_roster_is_better(seed: int) -> None:
    problem = some_problem(seed)
    found = set(propose(problem).pairs)
    assert keeps_the_rules(problem, found)
    assert worth(problem, found) == brute_force(problem)


@pytest.mark.parametrize("seed", range(60, 75))
def test_what_is_fixed_stays_and_the_rest_is_the_best_around_it(seed: int) -> None:
    free = some_problem(seed)
    possible = [
        (w.id, n.id) for w in free.workers for n in free.nights if n.id in w.can and n.everybody <= w.holds
    ]
    if not possible:
        pytest.skip("nobody can come in this one")
    fixed, banned = frozenset({possible[0]}), frozenset(possible[-1:]) - {possible[0]}
    problem = Problem(free.nights, free.workers, free.rules, fixed, banned)
    found = set(propose(problem).pairs)
    assert fixed <= found
    assert not banned & found
    assert worth(problem, found) == brute_force(problem)


# --- fairness on a season: 40 people, 60 nights ---


def greedy(problem: Problem) -> set[Pair]:
    """Night by night, whoever is free, rested and allowed and did least so far: how a list on paper is filled."""
    chosen: set[Pair] = set()
    minutes = {w.id: w.minutes_so_far for w in problem.workers}
    for n in sorted(problem.nights, key=lambda one: one.starts_at):
        for w in sorted(problem.workers, key=lambda one: (minutes[one.id], one.id)):
            if sum(where == n.id for _who, where in chosen) == n.people:
                break
            if n.id in w.can and keeps_the_rules(
                Problem(problem.nights, (w,), problem.rules),
                {p for p in chosen if p[0] == w.id} | {(w.id, n.id)},
            ):
                chosen.add((w.id, n.id))
                minutes[w.id] += n.minutes
    return chosen


def a_season(seed: int) -> Problem:
    """Forty people who can come on one to three weekdays, and not each time; sixty nights of two or three."""
    rnd = random.Random(seed)
    nights = tuple(night(number, rnd.choice([2, 2, 3])) for number in range(60))
    workers = []
    for number in range(40):
        weekdays = set(rnd.sample(range(7), rnd.choice([1, 1, 2, 2, 3])))
        can = frozenset(n.id for n in nights if n.starts_at.weekday() in weekdays and rnd.random() < 0.7)
        workers.append(Worker(f"p{number:02d}", frozenset(), 60 * rnd.randrange(0, 12), can))
    return Problem(nights, tuple(workers))


@pytest.mark.slow
@pytest.mark.parametrize("seed", [1, 2])
def test_a_season_is_filled_better_or_shared_more_evenly_than_by_asking_whoever_did_least(seed: int) -> None:
    problem = a_season(seed)
    ours, theirs = worth(problem, set(propose(problem).pairs)), worth(problem, greedy(problem))
    assert keeps_the_rules(problem, set(propose(problem).pairs))
    assert ours[:3] < theirs[:3]


# --- what it says ---


def test_hours_of_the_season_decide_between_two_who_can() -> None:
    problem = Problem((night(0),), (worker("ann", 1, hours=10), worker("ben", 1, hours=2)))
    assert propose(problem).pairs == {("ben", "n0")}


def test_a_wish_decides_only_between_those_who_did_the_same() -> None:
    likes = worker("ann", 1, hours=2, wishes={"n0": 1})
    assert propose(Problem((night(0),), (worker("ben", 1, hours=2), likes))).pairs == {("ann", "n0")}
    assert propose(Problem((night(0),), (worker("ben", 1, hours=1), likes))).pairs == {("ben", "n0")}


@pytest.mark.parametrize(
    ("problem", "rules"),
    [
        (Problem((night(0),), (worker("ann", []),)), ("availability",)),
        (Problem((night(0, everybody=frozenset({"waiver"})),), (worker("ann", 1),)), ("permissions",)),
        (Problem((night(0), night(1)), (worker("ann", 2),), Rules(7, dt.timedelta(hours=30))), ("rest",)),
        (Problem((night(0), night(3)), (worker("ann", 9),), Rules(1)), ("week",)),
        (
            Problem((night(0, people=2),), (worker("ann", 1),)),
            (),
        ),  # too few people: no rule stands in the way
    ],
)
def test_what_cannot_be_filled_names_the_rule_that_stands_in_the_way(
    problem: Problem, rules: tuple[str, ...]
) -> None:
    (lack,) = propose(problem).lacks
    assert (lack.people, lack.rules) == (1, rules)


def test_a_skill_that_nobody_brings_is_missing_and_said() -> None:
    problem = Problem((night(0, skills=frozenset({"torch"})),), (worker("ann", 1),))
    (lack,) = propose(problem).lacks
    assert (lack.people, lack.skills) == (0, ("torch",))


def test_shifts_elsewhere_count_for_rest_and_for_the_week() -> None:
    before = FIRST - dt.timedelta(hours=10)
    tired = worker("ann", 1, busy=((before, before + dt.timedelta(hours=2)),))
    assert propose(Problem((night(0),), (tired,))).pairs == frozenset()
    spent = worker("ann", [3], busy=((FIRST, FIRST + dt.timedelta(hours=2)),))
    assert propose(Problem((night(3),), (spent,), Rules(1))).pairs == frozenset()
    assert propose(Problem((night(3),), (spent,), Rules(2))).pairs == {("ann", "n3")}


def test_what_is_fixed_stays_even_against_the_rules() -> None:
    problem = Problem(
        (night(0), night(1)), (worker("ann", []),), Rules(1), frozenset({("ann", "n0"), ("ann", "n1")})
    )
    assert propose(problem).pairs == problem.fixed


def test_nothing_to_do_is_an_empty_roster() -> None:
    assert propose(Problem((), (worker("ann", 3),))).pairs == frozenset()
    assert [lack.people for lack in propose(Problem((night(0),), ())).lacks] == [1]


def test_everybody_is_told_why() -> None:
    torch = frozenset({"torch"})
    problem = Problem(
        (night(0, people=2, skills=torch),),
        (
            worker("ann", 1, hours=9, holds=torch, wishes={"n0": 1}),
            worker("ben", 1, hours=1),
            worker("cas", 1, hours=20),
            worker("dor", []),
            worker("eva", 1, hours=2),
        ),
    )
    said = {why.worker: why for why in explain(propose(problem))}
    assert {name: why.key for name, why in said.items()} == {
        "ann": "on", "ben": "on", "cas": "had-more", "dor": "no-night", "eva": "not-needed",
    }  # fmt: skip
    assert (said["ann"].brings, said["ann"].liked) == (("torch",), 1)
    assert (said["ben"].minutes_before, said["ben"].minutes_after) == (60, 180)
