"""Weather files into observations: real years against published sums, dirty ones against what was seen in them."""

import datetime as dt
import gzip
import tracemalloc
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.core.files.base import ContentFile, File

from rinklog.facts import Conflict, Refused
from rinklog.weather import importing
from rinklog.weather.importing import go_on, receive_file
from rinklog.weather.models import Observation, WeatherFile
from rinklog.weather.queries import files_standing_still, files_to_forget, known_hours
from rinklog.weather.tasks import sweep
from tests.open_data import fetch
from tests.support.cast import Cast
from tests.weather.test_files import CHICAGO, HELSINKI, NEW_YORK, cold_calm_evenings, freezing_degree_days

NOW = dt.datetime(2026, 1, 15, 12, tzinfo=dt.UTC)
H = dt.timedelta(hours=1)


def send(
    cast: Cast, content: bytes | Path, *, id: UUID | None = None, format: str = "", name: str = "w.txt"
) -> WeatherFile:
    """Receive a file and read all of it."""
    file = File(content.open("rb"), name) if isinstance(content, Path) else ContentFile(content, name)
    one = receive_file(id=id or uuid4(), rink=cast.rink, file=file, format=format, by=cast.ada, now=NOW)
    if isinstance(content, Path):
        file.close()
    while go_on(id=one.id, now=NOW):
        pass
    one.refresh_from_db()
    return one


def days(
    cast: Cast, start: dt.datetime, end: dt.datetime, hours: float
) -> dict[dt.date, list[tuple[int, object]]]:
    """What the database knows, by local day at a fixed offset."""
    found: dict[dt.date, list[tuple[int, object]]] = {}
    for known in known_hours(cast.rink, start, end):
        local = known.hour.at + hours * H
        if known.hour.air_c is not None:
            found.setdefault(local.date(), []).append((local.hour, known.hour))
    return found


def test_a_year_of_chicago_has_its_sums_when_asked_from_the_database(cast: Cast) -> None:
    # Computed apart from the same file with other code, local time UTC−6: degree days and cold calm evenings.
    one = send(cast, fetch(CHICAGO), name="725300-2015.gz")
    assert (one.state, one.format, one.hours, one.added) == ("done", "isd-lite", 8758, 8758)
    year = days(cast, dt.datetime(2014, 12, 31, tzinfo=dt.UTC), dt.datetime(2015, 4, 2, tzinfo=dt.UTC), -6)
    sums = [freezing_degree_days(year, month, 2015) for month in (1, 2, 3)]  # type: ignore[arg-type]
    assert sums == [pytest.approx(expected, abs=0.5) for expected in (163, 254, 49)]
    assert cold_calm_evenings(year, 1, 2015) == (3, 7)  # type: ignore[arg-type]
    assert cold_calm_evenings(year, 2, 2015) == (6, 19)  # type: ignore[arg-type]
    assert set(Observation.objects.values_list("pressure_is_station", flat=True)) <= {False, None}


def test_a_typical_year_of_helsinki_comes_in_with_sun_and_snow(cast: Cast) -> None:
    one = send(cast, fetch(HELSINKI), name="helsinki.epw")
    assert (one.state, one.format, one.hours, one.flags) == ("done", "epw", 8760, [])
    assert Observation.objects.count() == 8760
    snow = Observation.objects.order_by("snow_m").values_list("snow_m", flat=True)
    assert (snow.first(), snow.last()) == (0.0, pytest.approx(0.57))  # 0 to 57 cm stand in the file
    assert Observation.objects.filter(pressure_is_station=True).count() == 8760


def test_the_same_file_again_adds_nothing(cast: Cast) -> None:
    content = rows("-5.0", "-6.0")
    assert (send(cast, content).added, send(cast, content).added) == (2, 0)
    assert Observation.objects.count() == 2


def rows(*airs: str, start: dt.datetime = NOW) -> bytes:
    """A small CSV of ours."""
    lines = [f"{(start + n * H).isoformat()},{air},3.0" for n, air in enumerate(airs)]
    return "\n".join(["time,air_c,wind_ms", *lines, ""]).encode()


def new_york_as_ours() -> bytes:
    """Newark's year as a CSV of ours: its own units in the columns' names, its wall time at a fixed offset."""
    source = fetch(NEW_YORK).read_text().splitlines()[1:]
    head = "time,air_f,dew_point_f,humidity_percent,wind_from_deg,wind_mph,gust_mph,precip_in,pressure_hpa"
    out = [head]
    for line in source:
        origin, year, month, day, hour, *values, _visibility, _time = line.split(",")
        if origin == "EWR":
            out.append(f"{year}-{month:0>2}-{day:0>2}T{hour:0>2}:00-05:00,{','.join(values)}")
    return "\n".join(out).encode()


