"""The weather's ways in, as a keeper and a volunteer meet them."""

import datetime as dt
from typing import Any
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from rinklog.rink.models import Rink
from rinklog.weather.models import Observation, ProviderState, WeatherSetup
from rinklog.weather.queries import latest_run
from tests.support.cast import Cast
from tests.support.forecasts import met_norway
from tests.support.weather_service import Reply, Service, weather_service

CSV = b"time,air_c\n2026-01-15T12:00Z,-5\n2026-01-15T12:00Z,-6\n2026-01-15T15:00Z,-500\n"


@pytest.fixture
def service(settings: Any) -> Any:
    with weather_service() as made:
        settings.WEATHER_URLS = dict.fromkeys(settings.WEATHER_URLS, made.url)
        yield made


@pytest.fixture
def keeper(cast: Cast, client: Client) -> Client:
    client.force_login(cast.ada)
    Rink.objects.filter(id=cast.rink.id).update(latitude=60.1, longitude=10.2)
    return client


def address(cast: Cast, name: str, **more: Any) -> str:
    return reverse(name, kwargs={"slug": cast.rink.slug, **more})


def choose(client: Client, cast: Cast, **said: str) -> Any:
    form = {"turn_met-norway": "", "contact": "ada@rimvinkel.example", "altitude": "", "station": "", **said}
    return client.post(address(cast, "weather-sources"), form)


def test_a_source_that_is_switched_on_is_asked_and_the_page_says_what_came(
    keeper: Client, cast: Cast, service: Service, django_capture_on_commit_callbacks: Any
) -> None:
    made = timezone.now() - dt.timedelta(minutes=40)
    service.will(Reply(met_norway(made, [-5.0] * 48)))
    with django_capture_on_commit_callbacks(execute=True):
        answer = choose(keeper, cast, **{"turn_met-norway": "1", "altitude": "600 ft"})
    assert answer.status_code == 302
    assert latest_run(cast.rink) is not None
    assert WeatherSetup.objects.get().altitude_m == pytest.approx(182.88)  # 600 × 0.3048
    page = keeper.get(address(cast, "weather-sources")).content.decode()
    assert "The newest forecast is from MET Norway" in page
    assert "last answered well" in page
    assert "Weather forecast from MET Norway, CC BY 4.0" in page


def test_what_went_wrong_is_on_the_page_in_words(
    keeper: Client, cast: Cast, service: Service, django_capture_on_commit_callbacks: Any
) -> None:
    service.will(Reply(status=429, headers={"Retry-After": "1800"}))
    with django_capture_on_commit_callbacks(execute=True):
        choose(keeper, cast, **{"turn_met-norway": "1"})
    page = keeper.get(address(cast, "weather-sources")).content.decode()
    assert "MET Norway says that we ask too often (429); it is left alone for 30 minutes." in page
    assert "It is left alone until" in page


def test_a_rink_without_a_position_is_told_where_to_give_it(keeper: Client, cast: Cast) -> None:
    Rink.objects.filter(id=cast.rink.id).update(latitude=None, longitude=None)
    page = keeper.get(address(cast, "weather-sources")).content.decode()
    assert "This rink has no position" in page
    assert address(cast, "place") in page


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"turn_us-nws": "1", "contact": ""}, "want to know whom to write to"),
        ({"station": "oslo!"}, "Station is “OSLO!”; allowed: the four letters"),
        ({"altitude": "high"}, "is “high”; allowed is -430"),
        ({"turn_us-nws": "9"}, "“9” is not in the list"),
    ],
)
def test_a_choice_that_cannot_work_comes_back_with_one_sentence(
    keeper: Client, cast: Cast, said: dict[str, str], sentence: str
) -> None:
    answer = choose(keeper, cast, **said)
    assert answer.status_code == 422
    assert sentence in answer.content.decode().replace("−", "-")
    assert not ProviderState.objects.exists()


def test_the_order_of_the_services_is_the_keepers(keeper: Client, cast: Cast) -> None:
    choose(keeper, cast, **{"turn_open-meteo": "1", "turn_met-norway": "2"})
    on = ProviderState.objects.filter(is_on=True).values_list("provider", flat=True)
    assert list(on) == ["open-meteo", "met-norway"]
    page = keeper.get(address(cast, "weather-sources")).content.decode()
    assert page.index("Open-Meteo") < page.index("MET Norway")


