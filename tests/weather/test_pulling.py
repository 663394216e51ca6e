"""One round of asking, against a real server on this machine: what is asked, what is kept, what is said."""

import datetime as dt
import json
from typing import Any

import pytest

from rinklog.facts import Refused
from rinklog.rink.models import Rink
from rinklog.weather import client
from rinklog.weather.models import ForecastRun, Observation, ProviderState
from rinklog.weather.pulling import pull
from rinklog.weather.queries import known_hours, latest_run, sources_due
from rinklog.weather.sources import Wish, choose_sources
from rinklog.weather.tasks import pull_forecast, sweep
from tests.open_data import fetch
from tests.support.cast import Cast
from tests.support.forecasts import met_norway, open_meteo, us_nws
from tests.support.weather_service import Reply, Service
from tests.weather.test_answers import RECORDED

NOW = dt.datetime(2026, 1, 15, 12, 10, tzinfo=dt.UTC)
H = dt.timedelta(hours=1)
HTML = Reply(b"<html><title>502 Bad Gateway</title></html>", headers={"Content-Type": "text/html"})
GOOD = Reply(met_norway(NOW - H, [-5.0] * 48), headers={"Cache-Control": "max-age=1800", "ETag": '"1"'})


@pytest.fixture
def rink(cast: Cast, service: Service, settings: Any, monkeypatch: pytest.MonkeyPatch) -> Rink:
    """A rink with a position whose services all stand on this machine."""
    monkeypatch.setattr(client, "BACK_OFF_S", 0.01)
    settings.WEATHER_URLS = dict.fromkeys(settings.WEATHER_URLS, service.url)
    Rink.objects.filter(id=cast.rink.id).update(latitude=60.123456, longitude=10.5)
    cast.rink.refresh_from_db()
    return cast.rink


def choose(cast: Cast, *providers: str, **more: Any) -> None:
    choose_sources(
        rink=cast.rink,
        wish=Wish(providers, **{"contact": "ada@rimvinkel.example", **more}),
        by=cast.ada,
        now=NOW,
    )


def state(slug: str) -> ProviderState:
    return ProviderState.objects.get(provider=slug)


def test_nothing_is_asked_before_a_keeper_switches_a_source_on(
    rink: Rink, cast: Cast, service: Service
) -> None:
    assert pull(rink=rink, now=NOW).run is None
    choose(cast)
    sweep()
    assert service.asked == []


def test_a_forecast_is_fetched_with_a_rounded_position_and_then_left_alone(
    rink: Rink, cast: Cast, service: Service
) -> None:
    choose(cast, "met-norway", altitude_m=181.4)
    service.will(GOOD, Reply(status=304, headers={"Cache-Control": "max-age=600"}))
    run = pull(rink=rink, now=NOW).run
    assert run is not None
    assert service.paths == ["/weatherapi/locationforecast/2.0/complete?lat=60.1235&lon=10.5&altitude=181"]
    assert service.asked[0][1]["user-agent"].endswith("ada@rimvinkel.example")
    pull(rink=rink, now=NOW + dt.timedelta(minutes=29))
    assert len(service.asked) == 1
    assert pull(rink=rink, now=NOW + dt.timedelta(minutes=31)).run == run
    assert service.asked[1][1]["if-none-match"] == '"1"'
    assert ForecastRun.objects.count() == 1
    assert [one.hour.air_c for one in known_hours(rink, NOW, NOW + H)] == [-5.0, -5.0]


@pytest.mark.parametrize(
    ("bad", "word"),
    [
        (Reply(status=403), "refuses us"),
        (Reply(status=429, headers={"Retry-After": "3600"}), "left alone for 60 minutes"),
        (Reply(status=500), "answered 500"),
        (HTML, "sent no JSON but '<html>"),
        (Reply(GOOD.body[:500]), "sent no JSON"),
        (Reply(GOOD.body, says=len(GOOD.body) + 9), "was cut off"),
        (Reply(met_norway(NOW + 24 * H, [-5.0] * 48)), "later than now"),
        (Reply(met_norway(NOW - 30 * H, [-5.0] * 24)), "which is past"),
        (Reply(met_norway(NOW - 14 * H, [-5.0] * 48)), "was made 14 hours ago"),
        (Reply(b'{"properties": {}}'), "without a timeseries"),
    ],
)
def test_after_a_bad_answer_the_next_provider_is_asked_and_the_fault_is_said(
    rink: Rink, cast: Cast, service: Service, bad: Reply, word: str
) -> None:
    choose(cast, "met-norway", "open-meteo")
    tries = 3 if bad.status == 500 else 1
    service.will(*[bad] * tries, Reply(open_meteo(NOW.replace(minute=0), [-7.0] * 24)))
    pulled = pull(rink=rink, now=NOW)
    assert pulled.run is not None
    assert pulled.run.provider == "open-meteo"
    assert word in pulled.problems[0]
    assert word in state("met-norway").problem
    assert state("open-meteo").problem == ""


