"""Before and after, for each repair of a hazard."""

from dataclasses import dataclass

from rinklog.photos.models import Photo
from rinklog.photos.queries import photos_of
from rinklog.web.access import At
from rinklog.work.hazard_queries import repairs
from rinklog.work.models import Entry, Hazard


@dataclass(frozen=True)
class Pair:
    """A repair with the last photo from before it and the last from after it."""

    entry: Entry
    before: Photo | None
    after: Photo | None


def pairs(at: At, hazard: Hazard) -> list[Pair]:
    """Every repair with its pair. Without a photo from before, the hazard's own last one until then stands in."""
    entries = list(repairs(hazard))
    of_entries = ready(at, Photo.Subject.ENTRY, [entry.root_id for entry in entries])
    of_hazard = ready(at, Photo.Subject.HAZARD, [hazard.id])
    found = []
    for entry in entries:
        own = [photo for photo in of_entries if photo.subject_id == entry.root_id]
        seen = [photo for photo in of_hazard if photo.recorded_at <= (entry.ended_at or entry.started_at)]
        before = [photo for photo in own if photo.moment == Photo.Moment.BEFORE] or seen
        after = [photo for photo in own if photo.moment == Photo.Moment.AFTER]
        found.append(Pair(entry, before[-1] if before else None, after[-1] if after else None))
    return found


def ready(at: At, subject: str, ids: list) -> list[Photo]:  # type: ignore[type-arg]
    """Photos that can be shown, the oldest first."""
    return [photo for photo in photos_of(at.rink, subject, ids) if photo.state == Photo.State.READY]
