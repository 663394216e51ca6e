"""The set-up pages give the same numbers as the command, in the person's units, and refuse what it refuses."""

import io
import json
import re
from html import unescape

import pytest
from django.test import Client

from rinklog.calculators import cli
from rinklog.calculators.registry import GROUPS
from rinklog.web.measures import METRIC
from rinklog.web.tools.samples import SAMPLES
from rinklog.web.tools.values import field_text, from_calculator
from tests.support.cast import Cast

PLACES = [(group.slug, calculator.name) for group in GROUPS for calculator in group.calculators]


@pytest.fixture
def eli(cast: Cast, client: Client) -> Client:
    client.force_login(cast.eli)
    return client


def ask(client: Client, cast: Cast, group: str, name: str, **values: object) -> tuple[int, str]:
    answer = client.get(f"/r/{cast.rink.slug}/tools/{group}/", {"name": name} | values)
    return answer.status_code, unescape(answer.content.decode())


def command(name: str, **values: object) -> dict[str, object]:
    """What `manage.py compute` prints as JSON."""
    out = io.StringIO()
    status = cli.main(
        [name, *(f"{key}={value}" for key, value in values.items()), "--json"], out, io.StringIO()
    )
    assert status == 0
    return json.loads(out.getvalue())["results"]


@pytest.mark.parametrize(("group", "name"), [place for place in PLACES if place[1] not in ("hold", "sun")])
def test_a_page_shows_the_numbers_of_the_command(eli: Client, cast: Cast, group: str, name: str) -> None:
    values = SAMPLES[name]
    declared = next(c for g in GROUPS for c in g.calculators if c.name == name)
    typed = {
        key.name: field_text(values[key.name], key, METRIC) for key in declared.keys if key.name in values
    }
    status, page = ask(eli, cast, group, name, **typed)
    assert status == 200
    shown = 0
    for key, value in command(name, **values).items():
        unit = next(result.unit for result in declared.results if result.name == key)
        if isinstance(value, float):
            number = from_calculator(value, unit, METRIC)
            assert f"{number.text} {number.unit}".strip() in page, key
            shown += 1
    assert shown or name == "corner"
    assert "Source" in page


def test_a_coat_of_a_published_case_takes_its_published_time(eli: Client, cast: Cast) -> None:
    # 4.58 mm of water at -10 °C and 20 W/m²/K: 2.1685 h (closed form, computed apart with scipy; 0.5 %).
    _status, page = ask(
        eli, cast, "freezing-and-thaw", "coat-freeze", water_mm="4.58", air_c="-10", exchange_wm2k="20"
    )
    hours = float(re.search(r"frozen through.*?<dd>([\d.]+) h", page, re.DOTALL)[1])  # type: ignore[index]
    assert hours == pytest.approx(2.1685, rel=0.005)


def test_inches_and_fahrenheit_give_the_same_answer_as_millimetres_and_celsius(
    cast: Cast, client: Client
) -> None:
    cast.eli.depth_unit, cast.eli.temperature_unit = "in", "F"
    cast.eli.save()
    client.force_login(cast.eli)
    # 14 °F are −10 °C and 4.58 mm are 0.180315 in (NIST SP 811: 1 in = 25.4 mm exactly).
    _status, page = ask(
        client, cast, "freezing-and-thaw", "coat-freeze", water_mm="0.180315", air_c="14", exchange_wm2k="20"
    )
    hours = float(re.search(r"frozen through.*?<dd>([\d.]+) h", page, re.DOTALL)[1])  # type: ignore[index]
    assert hours == pytest.approx(2.1685, rel=0.005)
    _status, mixed = ask(
        client,
        cast,
        "freezing-and-thaw",
        "coat-freeze",
        water_mm="4.58 mm",
        air_c="-10 C",
        exchange_wm2k="20",
    )
    assert f"{hours:g} h" in mixed


@pytest.mark.parametrize("text", ["much", "nan", "inf", "-61", "@/etc/hostname", "1e999", "--"])
def test_bad_input_is_one_sentence_with_the_value_and_the_range_and_422(
    eli: Client, cast: Cast, text: str
) -> None:
    status, page = ask(
        eli, cast, "freezing-and-thaw", "coat-freeze", water_mm="5", air_c=text, exchange_wm2k="20"
    )
    assert status == 422
    assert f"Air temperature is “{text}”; allowed is -60 to 50 °C." in page
    assert "frozen through</dt>" not in page


def test_a_file_of_the_server_is_never_read(eli: Client, cast: Cast) -> None:
    status, page = ask(eli, cast, "tools-and-repairs", "hold", data="@/etc/passwd")
    assert status == 422
    assert "root:" not in page


def test_ice_frozen_to_the_liner_is_refused_with_the_reason(eli: Client, cast: Cast) -> None:
    status, page = ask(eli, cast, "freezing-and-thaw", "bearing", base="frozen", clear_mm="200")
    assert status == 422
    assert "the rule is for ice floating on water; ice frozen to the liner or the ground rests on it" in page


def test_nothing_on_the_pages_calls_ice_safe(eli: Client, cast: Cast) -> None:
    for group in GROUPS:
        for calculator in group.calculators:
            _status, page = ask(eli, cast, group.slug, calculator.name, **SAMPLES.get(calculator.name, {}))
            page = page.replace("No ice is safe ice", "")  # what the guidance itself says
            assert not re.search(r"\b(is|are) safe\b", page)


def test_the_cautions_of_the_job_stand_where_the_number_is(eli: Client, cast: Cast) -> None:
    wanted = {
        ("tools-and-repairs", "torch"): ("extinguisher", "two"),
        ("water-and-boards", "board-load"): ("checked",),
        ("freezing-and-thaw", "bearing"): ("drill",),
        ("tools-and-repairs", "pour"): ("carbon-monoxide",),
    }
    for (group, name), words in wanted.items():
        page = ask(eli, cast, group, name, **SAMPLES[name])[1].lower()
        assert all(word in page for word in words), name
