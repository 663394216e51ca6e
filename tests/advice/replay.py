"""Chicago, February 2015, day by day with only the past known: how many advised floods would have frozen in time?

    RINKLOG_DATA=<an empty folder> python -m tests.advice.replay [days]

Observations are O'Hare's (NOAA ISD-Lite 725300); O'Hare's own forecasts of then are not at hand, so each day's is made
from the later truth with errors of a stated size (TOLD). The truth of the ice is the column engine under the observed
weather: the replay judges the forecast's part and the decision, not the engine itself. Every evening at 17:00 advice is
made; where it says "flood tonight" the flood is made as advised, and it is found frozen at the time the truth says.
"""

import datetime as dt
import gzip
import os
import sys
from dataclasses import dataclass, replace
from typing import Any
from uuid import uuid4

import numpy as np

from rinklog.physics.column import Action, Column, Settings, Weather, march
from rinklog.physics.column.actions import apply
from rinklog.physics.column.forcing import steps_of
from rinklog.physics.windows import ForecastError, hours_to_freeze
from rinklog.weather.formats import isd_lite
from rinklog.weather.hours import Hour, Parsed
from tests.open_data import fetch
from tests.pure.test_column_measured import CHICAGO

UTC, HOUR = dt.UTC, dt.timedelta(hours=1)
FIRST = dt.datetime(2015, 1, 5, 18, tzinfo=UTC)  # water stands on the rink from noon on
REPLAY_FROM, REPLAY_DAYS = dt.date(2015, 2, 1), 28
EVENING_UTC = 23  # 17:00 in Chicago
STOOD_M = 0.10
TOLD = ForecastError()  # 1.0 K at once, 0.5 K a day more, wind 25 %, cloud 0.2; errors last 12 h
FALL_LOG = 0.5  # precipitation of each day times exp(N(0, 0.5))
SETTINGS = Settings()
PLACE = (41.98, -87.91)


@dataclass(frozen=True)
class Night:
    """One evening's advice and what came of it."""

    day: dt.date
    advised: bool
    coat_mm: float = 0.0
    chance: float = 0.0
    said_h: float = 0.0
    took_h: float = 0.0
    in_time: bool = False
    why: str = ""


def truth() -> list[Hour]:
    """Every hour of January to March; holes bridged in a line, missing precipitation is none."""
    hours = {h.at: h for h in isd_lite.parse(gzip.decompress(fetch(CHICAGO).read_bytes())).hours}
    wanted = [FIRST + n * HOUR for n in range(24 * 64)]

    def line(name: str) -> Any:
        known = [(n, getattr(hours[at], name)) for n, at in enumerate(wanted) if at in hours]
        known = [(n, value) for n, value in known if value is not None]
        return np.interp(range(len(wanted)), [n for n, _ in known], [value for _, value in known])

    names = ("air_c", "humidity_frac", "wind_ms", "cloud_frac")
    lines = {name: line(name) for name in names}
    lines["humidity_frac"] = np.clip(lines["humidity_frac"], 0, 1)
    rain = [(hours[at].precip_mm or 0.0) if at in hours else 0.0 for at in wanted]
    return [
        Hour(at=at, precip_mm=rain[n], **{name: float(lines[name][n]) for name in names})
        for n, at in enumerate(wanted)
    ]


