"""Signs of a rink: make them, print them, retire one."""

from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST, require_safe

from rinklog.crew.rights import Right
from rinklog.reports.printed.codes import QUIET, code_of
from rinklog.reports.printed.sign_sheets import sheets
from rinklog.rink.models import Sign
from rinklog.rink.sign_places import places
from rinklog.rink.sign_queries import signs
from rinklog.rink.signs import hang_again, make_signs, retire_sign
from rinklog.web.access import At, on_rink
from rinklog.web.panels import posted
from rinklog.web.signs.forms import MakeForm, SheetForm
from rinklog.web.signs.labels import kind_word, label_of, title_of


@on_rink(Right.KEEP)
def listing(request: HttpRequest, at: At) -> HttpResponse:
    """The signs that stand, by kind, and the form to make more."""
    form = MakeForm(posted(request))
    if request.method == "POST" and form.is_valid():
        return make(request, at, form)
    return page(request, at, form, status=422 if request.method == "POST" else 200)


def make(request: HttpRequest, at: At, form: MakeForm) -> HttpResponse:
    """Make the signs that are missing."""
    kind, grid = form.cleaned_data["kind"], at.season.grid
    wanted = places(at.rink, grid, kind, form.cleaned_data["cones"] or 0)
    if not wanted:
        form.add_error("kind", _("No hose has a name yet: measure one with a bucket first, under Hoses."))
        return page(request, at, form, status=422)
    made = make_signs(rink=at.rink, grid=grid, kind=kind, places=wanted, by=at.person, now=at.now)
    said = ngettext("%(count)d sign made.", "%(count)d signs made.", made) % {"count": made}
    messages.success(request, said if made else _("All of these signs were there already."))
    return redirect("signs", slug=at.rink.slug)


def page(
    request: HttpRequest, at: At, form: MakeForm, sheet: SheetForm | None = None, status: int = 200
) -> HttpResponse:
    """The page of signs."""
    site = f"{request.scheme}://{request.get_host()}"
    kinds = []
    for kind, title in Sign.Kind.choices:
        rows = [{"sign": sign, "title": title_of(sign)} for sign in signs(at.rink, kind)]
        kinds.append({"kind": kind, "title": title, "rows": rows})
    context = {
        "form": form,
        "sheet": sheet,
        "kinds": kinds,
        "site": sheet["site"].value() if sheet else site,
        "sizes": SheetForm.base_fields["a_page"].choices,  # type: ignore[attr-defined]
    }
    return render(request, "signs/signs.html", context, status=status)


@on_rink(Right.KEEP)
@require_safe
def pdf(request: HttpRequest, at: At) -> HttpResponse:
    """The sheets of one kind, to print."""
    sheet = SheetForm(request.GET)
    if not sheet.is_valid():
        return page(request, at, MakeForm(), sheet, status=422)
    data = sheet.cleaned_data
    labels = [label_of(sign, data["site"]) for sign in signs(at.rink, data["kind"])]
    response = HttpResponse(sheets(labels, a_page=data["a_page"] or 4), content_type="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="{at.rink.slug}-signs-{data["kind"]}.pdf"'
    return response


@on_rink(Right.KEEP)
@require_safe
def drawing(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """One sign as a drawing (SVG), for a sign maker or an engraver."""
    sign = at.sign(id)
    label = label_of(sign, f"{request.scheme}://{request.get_host()}")
    code = code_of(label.address)
    context = {"label": label, "code": code, "quiet": QUIET, "kind": kind_word(sign)}
    return render(request, "signs/sign.svg", context, content_type="image/svg+xml")


@on_rink(Right.KEEP)
@require_POST
def retire(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Let a sign open nothing any more, or hang it again."""
    sign = at.sign(id)
    if "again" in request.POST:
        if not hang_again(sign=sign):
            messages.error(
                request, _("Another sign stands for this place by now; the old one stays retired.")
            )
        return redirect("signs", slug=at.rink.slug)
    retire_sign(sign=sign, now=at.now)
    return render(
        request, "signs/retired.html", {"sign": sign, "title": title_of(sign), "word": kind_word(sign)}
    )
