"""Who may open what: one row for every named address. A new address without a row here fails a test.

To add yours: put its name into the table of its room, with what it needs and, if the address has more than the rink's
slug in it, a factory for the rest. Say `get=405` for an address that only takes POST.
"""

from uuid import UUID, uuid4

from django.core.files.base import ContentFile
from django.utils import timezone

from rinklog.archive.services import receive_import
from rinklog.crew.rights import Right
from rinklog.crew.tokens import token_of
from rinklog.crew.ways_in import invite, make_reset
from rinklog.ice.models import HoleQuestion
from rinklog.records.services import publish
from rinklog.reports.queries import link_of_token
from rinklog.rink.seasons import enter_phase
from rinklog.rink.services import add_bucket_test
from rinklog.weather.importing import go_on, receive_file
from tests.support.cast import NOW, Cast
from tests.support.hazards import put_up
from tests.support.loans import a_deadline, a_loan
from tests.support.messages import a_calendar, a_message, a_stop
from tests.support.photos import a_photo
from tests.support.records import a_check, an_accident, an_opening
from tests.support.reviews import a_payment, a_review, a_shared_link
from tests.support.shifts import (
    a_hand_over,
    a_line,
    a_place,
    a_recurring_task,
    a_run,
    a_shift,
    a_stay,
    a_team,
    allow,
)
from tests.support.signs import a_sign, free_cone
from tests.web.who_may_row import ANYBODY, KEEPER_SOMEWHERE, SIGNED_IN, Row
from tests.web.who_may_site import GROUND


def an_invitation(cast: Cast) -> tuple[UUID, str]:
    """An open invitation to the first rink: its id and the token of its link."""
    id = uuid4()
    invite(id=id, rink=cast.rink, role="volunteer", by=cast.ada, now=timezone.now(), uses=9)
    return id, token_of(id)


def a_bucket_test(cast: Cast) -> UUID:
    """A bucket test of the first rink."""
    test = {"hose": "barn", "water_m3": 0.02, "seconds": 30.0}
    return add_bucket_test(id=uuid4(), rink=cast.rink, by=cast.cleo, now=NOW, **test).id  # type: ignore[arg-type]


def a_phase(cast: Cast) -> UUID:
    """A phase of the first rink's season."""
    today = NOW.date()
    change = enter_phase(
        id=uuid4(), season=cast.season, phase="building", on=today, today=today, by=cast.ada, now=NOW
    )
    return change.id


def an_import(cast: Cast) -> UUID:
    """A file that was sent in to be imported."""
    file = ContentFile(b"record,by,name\r\nperson,cleo,Cleo\r\n", name="log.csv")
    return receive_import(id=uuid4(), rink=cast.rink, file=file, by=cast.ada, now=NOW).id


def a_public_page(cast: Cast) -> str:
    """The slug of the first rink, whose page the keeper shows."""
    publish(rink=cast.rink, shown="listed", by=cast.ada, now=NOW)
    return cast.rink.slug


def an_odd_hole(cast: Cast) -> UUID:
    """A drill hole that the estimate asks about."""
    entry = cast.work("drill-hole", details={"clear_ice_m": 0.9})
    told = {"why": "limit", "ice_m": 0.9, "low_m": 0.0, "high_m": 0.2, "asked_at": NOW}
    HoleQuestion.objects.create(entry=entry, rink=cast.rink, **told)
    return entry.id


def a_weather_file(cast: Cast) -> UUID:
    """A weather file that is read, with an hour and something that was not used."""
    file = ContentFile(b"time,air_c\n2026-01-15T12:00Z,-5\n2026-01-15T13:00Z,-500\n", name="yard.csv")
    one = receive_file(id=uuid4(), rink=cast.rink, file=file, format="", by=cast.ada, now=NOW)
    go_on(id=one.id, now=NOW)
    return one.id


