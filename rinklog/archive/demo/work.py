"""Puts demo work on the log through the same services that a phone uses."""

import datetime as dt
from dataclasses import dataclass, field, replace
from typing import Any

from rinklog import clock
from rinklog.archive.demo.calendar import Days
from rinklog.archive.demo.hazards import Found, Then
from rinklog.archive.demo.jobs import Job, demo_id, pick
from rinklog.archive.demo.winter import Weather
from rinklog.crew.models import Person
from rinklog.rink.models import Rink, Zone
from rinklog.work import services
from rinklog.work.content import EntryContent
from rinklog.work.entry_events import add_event
from rinklog.work.hazards import HazardContent, record_hazard
from rinklog.work.hazards import add_event as add_hazard_event
from rinklog.work.kinds import KINDS
from rinklog.work.models import Entry, Hazard

HOSE_FLOW_LS = 0.62
METER_AT_START_M3 = 1204.32
TOLD_AFTER = dt.timedelta(minutes=5)  # who saw it freeze says so from the hut, with the time
HAZARD_WORDS = {"kind", "severity", "x_m", "y_m", "cone_out", "note", "drift_depth_m", "wind_from_deg"}


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
    hazards: dict[str, Hazard] = field(default_factory=dict)

    def write(self, job: Job) -> None:
        """Record one job with what happened to it later; what lies ahead is left for later."""
        started = self.days.moment(job.day, job.hour, job.minute, job.hours_ago)
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
            local_day=clock.local_day(started, self.days.zone),
            sent_at=recorded,
        ).entry
        self.written[job.name] = entry
        self.happen(job, entry, ended)
        self.afterwards(job, entry, content, by)

    def id(self, name: str) -> Any:
        """The id of something on this rink."""
        return demo_id(self.rink.id, name)

    def content(self, job: Job, started: dt.datetime, ended: dt.datetime) -> EntryContent:
        """What the person said about the job."""
        picked = pick(job.zones, self.zones)
        water_m3 = self.water_m3(job, sum(zone.area_m2 for zone in picked))
        seen = self.weather[job.day]
        evening = job.hour >= 17 or job.hour < 8
        return EntryContent(
            started_at=started,
            ended_at=ended,
            zone_ids=tuple(zone.id for zone in picked),
            conditions={
                zone.id: job.conditions[zone.label] for zone in picked if zone.label in job.conditions
            },
            hazard_ids=tuple(self.hazards[name].id for name in job.hazards),
            holding={self.hazards[name].id: said for name, said in job.holding.items()},
            minutes={self.people[login].id: float(minutes) for login, minutes in job.people.items()},
            water_m3=water_m3,
            details=job.details | self.water_details(job.details, water_m3),
            note=job.note,
            lesson=job.lesson,
            seen_air_c=seen.night_c if evening else seen.noon_c,
            seen_wind_ms=seen.wind_ms,
            seen_sky=seen.sky,
        )

    def water_m3(self, job: Job, area_m2: float) -> float | None:
        """Water for the coat, as the crew would read it: ten litres, or whole minutes at the hose."""
        water_m3 = job.coat_mm / 1000 * area_m2
        if job.details.get("by") == "minutes":
            return round(water_m3 * 1000 / HOSE_FLOW_LS / 60) * 60 * HOSE_FLOW_LS / 1000
        return round(water_m3, 2) or None

    def water_details(self, details: dict[str, Any], water_m3: float | None) -> dict[str, float]:
        """Meter readings or minutes that fit the water."""
        if water_m3 is None:
            return {}
        before = round(self.meter_m3, 2)
        self.meter_m3 += water_m3
        if details.get("by") == "meter":
            return {"meter_before_m3": before, "meter_after_m3": round(self.meter_m3, 2)}
        if details.get("by") == "minutes":
            minutes = round(water_m3 * 1000 / HOSE_FLOW_LS / 60)
            return {"hose_minutes": float(minutes), "hose_flow_ls": HOSE_FLOW_LS}
        return {}

    def happen(self, job: Job, entry: Entry, ended: dt.datetime) -> None:
        """What happened to the work later: set, frozen through, lifted. Somebody else saw it."""
        by = self.people[list(job.people)[-1]]
        for what, minutes in job.events:
            at = ended + dt.timedelta(minutes=minutes)
            if self.days.is_past(at):
                details = {"result": job.result} if job.result else None
                told = min(at + TOLD_AFTER, self.days.now)
                id = self.id(f"{job.name} {what}")
                add_event(id=id, entry=entry, what=what, by=by, now=told, at=at, details=details)

    def find(self, found: Found) -> None:
        """Put up one hazard."""
        at = self.days.moment(found.day, found.hour, hours_ago=found.hours_ago)
        said = {key: value for key, value in vars(found).items() if key in HAZARD_WORDS}
        self.hazards[found.name] = record_hazard(
            id=self.id(found.name),
            rink=self.rink,
            content=HazardContent(found_at=at, **said),
            by=self.people[found.by],
            now=at,
            local_day=clock.local_day(at, self.days.zone),
        ).hazard

    def then(self, then: Then) -> None:
        """Say what became of a hazard."""
        at = self.days.at(then.day, then.hour)
        add_hazard_event(
            id=self.id(f"{then.name} {then.day} {then.hour}"),
            hazard=self.hazards[then.name],
            state=then.state,
            by=self.people[then.by],
            now=at,
            cone_out=then.cone_out,
            note=then.note,
        )

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
