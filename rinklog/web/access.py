"""The one gate: the only way a view gets an object.

Absent and forbidden are the same answer, 404: nobody learns that something exists by being refused it. A person who
is not signed in goes to the sign-in page; an htmx or offline client gets 401 and keeps what it holds.
"""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, wraps
from pathlib import Path
from typing import Any, TypeVar, cast
from uuid import UUID
from zoneinfo import ZoneInfo

from django.contrib.auth.views import redirect_to_login
from django.http import Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.utils import timezone

from rinklog.archive import queries as archive
from rinklog.archive.kept import path_of
from rinklog.archive.models import Import
from rinklog.crew import queries as crew
from rinklog.crew.models import Invitation, Membership, Person
from rinklog.crew.rights import Right, may
from rinklog.ice import queries as ice
from rinklog.ice.models import HoleQuestion
from rinklog.money import queries as money
from rinklog.money.models import Payment
from rinklog.owed import queries as owed
from rinklog.owed.models import Deadline, Loan
from rinklog.photos import queries as photos
from rinklog.photos.models import Photo
from rinklog.plan.models import HandOver, OnIce, RecurringTask, Shift, ShiftPlace
from rinklog.plan.queries import due, hand_over, on_ice, shifts
from rinklog.records import queries as records
from rinklog.records.models import PublicPage, Record
from rinklog.reports import queries as reports
from rinklog.reports.models import SharedLink
from rinklog.rink import queries as rink
from rinklog.rink import sign_queries as signs
from rinklog.rink.models import BucketTest, PhaseChange, Rink, Season, Sign
from rinklog.site.models import Layout, SiteTask, SnowFence, StoredItem
from rinklog.site.queries import fences, ground, lists, store
from rinklog.telling import queries as telling
from rinklog.telling.models import Message
from rinklog.upkeep import queries as upkeep
from rinklog.upkeep.models import TaskRun
from rinklog.weather import queries as weather
from rinklog.weather.models import WeatherFile
from rinklog.work import hazard_queries as hazards
from rinklog.work import log_queries as log
from rinklog.work import queries as work
from rinklog.work.models import Entry, EntryEvent, Hazard, HazardEvent

R = TypeVar("R", bound=Record)