SITE = {
    "shared-review": Row(ANYBODY, lambda cast: {"token": a_shared_link(cast)}),
    "shared-file": Row(ANYBODY, lambda cast: {"token": a_shared_link(cast), "name": "weeks.csv"}),
    "health": Row(ANYBODY, get=503),  # no worker beats in a test
    "front": Row(SIGNED_IN, get=302),
    "sign-in": Row(ANYBODY),
    "sign-out": Row(ANYBODY, get=405),
    "claim": Row(ANYBODY, lambda cast: {"token": "guessed"}, get=404),
    "join": Row(ANYBODY),
    "join-link": Row(ANYBODY, lambda cast: {"token": an_invitation(cast)[1]}),
    "reset": Row(
        ANYBODY, lambda cast: {"token": make_reset(person=cast.dag, by=cast.ada, now=timezone.now())}
    ),
    "me": Row(SIGNED_IN),
    "look": Row(SIGNED_IN),
    "password": Row(SIGNED_IN),
    "telling": Row(SIGNED_IN),
    "mail-stop": Row(ANYBODY, lambda cast: {"token": a_stop(cast)}),
    "calendar-feed": Row(ANYBODY, lambda cast: {"token": a_calendar(cast)}),
    "device-add": Row(SIGNED_IN, get=405),
    "device-remove": Row(SIGNED_IN, lambda cast: {"id": uuid4()}, get=405),
    "sign-out-everywhere": Row(SIGNED_IN, get=405),
    "new-rink": Row(KEEPER_SOMEWHERE),
    "public": Row(ANYBODY, lambda cast: {"slug": a_public_page(cast)}),
}
OFFLINE = {
    "service-worker": Row(ANYBODY),
    "manifest": Row(ANYBODY),
    "hello": Row(ANYBODY),
    "together": Row(ANYBODY, get=405),
    "no-signal": Row(ANYBODY),
    "waiting": Row(Right.LOG),
}
HOME = {"home": Row(Right.SEE), "more": Row(Right.SEE)}
TONIGHT = {"tonight": Row(Right.SEE), "tonight-again": Row(Right.LOG, get=405)}
WEATHER_PAGE = {"weather": Row(Right.SEE), "weather-csv": Row(Right.SEE)}
INBOX = {
    "inbox": Row(Right.SEE),
    "inbox-read": Row(Right.SEE, get=405),
    "trial": Row(Right.SEE, get=405),
    "calendars": Row(Right.LOG),
    "calendar-make": Row(Right.LOG, get=405),
    "calendar-revoke": Row(Right.LOG, get=405),
    "inbox-open": Row(Right.SEE, lambda cast: {"id": a_message(cast)}, get=405),
}
LOGBOOK = {
    "log": Row(Right.SEE),
    "record": Row(Right.LOG, lambda cast: {"kind": "flood"}),
    "flood-coat": Row(Right.LOG),
    "paper-log": Row(Right.LOG),
    "paper": Row(Right.LOG),
    "entry": Row(Right.SEE, lambda cast: {"id": cast.flood().id}),
    "amend": Row(Right.LOG, lambda cast: {"id": cast.flood().id}),
    "withdraw": Row(Right.LOG, lambda cast: {"id": cast.flood().id}),
    "undo": Row(Right.LOG, lambda cast: {"id": cast.flood().id}, get=405),
    "entry-event": Row(Right.LOG, lambda cast: {"id": cast.flood().id, "what": "set"}, get=405),
    "undo-entry-event": Row(Right.LOG, lambda cast: {"id": cast.was_set().id}, get=405),
}
HAZARDS = {
    "hazards": Row(Right.SEE),
    "hazard-new": Row(Right.LOG),
    "hazard": Row(Right.SEE, lambda cast: {"id": put_up(cast).id}),
    "hazard-say": Row(Right.LOG, lambda cast: {"id": put_up(cast).id}, get=405),
    "hazard-withdraw": Row(Right.LOG, lambda cast: {"id": put_up(cast).id}, get=405),
    "hazard-undo": Row(Right.LOG, lambda cast: {"id": put_up(cast).events.get().id}, get=405),
}
PHOTOS = {
    "photo-post": Row(Right.LOG, get=405),
    "photo-strip": Row(Right.SEE, lambda cast: {"subject": "hazard", "subject_id": a_photo(cast).subject_id}),
    "photo": Row(Right.SEE, lambda cast: {"id": a_photo(cast).id, "size": "small"}),
    "photo-take-back": Row(Right.LOG, lambda cast: {"id": a_photo(cast).id}, get=405),
}
RECORDS = {
    "records": Row(Right.SEE),
    "opening": Row(Right.SEE),
    "opening-set": Row(Right.SET_OPEN),
    "opening-correct": Row(Right.SET_OPEN, lambda cast: {"replaces": an_opening(cast).id}),
    "walks": Row(Right.SEE),
    "walk": Row(Right.LOG),
    # A volunteer corrects only their own walk: tests/web/test_checks.py.
    "walk-correct": Row(Right.LOG, lambda cast: {"replaces": a_check(cast, by=cast.cleo).id}),
    "machine-check": Row(Right.LOG),
    "inspections": Row(Right.SEE),
    "inspect": Row(Right.INSPECT_FORMALLY, lambda cast: {"list": "boards"}),
    "inspection-correct": Row(Right.INSPECT_FORMALLY, lambda cast: {"replaces": a_check(cast, "boards").id}),
    "check": Row(Right.SEE, lambda cast: {"id": a_check(cast).id}),
    "headcounts": Row(Right.SEE),
    "headcount-add": Row(Right.LOG, get=405),
    "accidents": Row(Right.SEE_ACCIDENTS),
    "accident-new": Row(Right.LOG),
    "accident": Row(Right.SEE_ACCIDENTS, lambda cast: {"id": an_accident(cast).id}),
    # Of the volunteers only the writer: tests/web/test_accidents.py.
    "accident-receipt": Row(Right.LOG, lambda cast: {"id": an_accident(cast).id}),
    "accident-correct": Row(Right.LOG, lambda cast: {"replaces": an_accident(cast).id}),
    "record-words": Row(Right.KEEP),
}
ICE = {
    "ice": Row(Right.SEE),
    "hole-question": Row(Right.LOG, lambda cast: {"id": an_odd_hole(cast)}),
}
RINKMAP = {"map": Row(Right.SEE), "map-geojson": Row(Right.SEE)}
REPORTS = {
    "season": Row(Right.SEE),
    "season-past": Row(Right.SEE, lambda cast: {"id": cast.season.id}),
    "season-csv": Row(Right.SEE, lambda cast: {"id": cast.season.id, "table": "weeks"}),
    "city-now": Row(Right.SEE_ACCIDENTS),
    "city": Row(Right.SEE_ACCIDENTS, lambda cast: {"id": cast.season.id}),
    "city-csv": Row(Right.SEE_ACCIDENTS, lambda cast: {"id": cast.season.id, "table": "closures"}),
    "review-now": Row(Right.SEE),
    "review": Row(Right.SEE, lambda cast: {"id": cast.season.id}),
    "review-progress": Row(Right.SEE, lambda cast: {"id": cast.season.id}),
    "review-csv": Row(Right.SEE, lambda cast: {"id": a_review(cast), "table": "weeks"}),
    "review-share": Row(Right.KEEP, lambda cast: {"id": cast.season.id}),
    "review-share-revoke": Row(
        Right.KEEP,
        lambda cast: {"id": link_of_token(a_shared_link(cast)).id},
        get=405,  # type: ignore[union-attr]
    ),
    "review-file": Row(Right.SEE, lambda cast: {"id": a_review(cast), "name": "review.pdf"}),
    "thickness": Row(Right.SEE),
    "thickness-month": Row(Right.SEE, lambda cast: {"month": "2026-01"}),
    "sheet-today": Row(Right.SEE),
    "sheet-day": Row(Right.SEE, lambda cast: {"day": "2026-01-15"}),
    "sheet-this-month": Row(Right.SEE),
    "sheet-month": Row(Right.SEE, lambda cast: {"month": "2026-01"}),
}
OWED = {
    "loans": Row(Right.LOG, lambda cast: {} if a_loan(cast) else {}),
    "loan-add": Row(Right.RUN_CREW, get=405),
    "loan-happened": Row(Right.LOG, lambda cast: {"id": a_loan(cast).id}, get=405),
    "deadlines": Row(Right.SEE_ACCIDENTS, lambda cast: {} if a_deadline(cast) else {}),
    "deadline-add": Row(Right.RUN_CREW, get=405),
    "deadline-end": Row(Right.RUN_CREW, lambda cast: {"id": a_deadline(cast).id}, get=405),
}
MONEY = {
    "money": Row(Right.SEE_MONEY, lambda cast: {} if a_payment(cast) else {}),
    "payment-add": Row(Right.KEEP, get=405),
    "payment-back": Row(Right.KEEP, lambda cast: {"id": a_payment(cast)}, get=405),
    "currency": Row(Right.KEEP, get=405),
    "water-price": Row(Right.KEEP, get=405),
}
ARCHIVE = {
    "archive": Row(Right.KEEP),
    "log-csv": Row(Right.KEEP),
    "import-post": Row(Right.KEEP, get=405),
    "import": Row(Right.KEEP, lambda cast: {"id": an_import(cast)}),
    "import-problems": Row(Right.KEEP, lambda cast: {"id": an_import(cast)}),
    "import-who": Row(Right.KEEP, lambda cast: {"id": an_import(cast)}, get=405),
    "import-start": Row(Right.KEEP, lambda cast: {"id": an_import(cast)}, get=405),
    "backup-make": Row(Right.KEEP, get=405),
    # Of keepers only who keeps every rink: tests/web/test_archive.py.
    "backup": Row(Right.KEEP, lambda cast: {"name": "rinklog-20260115T030000Z.zip"}, get=404),
}
TOOLS = {
    "tools": Row(Right.SEE),
    "tool-group": Row(Right.SEE, lambda cast: {"group": "freezing-and-thaw"}),
}
WEATHER_IN = {
    "weather-sources": Row(Right.KEEP),
    "weather-ask": Row(Right.KEEP, get=405),
    "weather-files": Row(Right.KEEP),
    "weather-file-post": Row(Right.KEEP, get=405),
    "weather-file": Row(Right.KEEP, lambda cast: {"id": a_weather_file(cast)}),
    "weather-file-flags": Row(Right.KEEP, lambda cast: {"id": a_weather_file(cast)}),
    "weather-reading": Row(Right.LOG),
}
SETUP = {
    "setup": Row(Right.SEE),
    "place": Row(Right.KEEP),
    "grid": Row(Right.KEEP),
    "survey": Row(Right.KEEP),
    "survey-table": Row(Right.KEEP, lambda cast: {"first_row": "0"}),
    "low-spots": Row(Right.LOG),
    "hoses": Row(Right.LOG),
    "bucket-test-remove": Row(Right.KEEP, lambda cast: {"id": a_bucket_test(cast)}, get=405),
    "phases": Row(Right.SET_OPEN),
    "phase-back": Row(Right.SET_OPEN, lambda cast: {"id": a_phase(cast)}, get=405),
    "next-season": Row(Right.KEEP),
    "close-season": Row(Right.KEEP),
    "first-fill": Row(Right.SEE),
    "publicity": Row(Right.KEEP),
    "rules": Row(Right.SEE),
    "rule": Row(Right.KEEP, lambda cast: {"key": "least_crew"}),
    "rule-default": Row(Right.KEEP, lambda cast: {"key": "least_crew"}, get=405),
}
SIGNS = {
    # Whose rink it is decides: tests/web/test_signs.py.
    "scan": Row(SIGNED_IN, lambda cast: {"code": "QQQQQQ"}, get=404),
    "signs": Row(Right.KEEP),
    "sign-sheets": Row(Right.KEEP, get=422),
    "sign-drawing": Row(Right.KEEP, lambda cast: {"id": a_sign(cast).id}),
    "sign-retire": Row(Right.KEEP, lambda cast: {"id": a_sign(cast).id}, get=405),
    "spot": Row(Right.SEE, lambda cast: {"id": a_sign(cast).id}),
    "here": Row(Right.LOG),
    "sign-codes": Row(Right.LOG),
    "cone": Row(Right.SEE, lambda cast: {"number": free_cone(cast)}),
}
CREW = {
    "crew": Row(Right.RUN_CREW),
    "invite": Row(Right.RUN_CREW),
    "invitation": Row(Right.RUN_CREW, lambda cast: {"id": an_invitation(cast)[0]}),
    "invitation-withdraw": Row(Right.RUN_CREW, lambda cast: {"id": an_invitation(cast)[0]}, get=405),
    "leave": Row(Right.SEE, get=405),
    "member": Row(Right.KEEP, lambda cast: {"id": cast.dag.id}),
    "member-remove": Row(Right.KEEP, lambda cast: {"id": cast.dag.id}, get=405),
    "member-reset": Row(Right.KEEP, lambda cast: {"id": cast.dag.id}, get=405),
}

