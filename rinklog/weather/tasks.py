"""Asking for the weather, off the road of whoever waits for a page."""

import logging

from celery import shared_task
from django.utils import timezone

from rinklog.rink.models import Rink
from rinklog.upkeep.queue import soon
from rinklog.weather import pulling, queries, thinning

log = logging.getLogger(__name__)


@shared_task(name="weather.pull_forecast")
def pull_forecast(rink_id: str) -> None:
    """Ask the sources of one rink that are due."""
    rink = Rink.objects.filter(id=rink_id).first()
    if rink is None:
        return
    for problem in pulling.pull(rink=rink, now=timezone.now()).problems:
        log.info("weather of %s: %s", rink.slug, problem)


@shared_task(name="weather.sweep")
def sweep() -> None:
    """Queue what is due, whoever forgot it."""
    for rink_id in queries.sources_due(timezone.now()):
        soon(pull_forecast, rink_id)


@shared_task(name="weather.thin_forecasts")
def thin_forecasts() -> None:
    """Make room."""
    for rink in Rink.objects.all():
        thinning.thin(rink=rink, now=timezone.now())
