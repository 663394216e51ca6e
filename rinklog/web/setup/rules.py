"""The rules of practice this crew works by: anybody on it reads them, the keeper chooses."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from rinklog.crew.rights import Right
from rinklog.rink import queries
from rinklog.rink.queries import RuleInForce
from rinklog.rink.services import choose_rule, return_to_default
from rinklog.web.access import At, found, on_rink
from rinklog.web.measures import show
from rinklog.web.middleware import current_units
from rinklog.web.panels import posted
from rinklog.web.setup.forms import RuleForm


@on_rink(Right.SEE)
def rules(request: HttpRequest, at: At) -> HttpResponse:
    """Every rule with the value in force, the published default and its source, and what others publish."""
    lines = [line_of(one) for one in queries.rules(at.rink)]
    return render(request, "setup/rules.html", {"lines": lines})


@on_rink(Right.KEEP)
def rule(request: HttpRequest, at: At, key: str) -> HttpResponse:
    """Choose the value of one rule."""
    one = found(queries.rule_in_force(at.rink, key))
    form = RuleForm(posted(request), rule=one.rule, initial={"value": one.value})
    if request.method == "POST" and form.is_valid():
        choose_rule(rink=at.rink, key=key, value=form.cleaned_data["value"], by=at.person, now=at.now)
        return redirect("rules", slug=at.rink.slug)
    context = line_of(one) | {"form": form}
    return render(request, "setup/rule.html", context, status=422 if request.method == "POST" else 200)


@on_rink(Right.KEEP)
@require_POST
def rule_default(request: HttpRequest, at: At, key: str) -> HttpResponse:
    """Go back to the published default."""
    found(queries.rule_in_force(at.rink, key))
    return_to_default(rink=at.rink, key=key)
    return redirect("rules", slug=at.rink.slug)


def line_of(one: RuleInForce) -> dict[str, Any]:
    """A rule with its values in the person's units."""
    units, quantity = current_units(), one.rule.quantity
    values = {name: getattr(one.rule, name) for name in ("default", "lowest", "highest")}
    shown = {name: show(value, quantity, units) for name, value in values.items()}
    return {"rule": one.rule, "chosen": one.chosen, "value": show(one.value, quantity, units), **shown}