PLAN = {
    "permissions": Row(Right.RUN_CREW),
    "permission-withdraw": Row(
        Right.RUN_CREW, lambda cast: {"id": allow(cast, cast.dag, "torch").id}, get=405
    ),
    "my-times": Row(Right.LOG),
    # Each their own: tests/web/test_shifts.py.
    "my-time-remove": Row(Right.LOG, lambda cast: {"id": a_line(cast).id}, get=405),
    "teams": Row(Right.RUN_CREW),
    "team-new": Row(Right.RUN_CREW),
    "team": Row(Right.RUN_CREW, lambda cast: {"id": a_team(cast).id}),
    "team-end": Row(Right.RUN_CREW, lambda cast: {"id": a_team(cast).id}, get=405),
    "holidays": Row(Right.RUN_CREW),
    "hand-overs": Row(Right.SEE),
    "hand-over-new": Row(Right.LOG),
    "hand-over": Row(Right.SEE, lambda cast: {"id": a_hand_over(cast).id}),
    "hand-over-read": Row(Right.LOG, lambda cast: {"id": a_hand_over(cast).id}, get=405),
    "on-ice": Row(Right.SEE),
    "go-on-ice": Row(Right.LOG, get=405),
    "off-ice": Row(Right.LOG, lambda cast: {"id": a_stay(cast).id}, get=405),
    "shift-from-window": Row(Right.RUN_CREW, lambda cast: {"window": "20260115T20"}, get=405),
    "roster": Row(Right.RUN_CREW),
    "roster-accept": Row(Right.RUN_CREW, get=405),
    "recurring": Row(Right.SEE),
    "recurring-new": Row(Right.RUN_CREW),
    "recurring-change": Row(Right.RUN_CREW, lambda cast: {"id": a_recurring_task(cast).id}),
    "recurring-end": Row(Right.RUN_CREW, lambda cast: {"id": a_recurring_task(cast).id}, get=405),
    "runs": Row(Right.KEEP),
    "run-again": Row(Right.KEEP, lambda cast: {"id": a_run().id}, get=405),
    "shifts": Row(Right.SEE),
    "shift": Row(Right.SEE, lambda cast: {"id": a_shift(cast).id}),
    "shift-board": Row(Right.RUN_CREW),
    "shift-new": Row(Right.RUN_CREW),
    "shift-take": Row(Right.LOG, lambda cast: {"id": a_shift(cast).id}, get=405),
    "shift-assign": Row(Right.RUN_CREW, lambda cast: {"id": a_shift(cast).id}, get=405),
    "shift-move": Row(Right.RUN_CREW, lambda cast: {"id": a_shift(cast).id}),
    # Of the volunteers only who leads it: tests/web/test_shifts.py.
    "shift-call-off": Row(Right.LOG, lambda cast: {"id": a_shift(cast).id}, get=405),
    "shift-keep": Row(Right.LOG, lambda cast: {"id": a_shift(cast).id}, get=405),
    "shift-alone": Row(Right.RUN_CREW, lambda cast: {"id": a_shift(cast).id}, get=405),
    # Of the volunteers only whose place it is: tests/web/test_shifts.py.
    "place-leave": Row(Right.LOG, lambda cast: {"id": a_place(cast).id}, get=405),
    "place-offer": Row(Right.LOG, lambda cast: {"id": a_place(cast).id}, get=405),
    "place-answer": Row(Right.LOG, lambda cast: {"id": a_place(cast).id}, get=405),
}

ROOMS = (
    *(
        SITE,
        HOME,
        TONIGHT,
        INBOX,
        LOGBOOK,
        HAZARDS,
        PHOTOS,
        RECORDS,
        RINKMAP,
        REPORTS,
        MONEY,
        OWED,
        ARCHIVE,
        TOOLS,
        SETUP,
        CREW,
    ),
    ICE,
    GROUND,
    *(PLAN, WEATHER_IN, OFFLINE, WEATHER_PAGE, SIGNS),
)
TABLE: dict[str, Row] = {name: row for room in ROOMS for name, row in room.items()}