@dataclass(frozen=True)
class At:
    """Where a request stands: who, on which rink, in which role, at what moment."""

    person: Person
    rink: Rink
    role: str
    now: dt.datetime
    unread: int = 0

    @property
    def zone(self) -> ZoneInfo:
        """The rink's time zone."""
        return ZoneInfo(self.rink.time_zone)

    @property
    def today(self) -> dt.date:
        """The rink-local date."""
        return self.now.astimezone(self.zone).date()

    @cached_property
    def season(self) -> Season:
        """The season of today, or the first one to come; 404 while there is none."""
        season = rink.season_shown_on(self.rink, self.today)
        if season is None:
            raise Http404
        return season

    def may(self, right: Right) -> bool:
        """Whether this person holds a right here."""
        return may(self.role, right)

    def entry(self, id: UUID) -> Entry:
        """An entry of this rink, or 404."""
        return found(work.entry(self.rink, id))

    def record(self, model: type[R], id: UUID) -> R:
        """A record of this rink (walk, opening, headcount, accident report), or 404."""
        return found(records.record(model, self.rink, id))

    def own_entry(self, id: UUID) -> Entry:
        """An entry this person may amend or withdraw: their own, or anybody's with the right to; else 404."""
        entry = self.entry(id)
        own = self.person.id in (entry.by_id, entry.root.by_id)
        return found(entry if own or self.may(Right.AMEND_ANY) else None)

    def hole_question(self, entry_id: UUID) -> HoleQuestion:
        """What was asked about a drill hole of this rink, answered or not, or 404."""
        return found(ice.hole_question(self.rink, entry_id))

    def entry_event(self, id: UUID) -> EntryEvent:
        """Something that happened to an entry of this rink, or 404."""
        return found(log.event(self.rink, id))

    def hazard(self, id: UUID) -> Hazard:
        """A hazard of this rink, or 404."""
        return found(work.hazard(self.rink, id))

    def hazard_event(self, id: UUID) -> HazardEvent:
        """Something said of a hazard of this rink, or 404."""
        return found(hazards.event(self.rink, id))

    def photo(self, id: UUID) -> Photo:
        """A photo of this rink that this person may see, or 404."""
        photo = found(photos.photo(self.rink, id))
        if not self.sees_photos_of(photo.subject, photo.subject_id) and photo.by_id != self.person.id:
            raise Http404
        return photo

    def sees_photos_of(self, subject: str, subject_id: UUID) -> bool:
        """Whether this person may see what a subject's photos show: those of an accident follow its report."""
        if subject != Photo.Subject.RECORD or self.may(Right.SEE_ACCIDENTS):
            return True
        return not records.is_accident(self.rink, subject_id)

    def message(self, id: UUID) -> Message:
        """A message to this person about this rink, or 404: nobody reads another's inbox."""
        return found(telling.message(self.person, self.rink, id))

    def loan(self, id: UUID) -> Loan:
        """Something lent to this rink, or 404."""
        return found(owed.loan(self.rink, id))

    def deadline(self, id: UUID) -> Deadline:
        """A date of this rink by which a paper must be in, or 404."""
        return found(owed.deadline(self.rink, id))

    def phase_change(self, id: UUID) -> PhaseChange:
        """A phase change of one of this rink's seasons, or 404."""
        return found(rink.phase_change(self.rink, id))

    def bucket_test(self, id: UUID) -> BucketTest:
        """A bucket test of this rink, or 404."""
        return found(rink.bucket_test(self.rink, id))

    def sign(self, id: UUID) -> Sign:
        """A sign of this rink, retired or not, or 404."""
        return found(signs.sign(self.rink, id))

    def member(self, id: UUID) -> Membership:
        """A standing member of this rink's crew by the person's id, or 404."""
        return found(crew.member(self.rink, id))

    def invitation(self, id: UUID) -> Invitation:
        """An invitation to this rink's crew, or 404."""
        return found(crew.invitation(self.rink, id))

    def shift(self, id: UUID) -> Shift:
        """A shift of this rink with its people, or 404."""
        return found(shifts.shift(self.rink, id))

    def shift_place(self, id: UUID) -> ShiftPlace:
        """Somebody's place on a shift of this rink, or 404."""
        return found(shifts.place(self.rink, id))

    def recurring_task(self, id: UUID) -> RecurringTask:
        """Recurring work of this rink, or 404."""
        return found(due.task(self.rink, id))

    def task_run(self, id: int) -> TaskRun:
        """The run of a task, or 404. Tasks work for every rink, so it is for who keeps every rink."""
        return found(upkeep.run(id) if crew.keeps_every_rink(self.person) else None)

    def hand_over(self, id: UUID) -> HandOver:
        """A hand-over of this rink, or 404."""
        return found(hand_over.hand_over(self.rink, id))

    def stay_on_ice(self, id: UUID) -> OnIce:
        """A stay on the ice of this rink, or 404."""
        return found(on_ice.stay(self.rink, id))

    def payment(self, id: UUID) -> Payment:
        """A payment of this rink, or 404."""
        return found(money.payment(self.rink, id))

    def shared_link(self, id: UUID) -> SharedLink:
        """A link to one of this rink's reviews, or 404."""
        return found(reports.shared_link(self.rink, id))

    def layout(self, id: UUID) -> Layout:
        """A layout of this rink's sheet on its site, or 404."""
        return found(ground.layout(self.rink, id))

    def site_task(self, id: UUID) -> SiteTask:
        """A task of set-up or take-down of this rink, or 404."""
        return found(lists.task(self.rink, id))

    def snow_fence(self, id: UUID) -> SnowFence:
        """A snow fence of this rink, or 404."""
        return found(fences.fence(self.rink, id))

    def stored_item(self, id: UUID) -> StoredItem:
        """A thing in this rink's store, or 404."""
        return found(store.item(self.rink, id))

    def import_(self, id: UUID) -> Import:
        """An import into this rink, or 404."""
        return found(archive.one_import(self.rink, id))

    def weather_file(self, id: UUID) -> WeatherFile:
        """A weather file of this rink, or 404."""
        return found(weather.weather_file(self.rink, id))

    def kept_backup(self, name: str) -> Path:
        """The file of a kept backup, or 404. It holds every rink, so it is for who keeps every rink."""
        if not crew.keeps_every_rink(self.person):
            raise Http404
        return found(path_of(name))


