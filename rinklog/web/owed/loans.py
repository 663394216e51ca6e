"""Things on loan: what is here, broken, lost, given back; anyone on the crew says what happened to them."""

from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from rinklog.crew.rights import Right
from rinklog.facts import Conflict, Refused
from rinklog.owed import queries, services
from rinklog.web.access import At, on_rink
from rinklog.web.owed.forms import HappenedForm, LoanForm
from rinklog.web.panels import posted


@on_rink(Right.LOG)
def loans(request: HttpRequest, at: At) -> HttpResponse:
    """Everything that was lent to this rink."""
    return page(request, at)


def page(
    request: HttpRequest, at: At, status: int = 200, *, form: LoanForm | None = None,
    refused: tuple[UUID, HappenedForm] | None = None,
) -> HttpResponse:  # fmt: skip
    """The list with its forms: fresh ones, or the one that was refused."""
    known = queries.loans(at.rink)
    rows = [
        (one, refused[1] if refused and refused[0] == one.loan.id else HappenedForm(initial={"on": at.today}))
        for one in sorted(known, key=lambda one: one.counts.owed == 0)
    ]
    context: dict[str, Any] = {"rows": rows, "form": form or LoanForm(initial={"lent_on": at.today})}
    return render(request, "owed/loans.html", context, status=status)


@on_rink(Right.RUN_CREW)
@require_POST
def add(request: HttpRequest, at: At) -> HttpResponse:
    """Write down that something was lent."""
    form = LoanForm(posted(request))
    if form.is_valid():
        try:
            services.write_loan(rink=at.rink, by=at.person, now=at.now, **form.cleaned_data)
        except Refused as refused:
            form.add_error(refused.field if refused.field in form.fields else None, str(refused.sentence))
        except Conflict:
            form.add_error(None, _("Something else has this form's number already; open the page again."))
        else:
            return redirect("loans", slug=at.rink.slug)
    return page(request, at, 422, form=form)


@on_rink(Right.LOG)
@require_POST
def happened(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Say that some of a loan broke, was mended, lost, found or given back."""
    loan, form = at.loan(id), HappenedForm(posted(request))
    if form.is_valid():
        try:
            services.add_loan_event(loan=loan, by=at.person, now=at.now, today=at.today, **form.cleaned_data)
        except Refused as refused:
            form.add_error(refused.field if refused.field in form.fields else None, str(refused.sentence))
        except Conflict:
            form.add_error(None, _("Something else has this form's number already; open the page again."))
        else:
            return redirect("loans", slug=at.rink.slug)
    return page(request, at, 422, refused=(loan.id, form))