def test_every_fault_of_a_real_dirty_year_is_flagged_and_none_is_used(cast: Cast) -> None:
    # Seen in the file: 1,048 mph on 12 February 03:00 (line 1011), 3 November 01:00 a second time (line 7321).
    # Counted in it with awk: 935 pressures, one temperature and one humidity of Newark are NA; 8,703 rows.
    one = send(cast, new_york_as_ours(), name="newark.csv")
    where = {(place, name, why) for place, name, _value, why in one.flags}
    assert {("line 1011", "wind_ms", "impossible"), ("line 7321", "at", "doubled")} <= where
    assert {kind: n for kind, n in one.flagged.items() if kind != "at gap"} == {
        "wind_ms impossible": 1,
        "at doubled": 1,
    }
    assert [
        "line 1631",
        "at",
        "1 h before 2013-03-10T03:00:00-05:00",
        "gap",
    ] in one.flags  # no 02:00 that night
    assert [one.missing[name] for name in ("pressure_pa", "air_c", "humidity_frac")] == [935, 1, 1]
    assert one.hours == 8702
    wind = Observation.objects.get(at=dt.datetime(2013, 2, 12, 8, tzinfo=dt.UTC)).wind_ms
    assert wind is None
    assert Observation.objects.filter(wind_ms__gt=60).count() == 0


def test_a_lone_spike_a_backward_hour_and_a_wrong_unit_are_named_with_their_lines(cast: Cast) -> None:
    # 23 °F stands among °C (−5 °C); a pressure in hPa under a column of Pa
    content = b"""time,air_c,pressure_pa
2026-01-15T12:00Z,-5.0,101300
2026-01-15T13:00Z,23.0,101300
2026-01-15T14:00Z,-5.5,1013.0
2026-01-15T13:30Z,-5.5,101300
2026-01-15T15:00Z,cold,101300
2026-01-15T16:00,-6,101300
2026-01-15T17:00Z,-6
2026-01-15T21:00Z,-7,101300
"""
    one = send(cast, content)
    assert [(place, name, why) for place, name, _v, why in one.flags] == [
        ("line 3", "air_c", "spike"),
        ("line 4", "pressure_pa", "impossible"),
        ("line 5", "at", "out-of-order"),
        ("line 6", "air_c", "not-a-number"),
        ("line 7", "time", "no-offset"),
        ("line 8", "line", "cells"),
        ("line 9", "at", "gap"),
    ]
    airs = list(Observation.objects.order_by("at").values_list("air_c", flat=True))
    assert airs == [-5.0, None, -5.5, None, -7.0]


def test_missing_humidity_is_counted_and_stays_unknown(cast: Cast) -> None:
    one = send(cast, rows("-5.0", "-6.0", "NA"))
    assert (one.missing["humidity_frac"], one.missing["air_c"]) == (3, 1)
    assert set(Observation.objects.values_list("humidity_frac", flat=True)) == {None}


def test_units_in_the_columns_names_become_si(cast: Cast) -> None:
    # 14 °F = −10 °C; 10 mph = 4.4704 m/s; 29.92 inHg = 101,320 Pa; 0.1 in = 2.54 mm; 40 % (by definition)
    send(
        cast,
        b"time,air_f,wind_mph,pressure_inhg,precip_in,humidity_percent\n2026-01-15T12:00Z,14,10,29.92,0.1,40\n",
    )
    row = Observation.objects.get()
    found = [row.air_c, row.wind_ms, row.pressure_pa, row.precip_mm, row.humidity_frac]
    assert found == [pytest.approx(value, rel=1e-4) for value in (-10.0, 4.4704, 101_320, 2.54, 0.4)]


def test_rows_closer_than_an_hour_are_folded_into_it(cast: Cast) -> None:
    lines = [f"2026-01-15T{12 + n // 6}:{n % 6}0Z,{-5 - n},0.1" for n in range(12)]
    one = send(cast, "\n".join(["time,air_c,precip_mm", *lines]).encode())
    found = Observation.objects.order_by("at").values_list("air_c", "precip_mm")
    assert list(found) == [(-5.0, pytest.approx(0.6)), (-11.0, pytest.approx(0.6))]
    assert one.hours == 2