def test_the_last_good_forecast_stays_whatever_fails(rink: Rink, cast: Cast, service: Service) -> None:
    choose(cast, "met-norway")
    service.will(GOOD)
    run = pull(rink=rink, now=NOW).run
    for hour, bad in enumerate((HTML, Reply(status=403), Reply(hang_up=True)), start=1):
        service.will(bad)
        assert pull(rink=rink, now=NOW + hour * 8 * H).problems
    assert latest_run(rink) == run
    assert known_hours(rink, NOW, NOW + H)[0].hour.air_c == -5.0


def test_a_source_that_keeps_failing_rests_longer_each_time(rink: Rink, cast: Cast, service: Service) -> None:
    choose(cast, "met-norway")
    service.will(HTML)
    now, rests = NOW, []
    for _ in range(9):
        pull(rink=rink, now=now)
        until = state("met-norway").rest_until
        assert until is not None
        rests.append((until - now).total_seconds() / 60)
        pull(rink=rink, now=until - dt.timedelta(seconds=1))  # rests: nothing is asked
        now = until
    assert rests == [5, 5, 30, 60, 120, 240, 360, 360, 360]
    assert len(service.asked) == 9
    service.will(GOOD)
    pull(rink=rink, now=now)
    assert (state("met-norway").failures, state("met-norway").rest_until) == (0, None)


def test_the_us_service_is_asked_for_its_grid_once(rink: Rink, cast: Cast, service: Service) -> None:
    choose(cast, "us-nws")
    # the host in the answer is never followed: only its path is taken
    points = b'{"properties": {"forecastGridData": "https://api.weather.gov/gridpoints/OKX/33,35"}}'
    service.will(Reply(points), Reply(us_nws(NOW - H, -9.0)))
    assert pull(rink=rink, now=NOW).run is not None
    pull(rink=rink, now=NOW + H)
    assert service.paths == ["/points/60.1235,10.5", "/gridpoints/OKX/33,35", "/gridpoints/OKX/33,35"]


def test_a_grid_that_leads_elsewhere_is_refused(rink: Rink, cast: Cast, service: Service) -> None:
    choose(cast, "us-nws")
    service.will(Reply(b'{"properties": {"forecastGridData": "https://evil.example/admin"}}'))
    assert "allowed: /gridpoints/" in pull(rink=rink, now=NOW).problems[0]
    assert len(service.asked) == 1


def test_a_moved_rink_is_asked_for_anew(rink: Rink, cast: Cast, service: Service) -> None:
    choose(cast, "met-norway")
    service.will(GOOD)
    pull(rink=rink, now=NOW)
    Rink.objects.filter(id=rink.id).update(latitude=89.0, longitude=-179.99999)
    rink.refresh_from_db()
    pull(rink=rink, now=NOW + H / 2)
    path, headers = service.asked[1]
    assert path.endswith("?lat=89&lon=-180")
    assert "if-none-match" not in headers


def test_89_degrees_north_is_a_place_like_any_other(rink: Rink, cast: Cast, service: Service) -> None:
    Rink.objects.filter(id=rink.id).update(latitude=89.0, longitude=10.0)
    rink.refresh_from_db()
    choose(cast, "us-nws", "met-norway")
    service.will(Reply(status=404), GOOD)
    pulled = pull(rink=rink, now=NOW)
    assert "nothing for this place" in pulled.problems[0]
    assert pulled.run is not None
    assert pulled.run.provider == "met-norway"


def test_a_rink_without_a_position_is_told_so_and_its_station_is_still_asked(
    rink: Rink, cast: Cast, service: Service
) -> None:
    Rink.objects.filter(id=rink.id).update(latitude=None, longitude=None)
    rink.refresh_from_db()
    choose(cast, "met-norway", metar_station="ENGM")
    service.will(Reply(b"METAR ENGM 151150Z 02005KT 9999 FEW020 M06/M09 Q1013\n"))
    pulled = pull(rink=rink, now=NOW)
    assert "has no position" in pulled.problems[0]
    assert pulled.observations == 1
    (one,) = Observation.objects.all()
    assert (one.source, one.air_c) == ("station ENGM", -6.0)


