"""What a phone keeps of the site before it needs it: our own style, scripts and drawings, by their hashed names."""

import hashlib
from collections.abc import Iterable
from functools import cache
from pathlib import Path

from django.conf import settings
from django.contrib.staticfiles.finders import find
from django.templatetags.static import static
from django.urls import reverse

from rinklog.work.kinds import KINDS
from rinklog.work.models import Hazard

FOLDERS = ("css", "js", "img")
MOST_HAZARDS = 12
HTMX = "django_htmx/htmx-2.min.js"


def names() -> list[str]:
    """The static files that pages need, by their names in the source."""
    root = Path(settings.BASE_DIR) / "static"
    ours = (path for folder in FOLDERS for path in sorted((root / folder).rglob("*")) if path.is_file())
    return [HTMX, *(path.relative_to(root).as_posix() for path in ours)]


@cache
def addresses() -> tuple[str, ...]:
    """Where those files are served, with the hash in the name where files were collected."""
    return tuple(static(name) for name in names())


@cache
def version() -> str:
    """Changes whenever a kept file does: the phone then fetches the new ones beside the old."""
    digest = hashlib.sha256()
    for name in names():
        digest.update(name.encode())
        digest.update(Path(str(find(name))).read_bytes())
    return digest.hexdigest()[:12]


def pages_to_keep(slug: str, hazards: Iterable[Hazard] = ()) -> list[str]:
    """What must open without a signal though nobody has opened it yet: every form of work, where the signs lead, and
    hazards whose cone may be scanned."""
    names = ("home", "map", "log", "hazards", "hazard-new", "waiting", "here", "sign-codes")
    forms = [reverse("record", kwargs={"slug": slug, "kind": kind}) for kind in KINDS]
    coned = [hazard.id for hazard in hazards if hazard.cone_out][:MOST_HAZARDS]
    standing = [reverse("hazard", kwargs={"slug": slug, "id": id}) for id in coned]
    return [reverse(name, kwargs={"slug": slug}) for name in names] + forms + standing
