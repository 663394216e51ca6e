"""Old forecasts become fewer, and the past stays what it was."""

import datetime as dt
import random

from rinklog.weather.hours import Hour, Parsed
from rinklog.weather.models import ForecastHour, ForecastRun
from rinklog.weather.providers.answer import Forecast
from rinklog.weather.queries import fingerprint, known_hours
from rinklog.weather.services import store_forecast
from rinklog.weather.thinning import thin
from tests.support.cast import Cast

H = dt.timedelta(hours=1)
START = dt.datetime(2026, 1, 1, tzinfo=dt.UTC)


def fill(cast: Cast, runs: int, rng: random.Random) -> None:
    """One run an hour by turns of two services: hourly for a while, then in steps of six hours."""
    for n in range(runs):
        made = START + n * H
        hourly = [
            Hour(at=made + k * H, air_c=rng.uniform(-20, 0), precip_mm=0.1) for k in range(rng.randint(3, 12))
        ]
        first = hourly[-1].at + H
        first += (-first.hour % 6) * H
        steps = [
            Hour(at=first + 6 * k * H, air_c=rng.uniform(-20, 0), precip_mm=0.6, step_s=21600)
            for k in range(rng.randint(0, 4))
        ]
        told = Forecast(Parsed([*hourly, *steps]), made)
        store_forecast(rink=cast.rink, provider=f"p{n % 2}", forecast=told, fetched_at=made + H / 6)


def test_the_past_stays_the_same_to_the_last_bit(cast: Cast) -> None:
    fill(cast, 60, random.Random(7))
    end = START + 120 * H
    before = known_hours(cast.rink, START, end), fingerprint(cast.rink, START, end)
    rows = ForecastHour.objects.count()
    gone = thin(rink=cast.rink, now=START + dt.timedelta(days=12))
    assert gone > rows / 3
    assert ForecastHour.objects.count() == rows - gone
    assert (known_hours(cast.rink, START, end), fingerprint(cast.rink, START, end)) == before
    assert thin(rink=cast.rink, now=START + dt.timedelta(days=12)) == 0


def test_one_run_in_six_hours_stays_whole_and_young_runs_are_not_touched(cast: Cast) -> None:
    fill(cast, 24, random.Random(8))
    sizes = {run.id: run.hours.count() for run in ForecastRun.objects.all()}
    thin(rink=cast.rink, now=START + dt.timedelta(days=10) + 12 * H)
    runs = list(ForecastRun.objects.order_by("fetched_at"))
    whole = [n for n, run in enumerate(runs) if run.hours.count() == sizes[run.id]]
    assert {0, 6, *range(12, 24)} <= set(whole)
    assert [run.thinned_at is None for run in runs] == [False] * 12 + [True] * 12
