"""The Celery application and the one timetable of everything that happens by the clock."""

import os
from datetime import timedelta
from typing import Any

from celery import Celery
from celery.schedules import crontab
from celery.signals import (
    beat_init,
    task_failure,
    task_postrun,
    task_prerun,
    task_retry,
    worker_init,
    worker_process_init,
    worker_ready,
)
from kombu.transport import TRANSPORT_ALIASES

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "rinklog.settings")

from django.conf import settings  # noqa: E402  the variable above must be set first
from django.utils import timezone  # noqa: E402

from rinklog.console.tether import tether  # noqa: E402
from rinklog.upkeep.folder_queue import folder_options, put_back  # noqa: E402

app = Celery("rinklog")
app.set_default()  # for every thread, not only the one that imports this

# Rows are the truth and messages only hints: what is lost here, a sweep queues again.
TIMETABLE: dict[str, tuple[str, timedelta | crontab]] = {
    "heart": ("upkeep.beat_heart", timedelta(seconds=20)),
    "photos": ("photos.sweep_waiting", timedelta(minutes=1)),
    "ice": ("ice.sweep", timedelta(minutes=1)),
    "advice": ("advice.sweep", timedelta(minutes=1)),
    "telling": ("telling.send_waiting", timedelta(minutes=1)),
    "imports": ("archive.sweep_imports", timedelta(minutes=2)),
    "weather": ("weather.sweep", timedelta(minutes=10)),
    "old-forecasts": ("weather.thin_forecasts", timedelta(hours=6)),
    "reviews": ("reports.sweep_reviews", timedelta(minutes=2)),
    "plan": ("plan.sweep", timedelta(minutes=15)),
    "skies": ("plan.watch_skies", timedelta(minutes=20)),
    "on-ice": ("plan.watch_ice", timedelta(minutes=1)),
    "papers": ("owed.remind", timedelta(hours=6)),
    "runs": ("upkeep.forget_runs", timedelta(hours=6)),
    "backup": ("archive.nightly_backup", timedelta(minutes=30)),
}

# What is not asked for when the clock starts: the heart beats by itself, the others may wait for their time.
SELDOM = frozenset({"heart", "old-forecasts", "runs", "backup"})

# What the clock said while no worker came is stale after this long: a worker that is back does each thing once.
STALE_AFTER = timedelta(hours=1)

# What a task brings up to date is looked at by the next sweep at once, so that nobody waits for two of them.
FOLLOWS = {
    "weather.pull_forecast": "ice.sweep",
    "weather.read_file": "ice.sweep",
    "ice.project": "advice.sweep",
}
BEHIND_PAGES = 10  # how far the work behind the pages stands back for them [niceness]

MAIN_PROCESS = os.getpid()  # a pool process is a fork and keeps its parent's number here
FOLDER_TRANSPORT = "filesystem://"
QUEUE_FOLDER = settings.DATA_DIR / "queue"
TRANSPORT_ALIASES["filesystem"] = "rinklog.upkeep.folder_queue:Transport"


def transport_options(url: str) -> dict[str, Any]:
    """What the broker needs to know beside its address."""
    if url.startswith(FOLDER_TRANSPORT):
        return folder_options(QUEUE_FOLDER)
    # Redis gives a killed worker's task out again after this long; every task ends well before it.
    return {
        "visibility_timeout": 600,
        "unacked_restore_interval": 10,
        "socket_connect_timeout": 3,
        "socket_timeout": 3,  # of a broker that hangs one tap feels this much, then the queue rests
        # Whoever posts does not wait for a broker that is down: the row is written, and a sweep finds it.
        "max_retries": 1,
        "interval_start": 0,
        "interval_step": 0.1,
        "connect_retries_timeout": 2,
    }


app.conf.update(
    broker_url=settings.CELERY_BROKER_URL,
    broker_transport_options=transport_options(settings.CELERY_BROKER_URL),
    broker_connection_retry_on_startup=True,
    task_always_eager=settings.CELERY_TASK_ALWAYS_EAGER,
    task_eager_propagates=True,
    task_acks_late=True,
    task_reject_on_worker_lost=True,
    task_ignore_result=True,
    task_time_limit=300,
    task_soft_time_limit=280,
    result_backend=None,
    accept_content=["json"],
    task_serializer="json",
    enable_utc=True,
    timezone="UTC",
    worker_prefetch_multiplier=1,
    worker_enable_remote_control=False,
    worker_send_task_events=False,
    worker_hijack_root_logger=False,
    beat_schedule={
        name: {"task": task, "schedule": when, "options": {"expires": STALE_AFTER.total_seconds()}}
        for name, (task, when) in TIMETABLE.items()
    },
)
app.autodiscover_tasks()


@worker_init.connect
def _go_on_where_the_last_one_stopped(**_: Any) -> None:
    """`up` holds its data folder alone, so what lies taken was left by a worker that is gone."""
    if settings.CELERY_BROKER_URL.startswith(FOLDER_TRANSPORT):
        put_back(QUEUE_FOLDER)


@beat_init.connect
def _look_at_once(**_: Any) -> None:
    """A clock that starts asks for every sweep: nobody waits minutes for what was due while nothing ran."""
    from rinklog.upkeep.queue import soon

    for name, (task, _when) in TIMETABLE.items():
        if name not in SELDOM:
            soon(app.signature(task))


@worker_process_init.connect
def _end_with_the_worker(**_: Any) -> None:
    """A pool process must not outlive a worker that was killed, and lets whoever waits for a page go first."""
    tether(MAIN_PROCESS)
    os.nice(BEHIND_PAGES)


@task_prerun.connect
def _note_begin(task: Any = None, task_id: str = "", args: Any = (), **_: Any) -> None:
    """Write down that a task began; a worker that is killed leaves the row as it is."""
    from rinklog.upkeep import running

    if not task.request.is_eager:
        running.began(task_id, task.name, list(args), timezone.now())


@task_failure.connect
@task_retry.connect
def _note_failure(sender: Any = None, **given: Any) -> None:
    """Write down why a task failed, or why it is tried again."""
    from rinklog.upkeep import running

    if not sender.request.is_eager:
        running.failed(sender.request.id, given.get("exception") or given.get("reason"), timezone.now())


@task_postrun.connect
def _note_end(task: Any = None, task_id: str = "", state: str = "", **_: Any) -> None:
    """Write down that a task went well, and queue what follows from it."""
    from rinklog.upkeep import running

    if state == "SUCCESS" and not task.request.is_eager:
        running.went_well(task_id, timezone.now())
        queue_what_follows(task.name)


def queue_what_follows(name: str) -> None:
    """Queue the sweep that goes on from what a task brought up to date."""
    from rinklog.upkeep.queue import soon

    if name in FOLLOWS:
        soon(app.signature(FOLLOWS[name]))


@worker_ready.connect
def _first_heartbeat(**_: Any) -> None:
    """Say at once that the worker is here, rather than at the next tick. What is due the clock asks for as it starts."""
    from rinklog.upkeep.tasks import beat_heart

    beat_heart()