def send(client: Client, cast: Cast, content: bytes, **more: Any) -> Any:
    form = {
        "id": more.pop("id", uuid4()),
        "file": SimpleUploadedFile("yard.csv", content),
        "format": "",
        **more,
    }
    return client.post(address(cast, "weather-file-post"), form)


def test_a_file_is_read_and_every_fault_listed_with_its_line(
    keeper: Client, cast: Cast, django_capture_on_commit_callbacks: Any
) -> None:
    with django_capture_on_commit_callbacks(execute=True):
        answer = send(keeper, cast, CSV)
    assert answer.status_code == 302
    page = keeper.get(answer.url).content.decode()
    assert "Hours read" in page
    for sentence in (
        "line 3, time",
        "this hour came twice",
        "line 4, air",
        "outside what nature does",
        "hours are missing",
    ):
        assert sentence in page
    assert "humidity in every hour" in page
    csv_file = keeper.get(answer.url + "not-used.csv").content.decode()
    assert "line 3,time,2026-01-15T12:00:00+00:00,this hour came twice; the first is kept" in csv_file


def test_a_waiting_file_shows_how_far_it_is(keeper: Client, cast: Cast) -> None:
    answer = send(keeper, cast, CSV)
    page = keeper.get(answer.url).content.decode()
    assert "<progress" in page
    assert 'hx-trigger="every 1s"' in page


@pytest.mark.parametrize(
    ("content", "more", "sentence"),
    [
        (b"", {}, "The file is empty"),
        (CSV, {"format": "xml"}, "“xml” is not in the list"),
        (b"\x1f\x8bjunk", {}, "The packed file is damaged"),
    ],
)
def test_a_file_that_cannot_be_taken_comes_back_with_one_sentence(
    keeper: Client, cast: Cast, content: bytes, more: dict[str, Any], sentence: str
) -> None:
    answer = send(keeper, cast, content, **more)
    assert answer.status_code == 422
    assert sentence in answer.content.decode()


def test_two_files_under_one_id_are_a_conflict(keeper: Client, cast: Cast) -> None:
    id = uuid4()
    send(keeper, cast, CSV, id=id)
    answer = send(keeper, cast, CSV + b"\n", id=id)
    assert answer.status_code == 422
    assert "has sent another file already" in answer.content.decode()


def read(client: Client, cast: Cast, **said: str) -> Any:
    now = timezone.now() - dt.timedelta(hours=1)
    form = {"at": f"{now.astimezone(dt.UTC):%Y-%m-%dT%H:%M}+00:00", **said}
    return client.post(address(cast, "weather-reading"), form)


def test_a_volunteer_writes_down_what_the_thermometer_says(cast: Cast, client: Client) -> None:
    client.force_login(cast.cleo)
    answer = read(
        client, cast, air="-7.5", wind="18 km/h", wind_from="315", humidity="80", sky="0.25", snow="12 cm"
    )
    assert answer.status_code == 302
    row = Observation.objects.get()
    assert (row.source, row.by, row.air_c, row.wind_ms) == ("a person", cast.cleo, -7.5, 5.0)
    assert (row.wind_from_deg, row.humidity_frac, row.cloud_frac, row.snow_m) == (315.0, 0.8, 0.25, 0.12)
    assert "-7.5" in client.get(address(cast, "weather-reading")).content.decode().replace("−", "-")


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({}, "Nothing is given"),
        ({"air": "-7", "at": "2031-01-01T10:00"}, "allowed is the past year, until now"),
        ({"air": "-700"}, "Air is “-700”; allowed is -60"),
        ({"wind": "10 m/s", "gust": "2 m/s"}, "the gust is lower than the wind"),
    ],
)
def test_a_reading_that_cannot_be_comes_back_with_one_sentence(
    cast: Cast, client: Client, said: dict[str, str], sentence: str
) -> None:
    client.force_login(cast.cleo)
    answer = read(client, cast, **said)
    assert answer.status_code == 422
    assert sentence in answer.content.decode().replace("−", "-")
    assert not Observation.objects.exists()
