"""The plan: the fair roster against the bare solver, the two-week page's queries, the sweep over a thousand rinks."""

import datetime as dt
import os
import random
import time
from uuid import uuid4

from tests.bench.measure import Row, alternate, at_most, comparison, seconds
from tests.bench.one import database

MOST_QUERIES = 15
PEOPLE, RINKS = 200, 1000


def a_fortnight(seed: int = 7):  # type: ignore[no-untyped-def]
    """Forty people and fourteen nights that can be filled: two or three a night, a torch now and then, wishes."""
    from rinklog.plan.roster.problem import Night, Problem, Worker

    rnd = random.Random(seed)
    first = dt.datetime(2026, 1, 15, 19, tzinfo=dt.UTC)
    nights = tuple(
        Night(
            f"n{n:02d}", first + dt.timedelta(days=n), first + dt.timedelta(days=n, minutes=rnd.choice([120, 120, 180])),
            rnd.choice([2, 2, 3]), frozenset({"torch"}) if n % 4 == 0 else frozenset(),
        )
        for n in range(14)
    )  # fmt: skip
    workers = tuple(
        Worker(
            f"p{p:02d}", frozenset({"torch"}) if p % 5 == 0 else frozenset(), 60 * rnd.randrange(0, 20),
            frozenset(night.id for night in nights if rnd.random() < 0.5),
            {night.id: rnd.choice([-1, 0, 0, 1]) for night in nights},
        )
        for p in range(40)
    )  # fmt: skip
    return Problem(nights, workers)


@comparison("roster")
def roster() -> Row:
    """From people and nights to an explained proposal, against the bare solver on the same programme."""
    from rinklog.plan.roster.explain import explain
    from rinklog.plan.roster.model import Model
    from rinklog.plan.roster.solve import matrix_of, propose
    from tests.bench.against.bare_roster import solve

    problem = a_fortnight()
    model = Model(problem)
    matrix, least, most = matrix_of(model.rows, model.width)
    found = propose(problem)
    same = solve(matrix, least, most, model.lowest, model.highest, model.whole, model.objectives)
    wishes = -sum(problem.worker[who].wishes.get(where, 0) for who, where in found.pairs)

    def ours() -> None:
        # A new problem each time: what a problem remembers must not be paid for by an earlier round.
        explain(propose(a_fortnight()))

    def bare() -> None:
        solve(matrix, least, most, model.lowest, model.highest, model.whole, model.objectives)

    taken, against = alternate(ours, bare, rounds=9, warm=1)
    note = f"{len(found.pairs)} places, {len(found.lacks)} nights lack something, both find {same:g}"
    return at_most("roster", taken * 1000, against * 1000, times=3, unit="ms", also=wishes == same, note=note)


@comparison("two-week-page")
def two_week_page() -> Row:
    """How many queries the coordinator's two weeks ask for a crew of two hundred, against the limit."""
    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.bench.settings"
    database()
    from django.conf import settings
    from django.db import connection
    from django.test import Client
    from django.test.utils import CaptureQueriesContext

    from rinklog.crew.models import Membership, Person
    from rinklog.plan.models import ShiftPlace
    from tests.support.cast import NOW, make_cast
    from tests.support.shifts import SOON, a_shift, allow

    settings.ALLOWED_HOSTS = ["*"]
    cast = make_cast()
    crew = Person.objects.bulk_create(Person(login=f"p{n}", name=f"Person {n}") for n in range(PEOPLE))
    Membership.objects.bulk_create(
        Membership(person=one, rink=cast.rink, role="volunteer", since=NOW) for one in crew
    )
    for n in range(14):
        shift = a_shift(cast, starts_at=SOON + dt.timedelta(days=n - 1), people_needed=10)
        ShiftPlace.objects.bulk_create(
            ShiftPlace(id=uuid4(), shift=shift, person=one, number=k + 1, by=one, taken_at=NOW)
            for k, one in enumerate(crew[n : n + 8])
        )
        allow(cast, crew[n], "torch")
    client = Client()
    client.force_login(cast.bo)
    path = f"/r/{cast.rink.slug}/shifts/board/?shift={shift.id}"
    client.get(path)
    with CaptureQueriesContext(connection) as context:
        began = time.perf_counter()
        assert client.get(path).status_code == 200
    note = f"{1000 * (time.perf_counter() - began):.0f} ms with {PEOPLE} people, one night chosen"
    return at_most("two-week-page", len(context), MOST_QUERIES, times=1, unit="queries", note=note)


@comparison("sweep")
def sweep() -> Row:
    """Finding and queueing what is due on a thousand rinks, against one bare query a rink; and its growth."""
    database()
    import rinklog.celery  # noqa: F401  the queue is the folder of this run
    from rinklog.plan.models import RecurringTask
    from rinklog.plan.tasks import sweep as clock
    from rinklog.rink.models import Rink
    from tests.support.cast import NOW, make_cast

    cast = make_cast()

    def more(first: int, last: int) -> list[Rink]:
        rinks = Rink.objects.bulk_create(
            Rink(slug=f"rink-{n}", name=f"Rink {n}", length_m=40, width_m=20, time_zone="Europe/Oslo")
            for n in range(first, last)
        )
        RecurringTask.objects.bulk_create(
            RecurringTask(
                id=uuid4(), rink=one, round="flood", begins_on=NOW.date(), at=dt.time(20), rule="FREQ=DAILY;COUNT=9",
                by=cast.ada, made_at=NOW,
            )
            for one in rinks
        )  # fmt: skip
        return rinks

    def bare() -> None:
        for one in rinks:
            RecurringTask.objects.filter(rink=one, ended_at=None).exists()

    rinks = more(0, RINKS // 4)
    clock.run()
    quarter = sorted(seconds(clock.run) for _round in range(5))[2]
    rinks += more(RINKS // 4, RINKS)
    ours, against = alternate(clock.run, bare, rounds=7, warm=1)
    growth = ours / quarter / 4
    note = f"four times the rinks take {4 * growth:.1f} times as long"
    return at_most("sweep", ours * 1000, against * 1000, times=5, unit="ms", also=growth < 1.5, note=note)
