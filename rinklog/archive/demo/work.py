"""Puts demo work on the log through the same services that a phone uses."""

import datetime as dt
from dataclasses import dataclass, field, replace
from typing import Any

from rinklog.archive.demo.calendar import Days
from rinklog.archive.demo.jobs import Job, demo_id, pick
from rinklog.archive.demo.winter import Weather
from rinklog.crew.models import Person
from rinklog.rink.models import Rink, Zone
from rinklog.work import services
from rinklog.work.content import EntryContent
from rinklog.work.kinds import KINDS
from rinklog.work.models import Entry

HOSE_FLOW_LS = 0.62
METER_AT_START_M3 = 1204.32


@dataclass
class Writer:
    """What every entry of the demo needs; `meter_m3` runs on with every flood."""

    rink: Rink
    zones: list[Zone]
    people: dict[str, Person]
    days: Days
    weather: dict[int, Weather]
    meter_m3: float = METER_AT_START_M3
    written: dict[str, Entry] = field(default_factory=dict)

    def write(self, job: Job) -> None:
        """Record one job with what happened to it later; what lies ahead is left for later."""
        started = self.days.at(job.day, job.hour, job.minute)
        ended = started + dt.timedelta(minutes=max(job.people.values()))
        if job.kind not in KINDS or not self.days.is_past(ended):
            return
        by = self.people[next(iter(job.people))]
        content = self.content(job, started, ended)
        recorded = min(ended + dt.timedelta(minutes=4), self.days.now)
        entry = services.record_entry(
            id=self.id(job.name),
            rink=self.rink,
            kind=job.kind,
            content=content,
            by=by,
            now=recorded,
            local_day=self.days.date(job.day),
            sent_at=recorded,
        ).entry
        self.written[job.name] = entry
        self.afterwards(job, entry, content, by)

    def id(self, name: str) -> Any:
        """The id of something on this rink."""
        return demo_id(self.rink.id, name)

    def content(self, job: Job, started: dt.datetime, ended: dt.datetime) -> EntryContent:
        """What the person said about the job."""
        picked = pick(job.zones, self.zones)
        water_m3 = round(job.coat_mm / 1000 * sum(zone.area_m2 for zone in picked), 2) or None
        seen = self.weather[job.day]
        evening = job.hour >= 17 or job.hour < 8
        return EntryContent(
            started_at=started,
            ended_at=ended,
            zone_ids=tuple(zone.id for zone in picked),
            conditions={
                zone.id: job.conditions[zone.label] for zone in picked if zone.label in job.conditions
            },
            minutes={self.people[login].id: float(minutes) for login, minutes in job.people.items()},
            water_m3=water_m3,
            details=job.details | self.water_details(job.details, water_m3),
            note=job.note,
            lesson=job.lesson,
            seen_air_c=seen.night_c if evening else seen.noon_c,
            seen_wind_ms=seen.wind_ms,
            seen_sky=seen.sky,
        )

    def water_details(self, details: dict[str, Any], water_m3: float | None) -> dict[str, float]:
        """Meter readings or minutes that fit the water."""
        if water_m3 is None:
            return {}
        before = round(self.meter_m3, 2)
        self.meter_m3 += water_m3
        if details.get("by") == "meter":
            return {"meter_before_m3": before, "meter_after_m3": round(self.meter_m3, 2)}
        if details.get("by") == "minutes":
            minutes = round(water_m3 * 1000 / HOSE_FLOW_LS / 60, 1)
            return {"hose_minutes": minutes, "hose_flow_ls": HOSE_FLOW_LS}
        return {}

    def afterwards(self, job: Job, entry: Entry, content: EntryContent, by: Person) -> None:
        """Amend it or withdraw it, when the story says so."""
        later = entry.recorded_at + dt.timedelta(minutes=40)
        if not self.days.is_past(later):
            return
        if job.mended:
            minutes = {person: value + 10 for person, value in content.minutes.items()}
            services.amend_entry(
                id=self.id(job.name + " mended"),
                entry=entry,
                content=replace(content, minutes=minutes),
                reason=job.mended,
                by=by,
                now=later,
                local_day=self.days.date(job.day),
            )
        if job.withdrawn:
            services.withdraw_entry(
                id=self.id(job.name + " withdrawn"), entry=entry, reason=job.withdrawn, by=by, now=later
            )
