"""The set-up worked through: from a level survey to the shopping list."""

from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.crew.rights import Right
from rinklog.geometry.boards import CHECK_DEPTH_M
from rinklog.geometry.site import SiteError, plan_site, read_levels
from rinklog.money import amounts
from rinklog.money import queries as money
from rinklog.rink.queries import latest_flow_ls
from rinklog.web.access import At, on_rink
from rinklog.web.fields import QuantityField
from rinklog.web.panels import posted

SENTENCES = {
    "hole": lazy("The survey has a hole in row %(row)d, column %(column)d; every point needs a height."),
    "number": lazy(
        "Row %(row)d, column %(column)d is “%(value)s”; allowed is a height in metres, −100 to 100."
    ),
    "ragged": lazy("Row %(row)d has %(found)d heights, the first has %(wanted)d; every row needs as many."),
    "few": lazy("The survey is too small; allowed are at least 2 rows of 2 heights."),
    "many": lazy("The survey has more than %(most)d heights; leave some out."),
    "steep": lazy(
        "The water would stand %(deepest).2f m deep, and the boards are %(board).2f m high; level some ground, move the "
        "rink, or use higher boards."
    ),
}


class SiteForm(forms.Form):
    """A survey of the ground and what stands on it."""

    levels = forms.CharField(
        label=lazy(
            "Heights of the ground in metres, a row from side to side on each line (or a CSV file pasted in)"
        ),
        widget=forms.Textarea(attrs={"rows": 5}),
        max_length=200_000,
    )
    cover = QuantityField(
        label=lazy("Least depth of water, at the highest ground"), quantity="depth", lowest=0, highest=1
    )
    board = QuantityField(label=lazy("Height of the boards"), quantity="length", lowest=0.05, highest=2)
    board_length = QuantityField(label=lazy("Length of one board"), quantity="length", lowest=0.5, highest=12)


@on_rink(Right.KEEP)
def site(request: HttpRequest, at: At) -> HttpResponse:
    """The form, and below it what the site needs. Nothing is stored."""
    asked = request.method == "POST"  # a long survey does not fit into an address
    usual = {"levels": "0.00, 0.05\n0.10, 0.15", "cover": 0.05, "board": 0.4, "board_length": 2.44}
    form = SiteForm(posted(request), initial=usual)
    context: dict[str, Any] = {"form": form, "grid": at.season.grid}
    if asked and form.is_valid():
        try:
            context |= worked_out(at, form.cleaned_data)
        except SiteError as error:
            form.add_error("levels", str(SENTENCES[error.code]) % error.params)
    return render(request, "setup/site.html", context, status=422 if asked and form.errors else 200)


def worked_out(at: At, said: dict[str, Any]) -> dict[str, Any]:
    """The plan with its cautions and its price."""
    grid, flow_ls = at.season.grid, latest_flow_ls(at.rink)
    plan = plan_site(
        read_levels(said["levels"]),
        (grid.length_m, grid.width_m, grid.corner_m),
        cover_m=said["cover"],
        board_m=said["board"],
        board_length_m=said["board_length"],
        flow_ls=flow_ls,
    )
    purse, price = money.purse(at.rink), money.price_on(money.water_prices(at.rink), at.today)
    cost = ""
    if purse and price:
        cents = amounts.cost(plan.basin.volume_m3, price.cents_per_1000_m3)
        cost = f"{amounts.plain(cents, purse.digits)} {purse.code}"
    corner = zip(plan.corner.x_m, plan.corner.y_m, plan.corner.chord_m, strict=True) if plan.corner else ()
    return {
        "plan": plan,
        "cost": cost or _("no price of water is known"),
        "check_boards": plan.basin.greatest_depth_m >= CHECK_DEPTH_M,
        "corner": list(corner),
        "push_kgm": plan.push_nm / 9.80665,
        "minutes": None if plan.hose_h is None else plan.hose_h * 60,
    }