def test_the_reports_of_a_station_are_kept_once(rink: Rink, cast: Cast, service: Service) -> None:
    choose(cast, metar_station="ENGM")
    lines = "METAR ENGM 151050Z 02005KT 9999 FEW020 M05/M09 Q1013\nMETAR ENGM 151150Z 02005KT 9999 FEW020 M06/M09 Q1013\n"
    service.will(Reply(lines.encode()))
    assert pull(rink=rink, now=NOW).observations == 2
    assert pull(rink=rink, now=NOW + H).observations == 0
    assert service.paths[0] == "/api/data/metar?ids=ENGM&format=raw&hours=6"
    service.will(Reply(b""))
    assert "no report within a day" in pull(rink=rink, now=NOW + 2 * H).problems[0]


def test_two_tasks_at_once_ask_once(rink: Rink, cast: Cast, service: Service) -> None:
    choose(cast, "met-norway")
    service.will(HTML)
    pull(rink=rink, now=NOW)
    ProviderState.objects.update(rest_until=None)
    pull(rink=rink, now=NOW + dt.timedelta(seconds=30))
    assert len(service.asked) == 1


def test_the_sweep_finds_what_is_due(rink: Rink, cast: Cast, service: Service) -> None:
    choose(cast, "met-norway")
    assert sources_due(NOW) == [rink.id]
    service.will(GOOD)
    pull(rink=rink, now=NOW)
    assert sources_due(NOW + dt.timedelta(minutes=29)) == []
    assert sources_due(NOW + dt.timedelta(minutes=31)) == [rink.id]
    pull_forecast(str(rink.id))
    pull_forecast("00000000-0000-0000-0000-000000000000")


def test_a_new_choice_wakes_a_resting_source(rink: Rink, cast: Cast, service: Service) -> None:
    choose(cast, "met-norway")
    service.will(Reply(status=403))
    pull(rink=rink, now=NOW)
    assert sources_due(NOW + H) == []
    choose(cast, "met-norway", contact="bo@rimvinkel.example")
    assert sources_due(NOW + H) == [rink.id]


@pytest.mark.parametrize(
    ("providers", "more", "field"),
    [
        (["met-norway"], {"contact": ""}, "contact"),
        (["moon"], {}, "providers"),
        ([], {"metar_station": "oslo"}, "metar_station"),
    ],
)
def test_a_choice_that_cannot_work_is_refused(
    rink: Rink, cast: Cast, providers: list[str], more: dict[str, Any], field: str
) -> None:
    with pytest.raises(Refused) as caught:
        choose(cast, *providers, **more)
    assert caught.value.field == field
    assert not ProviderState.objects.exists()


def test_a_recorded_answer_comes_in_with_its_recorded_headers(
    rink: Rink, cast: Cast, service: Service
) -> None:
    # Recorded on 20 July 2020: Expires is 31 min 52 s after Date; 82 times, air 18.8 °C at 11:00, steps of six hours from
    # the 22nd 18:00, which say 23.3 and then 14.8 °C (read in the file).
    recorded = json.loads(fetch(RECORDED).read_bytes())
    kept = {name: recorded["headers"][name] for name in ("Date", "Expires", "Last-Modified")}
    service.will(Reply(json.dumps(recorded["data"]).encode(), headers=kept | {"Content-Encoding": "gzip"}))
    now = dt.datetime(2020, 7, 20, 11, 44, 31, tzinfo=dt.UTC)
    choose(cast, "met-norway")
    run = pull(rink=rink, now=now).run
    assert run is not None
    assert (run.hours.count(), run.made_at) == (82, dt.datetime(2020, 7, 20, 1, 30, 57, tzinfo=dt.UTC))
    assert state("met-norway").expires_at == now + dt.timedelta(minutes=31, seconds=52)
    assert state("met-norway").last_modified == "Mon, 20 Jul 2020 11:44:31 GMT"
    hours = known_hours(rink, now, now + dt.timedelta(days=9))
    assert (hours[0].hour.air_c, hours[0].interpolated, hours[0].hour.pressure_is_station) == (
        18.8,
        False,
        False,
    )
    steps = {one.hour.at: one for one in hours}
    first, third = (steps[dt.datetime(2020, 7, 22, hour, tzinfo=dt.UTC)] for hour in (18, 20))
    assert first.interpolated
    assert third.source == "met-norway, from steps of 6 h"
    assert third.hour.air_c == pytest.approx(23.3 + (14.8 - 23.3) * 2 / 6)
