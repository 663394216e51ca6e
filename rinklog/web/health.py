"""`GET /health`: does every part of the site work? It tells nothing else, so anybody may ask."""

from collections.abc import Callable

from django.db import connection
from django.http import HttpRequest, JsonResponse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from rinklog.upkeep import queries, services
from rinklog.upkeep.queue import queue_answers
from rinklog.version import VERSION
from rinklog.web.access import anybody


@anybody
@never_cache
@require_safe
def health(request: HttpRequest) -> JsonResponse:
    """200 when database, queue and worker all work, else 503 with the part that does not."""
    parts = {
        "database": works(database_answers),
        "queue": works(queue_answers),
        "worker": works(lambda: queries.is_beating(name=services.WORKER, now=timezone.now())),
    }
    return JsonResponse(parts | {"version": VERSION}, status=200 if all(parts.values()) else 503)


def database_answers() -> bool:
    """Whether the database answers a question."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
        return cursor.fetchone() == (1,)


def works(check: Callable[[], bool]) -> bool:
    """Whether a check passes; what went wrong belongs in the log of that part, not in a public answer."""
    try:
        return check()
    except Exception:
        return False
