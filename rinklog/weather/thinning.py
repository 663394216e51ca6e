"""Old forecasts take room that nobody reads. What `known_hours` gives of the past stays the same to the last bit.

Whole for ten days. After that one run in six hours stays whole, so that a past evening can be looked at with what was
known then, at most six hours coarser; of the others only those hours stay for which no newer run speaks.
"""

import datetime as dt

from django.db import transaction
from django.db.models import F, Window
from django.db.models.functions import RowNumber

from rinklog.rink.models import Rink
from rinklog.weather.models import ForecastHour, ForecastRun
from rinklog.weather.queries import NEWEST_FIRST

WHOLE = dt.timedelta(days=10)
BLOCK_S = 6 * 3600
AT_A_TIME = 200


@transaction.atomic
def thin(*, rink: Rink, now: dt.datetime) -> int:
    """Thin the runs that have become old; returns how many hours went. Safe to call twice."""
    Rink.objects.select_for_update().get(id=rink.id)
    old = ForecastRun.objects.filter(rink=rink, fetched_at__lt=now - WHOLE, thinned_at=None)
    todo = list(old.order_by("fetched_at", "id")[:AT_A_TIME])
    if not todo:
        return 0
    spare = {run.id for run in todo} - _whole(rink, todo)
    kept = _used(rink, todo)
    gone, _ = ForecastHour.objects.filter(run__in=spare).exclude(id__in=kept).delete()
    ForecastRun.objects.filter(id__in=[run.id for run in todo]).update(thinned_at=now)
    return gone


def _whole(rink: Rink, todo: list[ForecastRun]) -> set[int]:
    """The first run of every six hours, whether it was thinned in an earlier turn or is looked at now."""
    first: dict[int, int] = {}
    begin = todo[0].fetched_at - dt.timedelta(seconds=BLOCK_S)
    runs = ForecastRun.objects.filter(rink=rink, fetched_at__gte=begin, fetched_at__lte=todo[-1].fetched_at)
    for id, at in runs.order_by("fetched_at", "id").values_list("id", "fetched_at"):
        first.setdefault(int(at.timestamp()) // BLOCK_S, id)
    return set(first.values())


def _used(rink: Rink, todo: list[ForecastRun]) -> set[int]:
    """The hours that `known_hours` reads: the newest of every time and step, and what a line is drawn to."""
    rows = ForecastHour.objects.filter(
        run__rink=rink,
        at__gte=min(run.starts_at for run in todo),
        at__lt=max(run.ends_at for run in todo) + dt.timedelta(days=1),
    )
    rank = Window(RowNumber(), partition_by=[F("at"), F("step_s")], order_by=NEWEST_FIRST)
    newest = rows.annotate(rank=rank).filter(rank=1).values_list("id", "run_id", "at", "step_s")
    kept, ends = set(), set()
    for id, run, at, step_s in newest:
        kept.add(id)
        ends.add((run, at + dt.timedelta(seconds=step_s)))
    ours = ForecastHour.objects.filter(run__in=todo).values_list("id", "run_id", "at")
    return kept | {id for id, run, at in ours if (run, at) in ends}
