"""Reading work and hazards. Nothing here writes."""

from dataclasses import dataclass
from uuid import UUID

from django.db.models import Prefetch, Q, QuerySet, Sum

from rinklog.crew.models import Person
from rinklog.rink.models import Rink, Season
from rinklog.work.models import Entry, EntryPerson, EntryZone, Hazard

OPEN_STATES = (
    Hazard.State.FOUND,
    Hazard.State.MARKED,
    Hazard.State.UNDER_REPAIR,
    Hazard.State.BACK_AGAIN,
    Hazard.State.HOLDING,
)


def entry(rink: Rink, id: UUID) -> Entry | None:
    """One entry of a rink, with what its page needs."""
    return (
        Entry.objects.select_related("rink", "season", "grid", "by", "root__by")
        .filter(rink=rink, id=id)
        .first()
    )


def hazard(rink: Rink, id: UUID) -> Hazard | None:
    """One hazard of a rink."""
    return Hazard.objects.select_related("rink", "season", "by").filter(rink=rink, id=id).first()


def standing(rink: Rink) -> QuerySet[Entry]:
    """The entries that count, the latest first, with zones and people in two more queries."""
    return (
        Entry.objects.filter(rink=rink, state=Entry.State.STANDING)
        .select_related("by")
        .prefetch_related(
            Prefetch("zones", EntryZone.objects.select_related("zone")),
            Prefetch("people", EntryPerson.objects.select_related("person")),
        )
        .order_by("-started_at", "-id")
    )


def latest_of_kind(rink: Rink, kind: str, by: Person | None = None) -> Entry | None:
    """The last standing entry of a kind, for smart defaults."""
    entries = standing(rink).filter(kind=kind)
    return entries.filter(by=by).first() if by else entries.first()


def open_hazards(rink: Rink) -> QuerySet[Hazard]:
    """Hazards that are not closed, the latest first."""
    return (
        Hazard.objects.filter(rink=rink, state__in=OPEN_STATES)
        .select_related("by", "grid")
        .prefetch_related("zones")
        .order_by("-found_at", "-id")
    )


def repaired_hazards(rink: Rink) -> QuerySet[Hazard]:
    """Open hazards that somebody repaired: an inspection says whether the repair holds."""
    return open_hazards(rink).filter(state__in=[Hazard.State.UNDER_REPAIR, Hazard.State.HOLDING])


@dataclass(frozen=True)
class SeasonSums:
    """The two figures people ask for first."""

    water_m3: float
    minutes: float
    entries: int


def season_sums(season: Season) -> SeasonSums:
    """Water [m³], labour [min] and entry count of a season's standing entries."""
    counted = Q(season=season, state=Entry.State.STANDING)
    entries = Entry.objects.filter(counted)
    return SeasonSums(
        water_m3=entries.aggregate(sum=Sum("water_m3"))["sum"] or 0.0,
        minutes=EntryPerson.objects.filter(entry__season=season, entry__state=Entry.State.STANDING).aggregate(
            sum=Sum("minutes")
        )["sum"]
        or 0.0,
        entries=entries.count(),
    )
