"""The Tonight page: what it says, in whose units, and where one tap leads."""

import datetime as dt
import re
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

from rinklog.advice.items import Act, Item, Urgency, Window
from rinklog.advice.models import Advice, Prediction
from rinklog.advice.said import air, coat, depth, moment, say, zones
from rinklog.ice.models import Outlook
from rinklog.weather.models import ProviderState
from rinklog.work.models import Entry, Hazard
from tests.advice.scene import window
from tests.support.cast import Cast
from tests.support.counting import queries_of
from tests.support.hazards import put_up

HOUR = dt.timedelta(hours=1)


def page(client: Client, cast: Cast, where: str = "tonight/") -> str:
    return client.get(f"/r/{cast.rink.slug}/{where}").content.decode()


def text(html: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", html).split())


def signed_in(person: Any) -> Client:
    client = Client()
    client.force_login(person)
    return client


def stored(cast: Cast, **known: Any) -> Advice:
    """Advice of half an hour ago, with one item and one window that begins soon."""
    now = timezone.now()
    start = (now + HOUR / 2).replace(second=0, microsecond=0)
    flood = Item(
        "flood",
        Urgency.NOW,
        say("flood.tonight", starts=moment(start), coat=coat(4.0), frozen=moment(start + 3 * HOUR),
            chance=("chance", 0.9), deadline=moment(start + 12 * HOUR)),
        (say("flood.too-warm-by-rule", air=air(-6.0), limit=air(-7.0)),),
        "the ice estimate and the forecast",
        Act("log-flood", "record", {"kind": "flood"}, {"window": "w1"}),
    )  # fmt: skip
    curve = ((1.0, 0.3, 0.4, 0.6, 1.0), (4.0, 2.0, 3.0, 4.0, 0.9))
    one: Window = window(
        starts_at=start, zone_ids=tuple(zone.id for zone in cast.zones[:2]), spoilers=("sun",), curve=curve
    )
    usual: dict[str, Any] = {
        "items": [flood.to_json()],
        "windows": [one.to_json()],
        "told": {"source": "met-norway", "forecast_made_at": (now - HOUR).isoformat(), "missing": ""},
        "evening": {
            "at": start.isoformat(),
            "air_c": -12.0,
            "wind_ms": 5.0,
            "chill_c": -21.0,
            "frostbite": "low",
        },
    }
    return Advice.objects.create(rink=cast.rink, made_at=now - HOUR / 2, fingerprint="x", **(usual | known))


def test_the_page_says_what_and_why_with_sources(cast: Cast) -> None:
    stored(cast)
    told = text(page(signed_in(cast.cleo), cast))
    assert "a coat of 4.0 mm" in told
    assert "Frozen by" in told
    assert "90 % of the forecasts" in told
    assert "By the rule of thumb -6.0 °C is too warm, above -7.0 °C" in told
    assert "Feels like -21.0 °C" in told
    assert "Forecast MET Norway," in told
    assert "sun on the wet coat" in told
    assert "It never opens the rink" in told


def test_each_reader_gets_their_own_units(cast: Cast) -> None:
    stored(cast)
    cast.dag.depth_unit, cast.dag.temperature_unit, cast.dag.speed_unit = "in", "F", "mph"
    cast.dag.save()
    told = text(page(signed_in(cast.dag), cast))
    # 4 mm are 0.157 in; −6 °C are 21.2 °F, −7 °C 19.4 °F; 5 m/s are 11.2 mph
    assert "a coat of 0.16 in" in told
    assert "21 °F is too warm, above 19 °F" in told
    assert "wind 11 mph" in told


@pytest.mark.parametrize(
    ("missing", "said"),
    [
        ("position", "The rink has no position"),
        ("weather", "No forecast is known now"),
        ("season", "No season has begun"),
    ],
)
def test_where_nothing_is_known_the_page_says_what_is_missing(cast: Cast, missing: str, said: str) -> None:
    stored(cast, items=[], windows=[], evening=None, told={"missing": missing})
    assert said in text(page(signed_in(cast.cleo), cast))


def test_before_any_advice_the_page_says_so_and_an_old_forecast_is_called_old(cast: Cast) -> None:
    client = signed_in(cast.cleo)
    first = page(client, cast)
    assert "The first advice for this rink is being made" in text(first)
    assert 'hx-trigger="every 3s"' in first  # it goes on by itself
    old = (timezone.now() - 13 * HOUR).isoformat()
    stored(cast, told={"forecast_made_at": old, "source": "file", "missing": ""})
    assert "The forecast is old (13 h ago)" in text(page(client, cast))


@pytest.mark.parametrize(
    "problem",
    [
        "MET Norway did not answer within 10 s.",
        "MET Norway refuses us (403); check the contact in the settings.",
        "MET Norway says that we ask too often (429); it is left alone for 30 minutes.",
        "MET Norway sent no JSON.",
        "The forecast of MET Norway begins 24 hours later than now.",
    ],
)
def test_a_service_that_gave_no_good_answer_is_named_beside_the_age_of_what_is_kept(
    cast: Cast, problem: str
) -> None:
    stored(cast)
    one = ProviderState.objects.create(
        rink=cast.rink, provider="met-norway", is_on=True, failures=2, problem=problem
    )
    told = text(page(signed_in(cast.cleo), cast))
    assert f"MET Norway gave no good answer: {problem} What it last gave is kept and shown." in told
    assert "(1 h ago)" in told  # the forecast that is kept
    ProviderState.objects.filter(id=one.id).update(failures=0)  # it answered well since
    assert "gave no good answer" not in text(page(signed_in(cast.cleo), cast))


def test_a_guest_reads_and_finds_no_button(cast: Cast) -> None:
    stored(cast)
    html = page(signed_in(cast.eli), cast)
    assert "Log this flood" not in html
    assert "4.0 mm" in html


def test_one_tap_fills_the_flood_form_and_saving_keeps_the_prediction(cast: Cast) -> None:
    stored(cast)
    client = signed_in(cast.cleo)
    link = re.search(r'href="([^"]*log/flood/[^"]*window=w1)"', page(client, cast))
    assert link is not None
    form = client.get(link[1]).content.decode()
    # 4 mm over the two corner zones' area; a corner zone of 25 m² loses (1 − π/4)·4² = 3.43 m², the other none
    area_m2 = sum(zone.area_m2 for zone in cast.zones[:2])
    amount = re.search(r'name="amount" value="([\d.]+)"', form)
    assert amount is not None
    assert float(amount[1]) == pytest.approx(4.0 * area_m2, rel=1e-3)  # litres: 1 mm on 1 m² is 1 l
    assert form.count(" checked") >= 2
    made = client.post(link[1].partition("?")[0], posted(form, area_m2))
    assert made.status_code == 302, text(made.content.decode())
    flood = Entry.objects.get(kind="flood")
    kept = Prediction.objects.get(root=flood)
    assert kept.chance == pytest.approx(0.9)
    assert "Advice said" in text(
        page(client, cast, f"{made.headers['Location'].partition(cast.rink.slug + '/')[2]}")
    )
    assert "not looked at" in text(page(client, cast))


def posted(form: str, area_m2: float) -> dict[str, Any]:
    """The form as it is, sent back."""
    fields = dict(re.findall(r'name="([^"]+)"[^>]*value="([^"]*)"', form))
    ticked = re.findall(r'name="zones" value="(\d+)"[^>]*checked', form)
    return {
        "id": fields["id"], "started": fields["started"], "zones": ticked, "by": "amount",
        "amount": f"{4.0 * area_m2:.1f}", "water": "cold", "tool": "hose",
    }  # fmt: skip


def test_nonsense_in_the_address_fills_nothing(cast: Cast) -> None:
    client = signed_in(cast.cleo)
    for query in ("window=never", "zones=999999999&zones=x", "method=magic", "hazard=x"):
        assert client.get(f"/r/{cast.rink.slug}/log/patch/?{query}").status_code == 200
        assert client.get(f"/r/{cast.rink.slug}/log/flood/?{query}").status_code == 200


def test_advice_for_a_hazard_fills_the_form_of_the_way(cast: Cast) -> None:
    hazard = put_up(cast, now=timezone.now())
    form = page(signed_in(cast.cleo), cast, f"log/patch/?hazard={hazard.id}&method=scrape")
    assert re.search(r'value="scrape"[^>]*checked', form)


def test_while_a_season_is_worked_through_the_page_says_how_far(cast: Cast) -> None:
    now = timezone.now()
    Outlook.objects.create(rink=cast.rink, made_at=now, reached_at=now - 30 * HOUR)
    said = text(page(signed_in(cast.cleo), cast))
    assert "from the first water on; it has come to" in said


def test_what_was_written_down_after_the_advice_is_said_to_be_missing_in_it(cast: Cast) -> None:
    client, made = signed_in(cast.cleo), stored(cast)
    words = "Something was written down after this advice was made"
    assert words not in text(page(client, cast))
    put_up(cast)
    Hazard.objects.update(recorded_at=timezone.now())
    assert words in text(page(client, cast))
    Advice.objects.filter(id=made.id).update(made_at=timezone.now())
    assert words not in text(page(client, cast))


def test_the_most_urgent_advice_stands_on_the_rink_page(cast: Cast) -> None:
    client = signed_in(cast.cleo)
    assert 'class="urgent' not in page(client, cast, "")
    stored(cast)
    assert "a coat of 4.0 mm" in text(page(client, cast, ""))


def test_the_page_asks_few_questions(cast: Cast) -> None:
    stored(cast)
    client = signed_in(cast.cleo)
    assert queries_of(client, f"/r/{cast.rink.slug}/tonight/") <= 15


def test_numbers_stand_in_every_sentence_that_quotes_them(cast: Cast) -> None:
    from rinklog.advice.wording import wording

    said = say("snow.wait", snow=depth(0.031), stops=moment(timezone.now()))
    assert wording(said, lambda quantity, value: f"<{quantity} {value}>").count("<") == 2
    many = say("wet.keep-off", zones=zones(f"A{n}" for n in range(9)), depth=depth(0.002))
    assert wording(many, lambda quantity, value: "2 mm").startswith(
        "Keep people off A0, A1, A2, A3, A4 and 4 more"
    )