@dataclass(frozen=True)
class PublicAt:
    """Where a request by anybody stands: on which rink, whether search engines may list it, at what moment."""

    rink: Rink
    listed: bool
    now: dt.datetime

    @property
    def zone(self) -> ZoneInfo:
        """The rink's time zone."""
        return ZoneInfo(self.rink.time_zone)


View = Callable[..., HttpResponseBase]
T = TypeVar("T")


def found(thing: T | None) -> T:
    """The thing, or 404."""
    if thing is None:
        raise Http404
    return thing


def on_rink(right: Right) -> Callable[[View], View]:
    """Let a view in only with `right` on the rink named by the address; it gets an `At` in place of the slug."""

    def wrap(view: View) -> View:
        @wraps(view)
        def gate(request: HttpRequest, slug: str, *args: Any, **kwargs: Any) -> HttpResponseBase:
            if not request.user.is_authenticated:
                return sign_in_first(request)
            person = cast(Person, request.user)
            member = crew.membership(person, slug, unread=telling.unread_of_member())
            if member is None or not may(member.role, right):
                raise Http404
            at = At(
                person=person,
                rink=member.rink,
                role=member.role,
                now=timezone.now(),
                unread=member.unread,  # type: ignore[attr-defined]
            )
            request.at = at  # type: ignore[attr-defined]
            return view(request, at, *args, **kwargs)

        gate.needs = right  # type: ignore[attr-defined]
        return gate

    return wrap


def signed_in(view: View) -> View:
    """Let a view in for anybody who is signed in, whatever the rink."""

    @wraps(view)
    def gate(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if not request.user.is_authenticated:
            return sign_in_first(request)
        return view(request, *args, **kwargs)

    gate.needs = "signed-in"  # type: ignore[attr-defined]
    return gate


def keeper_somewhere(view: View) -> View:
    """Let a view in for whoever may make a rink: a keeper of any, or anybody signed in while the site has none."""

    @wraps(view)
    def gate(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if not request.user.is_authenticated:
            return sign_in_first(request)
        if not crew.may_make_rink(cast(Person, request.user)):
            raise Http404
        return view(request, *args, **kwargs)

    gate.needs = "keeper-somewhere"  # type: ignore[attr-defined]
    return gate


def anybody(view: View) -> View:
    """Mark a view as open to people who are not signed in: said aloud, so that it is never an oversight."""
    view.needs = "anybody"  # type: ignore[attr-defined]
    return view


def public_rink(slug: str) -> PublicAt:
    """The rink whose page the keeper shows to anybody, without any person; else 404."""
    page = found(records.public_page(slug))
    return PublicAt(rink=page.rink, listed=page.shown == PublicPage.Shown.LISTED, now=timezone.now())


def sign_for(person: Person, code: str) -> Sign | None:
    """The sign with a code when it hangs at a rink whose crew the person is on; else None, as if there were none."""
    sign = signs.sign_of_code(code)
    return sign if sign and crew.membership(person, sign.rink.slug) else None


def sign_in_first(request: HttpRequest) -> HttpResponse:
    """Send a person to sign in; tell a waiting entry with 401 so that it is kept and sent again."""
    if request.headers.get("HX-Request") or request.headers.get("X-Outbox"):
        return HttpResponse(status=401)
    return redirect_to_login(request.get_full_path())