@pytest.mark.parametrize(
    ("content", "word"),
    [
        (b"<html><body>no</body></html>", "none of the forms"),
        (b"time,air_c,moonlight\n2026-01-15T12:00Z,1,1\n", "moonlight"),
        (b"time,air_c,air_f\n2026-01-15T12:00Z,1,1\n", "a second time"),
        (b"time,air_c\n", "No hour of it"),
        (b"time,air_c\n" + b"x" * 100_000, "No hour of it"),
        (b"LOCATION,here\n", "time zone"),
        (b"\x00\xff\xfe" * 50, "none of the forms"),
    ],
)
def test_what_is_no_weather_is_refused_with_one_sentence(cast: Cast, content: bytes, word: str) -> None:
    one = send(cast, content)
    assert one.state == "refused"
    assert word in one.sentence
    assert not Observation.objects.exists()


def test_a_file_that_cannot_be_taken_is_refused_at_once(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(importing, "MOST_BYTES", 2**20)
    bomb = gzip.compress(b" " * (2**20 + 1))
    for content, word in (
        (b"", "empty"),
        (bomb, "larger than 1 MB"),
        (gzip.compress(rows("1"))[:-9], "damaged"),
    ):
        with pytest.raises(Refused, match=word):
            send(cast, content)
    with pytest.raises(Refused, match="allowed: csv"):
        send(cast, rows("1"), format="xml")
    assert not WeatherFile.objects.exists()


def test_an_id_is_one_file_for_ever(cast: Cast) -> None:
    id = uuid4()
    first = send(cast, rows("-5.0"), id=id)
    assert send(cast, rows("-5.0"), id=id) == first
    with pytest.raises(Conflict):
        send(cast, rows("-9.0"), id=id)


def test_a_reading_that_was_cut_off_goes_on_where_it_stopped(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    content = rows(*["-5.0", "nix", "-6.0", "99", "-7.0", "-7.0", "30.0", "-7.0"] * 5)
    whole = send(cast, content)
    told = [(flag, whole.hours) for flag in whole.flags]
    before = list(Observation.objects.order_by("at").values_list("at", "air_c", "mark"))
    Observation.objects.all().delete()
    monkeypatch.setattr(importing, "AT_A_TIME", 3)
    monkeypatch.setattr(importing, "TURN_S", 0.0)  # every chunk is a turn of its own
    pieces = send(cast, content)
    assert [(flag, pieces.hours) for flag in pieces.flags] == told
    assert (pieces.flagged, pieces.missing, pieces.added) == (whole.flagged, whole.missing, whole.added)
    assert list(Observation.objects.order_by("at").values_list("at", "air_c", "mark")) == before


def test_the_sweep_takes_up_what_stands_still_and_forgets_old_files(
    cast: Cast, django_capture_on_commit_callbacks: Any
) -> None:
    file = ContentFile(rows("-5.0"), "w.csv")
    one = receive_file(id=uuid4(), rink=cast.rink, file=file, format="", by=cast.ada, now=NOW)
    assert list(files_standing_still(NOW + H)) == [one]
    assert not files_to_forget(NOW + 24 * 8 * H).exists()
    with django_capture_on_commit_callbacks(execute=True):
        sweep()
    one.refresh_from_db()
    assert (one.state, one.hours) == ("done", 1)
    sweep()  # by the real clock it came long ago
    one.refresh_from_db()
    assert one.file.name == ""


def test_a_file_that_stops_its_reader_every_time_is_given_up(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    def dies(**_: object) -> int:
        raise MemoryError

    monkeypatch.setattr(importing, "store_observations", dies)
    file = ContentFile(rows("-5.0"), "w.csv")
    one = receive_file(id=uuid4(), rink=cast.rink, file=file, format="", by=cast.ada, now=NOW)
    later = dt.datetime(2100, 1, 1, tzinfo=dt.UTC)  # past whatever the database's clock says
    for _ in range(importing.MOST_TRIES):
        with pytest.raises(MemoryError):
            go_on(id=one.id, now=later)
    assert not go_on(id=one.id, now=later)
    one.refresh_from_db()
    assert (one.state, "given up" in one.sentence) == ("refused", True)


def test_a_long_file_takes_little_memory(cast: Cast, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """200 MB are allowed; a reading holds one chunk, whatever the length: here 30,000 rows, not stored."""
    monkeypatch.setattr(importing, "store_observations", lambda **told: len(told["hours"]))
    start = dt.datetime(2015, 1, 1, tzinfo=dt.UTC)
    path = tmp_path / "long.csv"
    with path.open("w") as out:
        out.write("time,air_c,wind_ms,humidity_frac\n")
        out.writelines(f"{(start + n * H).isoformat()},{-5 - n % 7},3.5,0.8\n" for n in range(30_000))
    tracemalloc.start()
    one = send(cast, path)
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert one.hours == 30_000
    assert most < 8 * 2**20
