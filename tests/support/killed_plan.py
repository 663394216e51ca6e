"""A process of its own for workers that are killed: `python -m tests.support.killed_plan prepare|queue|summary`."""

import datetime as dt
import json
import os
import sys

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "rinklog.settings")
RINKS = 40
DAYS = 13  # of the daily round, from tomorrow: all are laid out ahead, whatever hour passes between two runs


def main(deed: str) -> None:
    """Make rinks with everything that the clock looks after, queue the sweeps, or sum up what came of it."""
    import django

    django.setup()
    if deed == "prepare":
        prepare(dt.datetime.fromisoformat(sys.argv[2]))
    if deed == "queue":
        from rinklog.celery import app

        for name in ("plan.sweep", "plan.watch_ice"):
            app.send_task(name)
    if deed == "summary":
        print(json.dumps(summary()))


def prepare(anchor: dt.datetime) -> None:
    """Rinks with a daily round, a shift that lacks people, somebody who is not off the ice, and a person gone."""
    from uuid import uuid4

    from django.core.management import call_command

    from rinklog.crew.models import Membership, Person
    from rinklog.plan.models import DueDate, OnIce
    from rinklog.plan.services.due import TaskContent, save_task
    from rinklog.plan.services.places import take
    from rinklog.plan.services.shifts import ShiftContent, make_shift
    from rinklog.rink.services import RinkSize, make_rink

    call_command("migrate", interactive=False, verbosity=0)
    hour = dt.timedelta(hours=1)
    bo, cleo, dag = (
        Person.objects.create(login=name, name=name.capitalize()) for name in ("bo", "cleo", "dag")
    )
    for number in range(RINKS):
        rink = make_rink(
            name=f"Rink {number:02d}", place="", size=RinkSize(40, 20, 4), time_zone="Europe/Oslo", rows=2, columns=2,
            starts_on=anchor.date() - dt.timedelta(days=30), now=anchor,
        )  # fmt: skip
        for person, role in ((bo, "coordinator"), (cleo, "volunteer"), (dag, "volunteer")):
            Membership.objects.create(person=person, rink=rink, role=role, since=anchor)
        first, last = (anchor.date() + dt.timedelta(days=day) for day in (1, DAYS))
        rule = TaskContent("hazard-round", first, dt.time(9), f"FREQ=DAILY;UNTIL={last:%Y%m%d}")
        save_task(id=uuid4(), rink=rink, content=rule, by=bo, now=anchor)
        starts = anchor + 12 * hour + number * dt.timedelta(days=1)
        for ahead in (0, 20):
            content = ShiftContent("flood", anchor + 12 * hour + ahead * hour, 60, 3)
            shift = make_shift(id=uuid4(), rink=rink, content=content, by=bo, now=anchor)
        stay = {"on_at": anchor - 3 * hour, "off_by": anchor - hour}
        OnIce.objects.create(rink=rink, person=cleo, noted_by=cleo, **stay)
        far = ShiftContent("hut", starts + dt.timedelta(days=3), 60, 1)
        hut = make_shift(id=uuid4(), rink=rink, content=far, by=bo, now=anchor)
        take(id=uuid4(), shift=hut, person=dag, by=dag, now=anchor)
        Membership.objects.filter(rink=rink, person=dag).update(left_at=anchor)
        assert shift.rink_id == rink.id
    DueDate.objects.all().delete()  # the sweep has to lay them out


def summary() -> dict[str, object]:
    """What people see: dates, messages by person, rink and kind, who is still on shifts, alarms; and open troubles."""
    from collections import Counter

    from rinklog.plan.models import DueDate, OnIce, ShiftPlace
    from rinklog.telling.models import Message
    from rinklog.upkeep.models import TaskRun

    told = Counter(
        f"{login} {slug} {kind}"
        for login, slug, kind in Message.objects.values_list("person__login", "rink__slug", "kind")
    )
    dates = Counter(
        f"{slug} {at.isoformat()}" for slug, at in DueDate.objects.values_list("task__rink__slug", "due_at")
    )
    return {
        "told": dict(sorted(told.items())),
        "dates": dict(sorted(dates.items())),
        "standing": ShiftPlace.objects.filter(left_at=None).count(),
        "alarms": OnIce.objects.exclude(alarmed_at=None).count(),
        "left_running": TaskRun.objects.filter(state="running").count(),
        "tasks": sorted(set(TaskRun.objects.values_list("name", flat=True))),
    }


if __name__ == "__main__":
    main(sys.argv[1])
