"""Whether the rink has a public page, and who may find it."""

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext_lazy as lazy

from rinklog.crew.rights import Right
from rinklog.records import queries
from rinklog.records.models import PublicPage
from rinklog.records.services import publish
from rinklog.web.access import At, on_rink
from rinklog.web.panels import posted
from rinklog.web.records.taking import OneOf


class PublicityForm(forms.Form):
    """How the public page is shown."""

    shown = OneOf(
        label=lazy("The public page is shown"), choices=PublicPage.Shown.choices, widget=forms.RadioSelect
    )


@on_rink(Right.KEEP)
def publicity(request: HttpRequest, at: At) -> HttpResponse:
    """Show the public page to nobody, to whoever has the link, or to everybody."""
    now_shown = queries.publicity(at.rink)
    form = PublicityForm(posted(request), initial={"shown": now_shown})
    if request.method == "POST" and form.is_valid():
        publish(rink=at.rink, shown=form.cleaned_data["shown"], by=at.person, now=at.now)
        return redirect("setup", slug=at.rink.slug)
    context = {"form": form, "shown": now_shown}
    return render(request, "setup/public.html", context, status=422 if request.method == "POST" else 200)
