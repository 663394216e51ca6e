"""The command `simulate`: the contract's rows, and one clear line about everything wrong with a file."""

import csv
import io
import json
from datetime import UTC, datetime, timedelta

import pytest

from rinklog.simulate.cli import main

START = datetime(2026, 1, 10, tzinfo=UTC)
COLUMNS = [  # the contract's list, by hand
    *("time", "ice_mm", "white_ice_mm", "water_mm", "snow_mm", "slush_mm", "surface_c", "sun_wm2"),
    *("longwave_wm2", "sensible_wm2", "latent_wm2", "ground_wm2", "energy_residual_wm2", "mass_residual_mm"),
]


def run(*arguments):
    out, err = io.StringIO(), io.StringIO()
    status = main([str(a) for a in arguments], out, err)
    return status, out.getvalue(), err.getvalue()


def hour(n):
    return (START + timedelta(hours=n)).isoformat()


def weather(folder, lines, header="time,air_c", name="weather.csv"):
    path = folder / name
    path.write_text("\n".join([header, *lines]) + "\n", encoding="utf-8")
    return path


def cold(hours=24, skip=()):
    return [f"{hour(n)},-10" for n in range(hours) if n not in skip]


def refused(*arguments):
    status, out, err = run(*arguments)
    assert (status, out) == (2, "")
    assert "Traceback" not in err
    return err


def test_rows_have_the_columns_of_the_contract_and_the_times_of_the_file(tmp_path):
    status, out, _ = run("--weather", weather(tmp_path, cold(5)), "--ice-mm", 50)
    rows = list(csv.reader(io.StringIO(out)))
    assert status == 0
    assert rows[0] == COLUMNS
    assert [row[0] for row in rows[1:]] == [hour(n) for n in range(5)]


def test_water_under_air_of_minus_ten_freezes_as_ashton_says(tmp_path):
    # H 20, one day from open water: 46.698 mm (reference-values.md sec. 1 [C])
    arguments = ["--surface", "air", "--exchange-wm2k", 20, "--water-mm", 500, "--json"]
    status, out, _ = run("--weather", weather(tmp_path, cold()), *arguments)
    answer = json.loads(out)
    last = answer["rows"][-1]
    assert status == 0
    assert last["ice_mm"] == pytest.approx(46.698, rel=0.01)
    assert last["water_mm"] + last["ice_mm"] * 0.917 == pytest.approx(500, abs=0.01)
    assert answer["inputs"]["k_ice_wmk"] == 2.22
    assert answer["gaps"] == []


def test_a_step_gives_the_heat_that_froze_the_water(tmp_path):
    arguments = ["--surface", "air", "--exchange-wm2k", 20, "--water-mm", 500, "--json"]
    rows = json.loads(run("--weather", weather(tmp_path, cold()), *arguments)[1])["rows"]
    heat = sum(row["sensible_wm2"] for row in rows) * 3600
    latent = -rows[-1]["ice_mm"] / 1000 * 917 * 333_400
    assert heat == pytest.approx(latent, rel=0.03)  # the ice is also cooled, by a few per cent of it
    assert max(abs(row["energy_residual_wm2"]) for row in rows) <= 0.5


def test_a_gap_of_three_hours_is_told_and_bridged(tmp_path):
    path = weather(tmp_path, cold(24, skip=(7, 8, 9)))
    status, out, err = run("--weather", path, "--ice-mm", 50, "--json")
    answer = json.loads(out)
    assert status == 0
    assert hour(7) in err
    assert answer["gaps"] == [{"column": "time", "first_missing": hour(7), "hours": 3.0}]
    assert len(answer["rows"]) == 21


def test_a_longer_gap_stops_everything_and_names_its_first_hour(tmp_path):
    err = refused("--weather", weather(tmp_path, cold(24, skip=range(7, 12))))
    assert hour(7) in err
    assert "3 hours" in err


def test_blank_cells_are_gaps_of_their_column(tmp_path):
    lines = [f"{hour(n)},-10,{'' if 3 <= n < 8 else 0.8}" for n in range(12)]
    err = refused("--weather", weather(tmp_path, lines, "time,air_c,humidity_frac"))
    assert "humidity_frac" in err
    assert hour(3) in err


@pytest.mark.parametrize(
    ("lines", "header", "words"),
    [
        (["2026-01-10T00:00Z,-5,1"], "time,air_c,hail", ["line 1", "hail", "permitted"]),
        (["2026-01-10T00:00Z,-5,1"], "time,air_c,air_c", ["line 1", "air_c", "twice"]),
        (["2026-01-10T00:00Z"], "time", ["line 1", "air_c", "missing"]),
        (["2026-01-10T00:00,-5"], "time,air_c", ["line 2", "offset"]),
        (["noon,-5"], "time,air_c", ["line 2", "noon"]),
        (["2026-01-10T00:00Z,-5", "2026-01-10T00:00Z,-5"], "time,air_c", ["line 3", "twice", "line 2"]),
        (["2026-01-10T02:00Z,-5", "2026-01-10T01:00Z,-5"], "time,air_c", ["line 3", "before line 2"]),
        (["2026-01-10T00:00Z,-80"], "time,air_c", ["line 2", "-80", "-60 to 50"]),
        (["2026-01-10T00:00Z,nan"], "time,air_c", ["line 2", "nan"]),
        (["2026-01-10T00:00Z,cold"], "time,air_c", ["line 2", "cold"]),
        (["2026-01-10T00:00Z,-5,1048"], "time,air_c,wind_ms", ["line 2", "wind_ms", "1048", "0 to 60"]),
        (["2026-01-10T00:00Z,-5,7"], "time,air_c", ["line 2", "3 cells"]),
        ([], "time,air_c", ["no rows"]),
    ],
)
def test_a_bad_file_is_refused_with_its_line(tmp_path, lines, header, words):
    err = refused("--weather", weather(tmp_path, lines, header))
    for word in words:
        assert word in err