def foretold(real: list[Hour], start: int, seed: int, hours: int = 120) -> list[Hour]:
    """What a forecast made at an hour says of the next ones: the truth with errors that grow and last."""
    draw = np.random.default_rng(seed)
    days = np.arange(hours) / 24
    kept = np.exp(-1 / TOLD.correlation_h)

    def drift() -> Any:
        noise, path = draw.standard_normal(hours), np.zeros(hours)
        path[0] = noise[0]
        for n in range(1, hours):
            path[n] = kept * path[n - 1] + np.sqrt(1 - kept**2) * noise[n]
        return path

    air = drift() * (TOLD.air_k + TOLD.air_k_per_day * days)
    wind = np.exp(drift() * (TOLD.wind_log + TOLD.wind_log_per_day * days))
    cloud = drift() * (TOLD.cloud_frac + TOLD.cloud_frac_per_day * days)
    fall = np.exp(draw.standard_normal(hours // 24 + 1) * FALL_LOG)
    return [
        replace(
            hour,
            air_c=(hour.air_c or 0) + air[n],
            wind_ms=(hour.wind_ms or 0) * wind[n],
            cloud_frac=float(np.clip((hour.cloud_frac or 0) + cloud[n], 0, 1)),
            precip_mm=(hour.precip_mm or 0) * fall[n // 24],
        )
        for n, hour in enumerate(real[start : start + hours])
    ]


def weather(real: list[Hour]) -> Weather:
    """The truth as the engine wants it, with the sun of a clear sky under the observed cloud."""
    from rinklog.ice.forcing import Place, prepare
    from rinklog.weather.known import KnownHour

    known = [KnownHour(hour, True, "truth", hour.at) for hour in real]
    return prepare(known, Place(*PLACE)).plain()


class Rink:
    """The rink on record and the rink as it really is."""

    def __init__(self, real: list[Hour]) -> None:
        from tests.support.cast import make_cast

        self.real, self.sky = real, weather(real)
        self.cast = make_cast()
        self.ice = Column.start(SETTINGS, 1, water_m=STOOD_M)
        self.at, self.seen = 0, 0
        self._set_up()

    def _set_up(self) -> None:
        from rinklog.rink.models import ChosenRule, PhaseChange, Zone

        cast = self.cast
        rink, season = cast.rink, cast.season
        rink.latitude, rink.longitude = PLACE
        rink.time_zone = "America/Chicago"
        rink.save()
        rink.seasons.update(starts_on=dt.date(2014, 11, 1))
        keep = [zone.id for zone in cast.zones if zone.row < 2 and zone.column < 2]
        Zone.objects.filter(grid=season.grid).exclude(id__in=keep).delete()
        Zone.objects.filter(grid=season.grid).update(depth_m=STOOD_M)
        for phase, day in (("building", FIRST.date()), ("skating", dt.date(2015, 1, 25))):
            PhaseChange.objects.create(
                id=uuid4(), season=season, phase=phase, on=day, by=cast.ada, recorded_at=FIRST
            )
        ChosenRule.objects.create(rink=rink, key="machine_holes", value=3, by=cast.ada, chosen_at=FIRST)

    def go_to(self, hour: int) -> None:
        """March the truth to an hour, and let the station's observations until then be known."""
        from rinklog.weather.services import store_observations

        if hour > self.at:
            self.ice, _ = march(self.ice, steps_of(self.sky, self.at, hour), SETTINGS, keep=())
            self.at = hour
        known = self.real[self.seen : hour]
        if known:
            store_observations(
                rink=self.cast.rink, source="station KORD", hours=known, recorded_at=known[-1].at + HOUR
            )
            self.seen = hour

    def clear_snow(self) -> None:
        """Take the snow off, really and in the log."""
        if float(self.ice.snow_m[0]) < 0.003:
            return
        self.ice, _ = apply(self.ice, Action(0.0, "clear-snow"), SETTINGS)
        when = FIRST + self.at * HOUR
        self.cast.work("snow-removal", now=when, zone_ids=tuple(zone.id for zone in self.cast.zones))

    def flood(self, start: int, coat_mm: float) -> float:
        """Flood at an hour; the hours it really takes, and the coat on the ice from then on."""
        self.go_to(start)
        area_m2 = sum(zone.area_m2 for zone in self.cast.zones)
        ahead = steps_of(self.sky, start, start + 36)
        bare, _ = apply(self.ice, Action(0.0, "clear-snow"), SETTINGS)
        took = float(hours_to_freeze(bare, ahead, SETTINGS, coat_mm)[0])
        self.ice, _ = apply(bare, Action(0.0, "flood", coat_mm, 5.0), SETTINGS)
        ids = tuple(zone.id for zone in self.cast.zones)
        entry = self.cast.flood(now=FIRST + start * HOUR, water_m3=coat_mm / 1000 * area_m2, zone_ids=ids)
        if np.isfinite(took):
            self._say_frozen(entry, FIRST + start * HOUR + took * HOUR)
        return took

    def _say_frozen(self, entry: Any, when: dt.datetime) -> None:
        from rinklog.work.entry_events import add_event

        later = when + HOUR  # told an hour later, with the time named
        add_event(id=uuid4(), entry=entry, what="frozen", by=self.cast.cleo, now=later, at=when)


def evening(rink: Rink, day: dt.date) -> Night:
    """One evening: look, forecast, estimate, advice, and the flood if one is advised."""
    from rinklog.advice.queries import windows
    from rinklog.advice.services import advise, keep_predictions
    from rinklog.ice.services import project
    from rinklog.weather.providers.answer import Forecast
    from rinklog.weather.services import store_forecast

    now = dt.datetime.combine(day, dt.time(EVENING_UTC), UTC)
    hour = round((now - FIRST) / HOUR)
    rink.go_to(hour)
    rink.clear_snow()
    told = Parsed(hours=foretold(rink.real, hour, seed=day.toordinal()))
    forecast = Forecast(parsed=told, made_at=now)
    store_forecast(rink=rink.cast.rink, provider="met-norway", forecast=forecast, fetched_at=now)
    project(rink=rink.cast.rink, now=now, known_at=now)
    row = advise(rink=rink.cast.rink, now=now, known_at=now)
    tonight = [one for one in windows(rink.cast.rink, now) if one.starts_at < now + 13 * HOUR]
    if not tonight:
        return Night(day, False, why=_why(row))
    best = tonight[0]
    took = rink.flood(round((best.starts_at - FIRST) / HOUR), best.coat_mm)
    keep_predictions(rink=rink.cast.rink, now=best.starts_at + HOUR)
    said = (best.frozen_by.middle or best.deadline) - best.starts_at
    in_time = best.starts_at + dt.timedelta(hours=min(took, 999)) <= best.deadline
    return Night(day, True, best.coat_mm, best.chance, said / HOUR, took, in_time)


def _why(row: Any) -> str:
    items = [item for item in row.items if item["key"] == "not-tonight"]
    return items[0]["why"][0]["id"] if items and items[0]["why"] else "nothing said"


def main(days: int) -> None:
    """Replay, print a line a night, and the sums."""
    from tests.bench.one import database

    os.environ.setdefault("RINKLOG_NO_BOOTSTRAP", "1")
    database()
    rink = Rink(truth())
    nights = []
    for n in range(days):
        nights.append(evening(rink, REPLAY_FROM + dt.timedelta(days=n)))
        print(nights[-1], flush=True)
    made = [night for night in nights if night.advised]
    off = sorted(night.took_h - night.said_h for night in made)
    print(f"{len(made)} floods advised on {days} evenings, {sum(n.in_time for n in made)} frozen in time")
    print(f"said beforehand: {sum(n.chance for n in made):.1f}; middle error {off[len(off) // 2]:+.2f} h")
    from rinklog.advice.queries import record

    print(record(rink.cast.rink)[0])


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else REPLAY_DAYS)
