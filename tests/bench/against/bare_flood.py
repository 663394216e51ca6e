"""The other side of `post-flood` and `sqlite-writers`: the plainest view that stores the same rows.

Behind the same middleware, session and login; it checks nothing, and reads only what it needs to write.
"""

import uuid

from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone

from rinklog.rink.models import Season, Zone
from rinklog.work.models import Entry, EntryPerson, EntryZone


@login_required
def flood(request: HttpRequest) -> HttpResponse:
    """Store a flood as posted."""
    season = Season.objects.select_related("grid").get(rink__slug=request.POST["rink"])
    zones = list(Zone.objects.filter(grid=season.grid, id__in=request.POST.getlist("zones")))
    now, id = timezone.now(), uuid.UUID(request.POST["id"])
    with transaction.atomic():
        Entry.objects.create(
            id=id, root_id=id, rink_id=season.rink_id, season=season, grid=season.grid, kind="flood",
            started_at=now, by=request.user, recorded_at=now, fingerprint="",
            water_m3=float(request.POST["amount"]) / 1000, area_m2=sum(zone.area_m2 for zone in zones),
            details={"by": "amount", "water": "cold", "tool": "hose"},
        )  # fmt: skip
        EntryZone.objects.bulk_create(
            EntryZone(entry_id=id, zone=zone, area_m2=zone.area_m2) for zone in zones
        )
        EntryPerson.objects.create(entry_id=id, person=request.user, minutes=45)
    return redirect("/")
