"""The strip of photos under an entry, a hazard or a record, with the form that adds more."""

from dataclasses import dataclass, field
from uuid import UUID, uuid4

from rinklog.crew.rights import Right
from rinklog.photos.models import Photo
from rinklog.photos.queries import photos_of
from rinklog.photos.refusals import SENTENCES
from rinklog.web.access import At


@dataclass(frozen=True)
class Strip:
    """What photos/_strip.html and photos/_inputs.html show. Make it with strip()."""

    subject: str
    subject_id: UUID
    photos: list[Photo] = field(default_factory=list)
    moments: list[tuple[str, str]] = field(default_factory=list)
    mine: frozenset[UUID] = frozenset()
    batch: UUID = field(default_factory=uuid4)

    @property
    def waiting(self) -> bool:
        """Whether a photo is still being prepared."""
        return any(photo.state == Photo.State.WAITING for photo in self.photos)


def strip(at: At, subject: str, subject_id: UUID, *, moments: bool = False) -> Strip:
    """The strip of a subject; `moments` asks whether a photo is from before or after (repairs)."""
    photos = list(photos_of(at.rink, subject, [subject_id]))
    for photo in photos:
        photo.sentence = SENTENCES.get(photo.refusal, "")  # type: ignore[attr-defined]
    mine = frozenset(
        photo.id
        for photo in photos
        if at.may(Right.LOG) and (photo.by_id == at.person.id or at.may(Right.AMEND_ANY))
    )
    return Strip(subject, subject_id, photos, _moments(moments), mine)


def empty_strip(subject: str, subject_id: UUID, *, moments: bool = False) -> Strip:
    """The strip of something that is not recorded yet: its form may already send photos."""
    return Strip(subject, subject_id, moments=_moments(moments))


def _moments(wanted: bool) -> list[tuple[str, str]]:
    return [(str(key), str(words)) for key, words in Photo.Moment.choices] if wanted else []
