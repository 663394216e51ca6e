"""Taking the log out and in, and the backups of the site: for keepers."""

import csv
import io
from typing import Any
from uuid import UUID

from django.db import transaction
from django.http import FileResponse, Http404, HttpRequest, HttpResponse, StreamingHttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from rinklog.archive import kept, queries, services
from rinklog.archive.cells import text
from rinklog.archive.csv_out import log_pieces
from rinklog.archive.tasks import back_up_soon, go_on_soon
from rinklog.crew.queries import crew_of, keeps_every_rink
from rinklog.crew.rights import Right
from rinklog.facts import Conflict, Refused
from rinklog.web.access import At, on_rink
from rinklog.web.archive.forms import ImportForm
from rinklog.web.panels import reply

SHOWN_IMPORTS = 10
SHOWN_PROBLEMS = 100


@on_rink(Right.KEEP)
def archive(request: HttpRequest, at: At) -> HttpResponse:
    """Export, import, backups."""
    return archive_page(request, at, ImportForm())


def archive_page(request: HttpRequest, at: At, form: ImportForm, status: int = 200) -> HttpResponse:
    """The page with its import form."""
    keeps_all = keeps_every_rink(at.person)
    context = {
        "form": form,
        "imports": queries.imports(at.rink)[:SHOWN_IMPORTS],
        "keeps_all": keeps_all,
        "backups": kept.kept() if keeps_all else [],
        "asked": keeps_all and kept.is_asked(),
        "keep": kept.KEEP,
    }
    return reply(request, "archive/archive.html", "archive/_backups.html", context, status)


@on_rink(Right.KEEP)
def log_csv_file(request: HttpRequest, at: At) -> StreamingHttpResponse:
    """Work log and hazards as CSV, of one moment."""
    name = f"{at.rink.slug}-{at.today.isoformat()}.csv"
    response = StreamingHttpResponse(log_pieces(at.rink), content_type="text/csv; charset=utf-8")
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response


@on_rink(Right.KEEP)
@require_POST
def import_post(request: HttpRequest, at: At) -> HttpResponse:
    """Take a file in, to be checked."""
    form = ImportForm(request.POST, request.FILES)
    if form.is_valid():
        try:
            with transaction.atomic():
                one = services.receive_import(
                    id=form.cleaned_data["id"],
                    rink=at.rink,
                    file=form.cleaned_data["file"],
                    by=at.person,
                    now=at.now,
                )
                go_on_soon(one)
        except Refused as refused:
            form.add_error("file", str(refused.sentence))
        except Conflict:
            form.add_error(
                "file", _("This form has sent another file already; reload the page and choose again.")
            )
        else:
            return redirect("import", slug=at.rink.slug, id=one.id)
    return archive_page(request, at, form, 422)


@on_rink(Right.KEEP)
def import_page(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """How far an import is, what it would do, and what is wrong with it."""
    one = at.import_(id)
    context: dict[str, Any] = {
        "one": one,
        "report": one.report,
        "problems": one.report.get("problems", [])[:SHOWN_PROBLEMS],
        "shown": SHOWN_PROBLEMS,
        "asked": asked(one.report),
        "crew": crew_of(at.rink),
    }
    return reply(request, "archive/import.html", "archive/_import.html", context)


def asked(report: dict[str, Any]) -> list[str]:
    """The logins of a file that the page asks about, in its order."""
    return [*report.get("strangers", []), *report.get("people", {})]


@on_rink(Right.KEEP)
def import_problems(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Everything that is wrong with a file, as CSV."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(["row", "column", "value", "reason"])
    for row, column, value, reason in at.import_(id).report.get("problems", []):
        writer.writerow([row, column, text(value), text(reason)])
    response = HttpResponse(out.getvalue(), content_type="text/csv; charset=utf-8")
    response.headers["Content-Disposition"] = 'attachment; filename="problems.csv"'
    return response


@on_rink(Right.KEEP)
@require_POST
def import_who(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Take in who some logins of the file are, and check it again."""
    one = at.import_(id)
    crew = {person.login for person in crew_of(at.rink)}
    chosen = {login: request.POST.get(f"who-{place}", "") for place, login in enumerate(asked(one.report))}
    if services.say_who(one=one, who={a: b for a, b in chosen.items() if b in crew}, now=at.now):
        go_on_soon(at.import_(id))
    return redirect("import", slug=at.rink.slug, id=one.id)


@on_rink(Right.KEEP)
@require_POST
def import_start(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Write a checked file to the log."""
    try:
        if services.start_import(one=at.import_(id), now=at.now):
            go_on_soon(at.import_(id))
    except Refused:
        pass  # the page says what is wrong
    return redirect("import", slug=at.rink.slug, id=id)


@on_rink(Right.KEEP)
@require_POST
def backup_make(request: HttpRequest, at: At) -> HttpResponse:
    """Ask for a backup now."""
    if not keeps_every_rink(at.person):
        raise Http404
    back_up_soon()
    return redirect("archive", slug=at.rink.slug)


@on_rink(Right.KEEP)
def backup(request: HttpRequest, at: At, name: str) -> FileResponse:
    """Hand out a kept backup."""
    path = at.kept_backup(name)
    response = FileResponse(
        path.open("rb"), as_attachment=True, filename=name, content_type="application/zip"
    )
    response.headers["Cache-Control"] = "no-store"
    return response