def test_an_empty_file_a_missing_one_and_another_encoding_are_refused(tmp_path):
    path = tmp_path / "odd.csv"
    assert "cannot be read" in refused("--weather", path)
    path.write_bytes(b"")
    assert "empty" in refused("--weather", path)
    path.write_bytes("time,air_c\n2026-01-10T00:00Z,−5\n".encode("utf-16"))
    assert "line 1" in refused("--weather", path)
    path.write_bytes(b"time,air_c\n2026-01-10T00:00Z,-5\xb0\n")
    assert "line 2" in refused("--weather", path)
    path.write_bytes(b"x" * 5_000_000)
    assert "longer than" in refused("--weather", path)


@pytest.mark.slow
def test_two_hundred_megabytes_are_refused_in_bounded_memory(tmp_path):
    import resource

    path = tmp_path / "huge.csv"
    with path.open("w") as file:
        file.write("time,air_c\n")
        block = 20_000
        for first in range(0, 6_000_000, block):
            stamps = (START + timedelta(seconds=n) for n in range(first, first + block))
            file.write("".join(f"{s.isoformat()},-5.0{'0' * 5}\n" for s in stamps))
            if file.tell() > 200e6:
                break
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    err = refused("--weather", path)
    assert "line 300002" in err
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 150_000  # kB


@pytest.mark.parametrize(
    ("option", "value"),
    [("--ice-mm", "-1"), ("--ice-mm", "nan"), ("--ice-mm", "thick"), ("--ice-c", "3"), ("--albedo", "1.2"),
     ("--step-minutes", "0"), ("--freezing-c", "inf"), ("--surface", "wood"), ("--colour", "blue")],
)  # fmt: skip
def test_a_bad_option_is_refused_in_one_line_that_names_it(tmp_path, option, value):
    err = refused("--weather", weather(tmp_path, cold(3)), option, value)
    assert option in err
    assert len(err.splitlines()) == 1


def test_actions_happen_at_their_time(tmp_path):
    actions = weather(
        tmp_path, [f"{hour(6)},flood,5,mm,5", f"{hour(12)},torch,334,kJ/m2,"], "time,action,amount,unit,water_c",
        "actions.csv",
    )  # fmt: skip
    arguments = ["--surface", "air", "--exchange-wm2k", 0, "--ice-mm", 50, "--json"]
    path = weather(tmp_path, cold())
    rows = json.loads(run("--weather", path, "--actions", actions, *arguments)[1])["rows"]
    assert rows[5]["water_mm"] == 0
    assert rows[6]["water_mm"] == pytest.approx(5 * (1 + 4190 * 5 / 333_400), rel=0.01)
    assert rows[12]["water_mm"] - rows[11]["water_mm"] == pytest.approx(334 / 333.4, rel=0.01)
    assert max(abs(row["energy_residual_wm2"]) for row in rows) <= 0.5


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (f"{hour(3)},dance,5,mm,", ["line 2", "dance", "flood"]),
        (f"{hour(300)},flood,5,mm,", ["line 2", "within the weather"]),
        (f"{hour(3)},flood,,mm,", ["line 2", "amount"]),
        (f"{hour(3)},flood,5,gallon,", ["line 2", "gallon", "mm"]),
        (f"{hour(3)},flood,5,mm,120", ["line 2", "water_c", "100"]),
        (f"{hour(3)},lay-cover,5,,", ["line 2", "amount"]),
    ],
)
def test_a_bad_action_is_refused_with_its_line(tmp_path, line, words):
    actions = weather(tmp_path, [line], "time,action,amount,unit,water_c", "actions.csv")
    err = refused("--weather", weather(tmp_path, cold()), "--actions", actions)
    for word in words:
        assert word in err


def test_measured_snow_is_shown_and_weighs_nothing(tmp_path):
    lines = [f"{hour(n)},-10,0.1,1" for n in range(6)]
    path = weather(tmp_path, lines, "time,air_c,snow_m,precip_mm")
    status, out, _ = run("--weather", path, "--ice-mm", 100, "--json")
    rows = json.loads(out)["rows"]
    assert status == 0
    assert {row["snow_mm"] for row in rows} == {100.0}
    assert max(abs(row["mass_residual_mm"]) for row in rows) <= 0.01


def test_rows_go_to_a_file_when_asked(tmp_path):
    out = tmp_path / "rows.csv"
    status, shown, _ = run("--weather", weather(tmp_path, cold(3)), "--csv", out)
    assert (status, shown) == (0, "")
    assert out.read_text().splitlines()[0] == ",".join(COLUMNS)
