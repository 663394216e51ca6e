"""Asking for the weather, off the road of whoever waits for a page."""

import logging
from uuid import UUID

from celery import shared_task
from django.utils import timezone

from rinklog.rink.models import Rink
from rinklog.upkeep.again import AGAIN
from rinklog.upkeep.queue import soon
from rinklog.weather import importing, pulling, queries, thinning

log = logging.getLogger(__name__)


@shared_task(name="weather.pull_forecast", **AGAIN)
def pull_forecast(rink_id: str) -> None:
    """Ask the sources of one rink that are due."""
    rink = Rink.objects.filter(id=rink_id).first()
    if rink is None:
        return
    for problem in pulling.pull(rink=rink, now=timezone.now()).problems:
        log.info("weather of %s: %s", rink.slug, problem)


@shared_task(name="weather.read_file", **AGAIN)
def read_file(file_id: str) -> None:
    """Read an uploaded file on; what is left after a minute is queued again."""
    if importing.go_on(id=UUID(file_id), now=timezone.now()):
        soon(read_file, file_id)


@shared_task(name="weather.sweep", **AGAIN)
def sweep() -> None:
    """Queue what is due, whoever forgot it, and delete files that are no longer needed."""
    now = timezone.now()
    for rink_id in queries.sources_due(now):
        soon(pull_forecast, rink_id)
    for one in queries.files_standing_still(now):
        soon(read_file, one.id)
    for one in queries.files_to_forget(now):
        importing.forget_file(one=one)


@shared_task(name="weather.thin_forecasts", **AGAIN)
def thin_forecasts() -> None:
    """Make room."""
    for rink in Rink.objects.all():
        thinning.thin(rink=rink, now=timezone.now())
