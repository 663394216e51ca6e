"""Writing fences, what lies upwind, and what was seen behind a fence."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from django.db import transaction
from django.utils.translation import gettext as _

from rinklog.crew.models import Person
from rinklog.facts import Conflict, Refused, fingerprint_of
from rinklog.rink.models import Rink
from rinklog.site.models import Exposure, FenceLook, SnowFence

MOST_FENCES = 12


@dataclass(frozen=True)
class FenceContent:
    """A fence as a person says it. Lengths [m]."""

    name: str
    wind_from_deg: float
    height_m: float
    length_m: float
    setback_m: float
    build: str


def keep_exposure(*, rink: Rink, fetches_m: Sequence[float | None], snow_water_mm: float | None) -> Exposure:
    """Say what lies upwind in the eight directions, from north clockwise."""
    assert len(fetches_m) == 8, "eight directions"
    return Exposure.objects.update_or_create(
        rink=rink, defaults={"fetches_m": list(fetches_m), "snow_water_mm": snow_water_mm}
    )[0]


def keep_fence(*, id: UUID, rink: Rink, content: FenceContent, by: Person, now: dt.datetime) -> SnowFence:
    """Write a fence down, or change it by its id. Errors: Refused past MOST_FENCES; Conflict."""
    values = vars(content) | {"name": content.name.strip()[:60]}
    with transaction.atomic():
        list(Rink.objects.select_for_update().filter(id=rink.id))
        known = SnowFence.objects.filter(id=id).first()
        if known is not None and known.rink_id != rink.id:
            raise Conflict(None)
        if known is None and SnowFence.objects.filter(rink=rink).count() >= MOST_FENCES:
            raise Refused(
                "name", _("There are %(most)d fences already; remove one first.") % {"most": MOST_FENCES}
            )
        return SnowFence.objects.update_or_create(
            id=id, defaults=values, create_defaults=values | {"rink": rink, "by": by, "recorded_at": now}
        )[0]


def remove_fence(*, fence: SnowFence) -> None:
    """Drop a fence with what was seen behind it."""
    SnowFence.objects.filter(id=fence.id).delete()


def look_at_fence(
    *,
    id: UUID,
    fence: SnowFence,
    on: dt.date,
    reach_m: float,
    depth_m: float,
    note: str,
    by: Person,
    now: dt.datetime,
    today: dt.date,
) -> FenceLook:
    """Note the drift behind a fence; the same id again is the same look. Errors: Refused for a day to come; Conflict."""
    if on > today:
        raise Refused("on", _("The day is still to come; allowed is up to today."))
    values = {"on": on, "reach_m": reach_m, "depth_m": depth_m, "note": note.strip()[:400]}
    with transaction.atomic():
        found, made = FenceLook.objects.get_or_create(
            id=id, defaults={**values, "fence": fence, "by": by, "recorded_at": now}
        )
    there = {name: getattr(found, name) for name in values}
    if not made and (found.fence_id != fence.id or fingerprint_of(there) != fingerprint_of(values)):
        raise Conflict(found if found.fence_id == fence.id else None)
    return found
