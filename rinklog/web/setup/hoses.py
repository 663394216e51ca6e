"""Bucket tests: how fast each hose runs."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from rinklog.crew.rights import Right
from rinklog.rink.queries import bucket_tests
from rinklog.rink.services import add_bucket_test, remove_bucket_test
from rinklog.web.access import At, on_rink
from rinklog.web.panels import posted
from rinklog.web.setup.forms import BucketForm


@on_rink(Right.LOG)
def hoses(request: HttpRequest, at: At) -> HttpResponse:
    """The tests so far, and a form for the next."""
    form = BucketForm(posted(request))
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        add_bucket_test(
            id=data["id"],
            rink=at.rink,
            hose=data["hose"],
            water_m3=data["water"],
            seconds=data["seconds"],
            by=at.person,
            now=at.now,
        )
        return redirect("hoses", slug=at.rink.slug)
    context = {"form": form, "tests": bucket_tests(at.rink)[:20]}
    return render(request, "setup/hoses.html", context, status=422 if request.method == "POST" else 200)


@on_rink(Right.KEEP)
@require_POST
def bucket_test_remove(request: HttpRequest, at: At, id: UUID) -> HttpResponse:
    """Drop a test that went wrong."""
    remove_bucket_test(test=at.bucket_test(id))
    return redirect("hoses", slug=at.rink.slug)
