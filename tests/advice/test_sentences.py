"""Every sentence of the advice: it exists, it is used, and it shows exactly the numbers it was given."""

import re
from pathlib import Path
from typing import Any

import pytest

from rinklog.advice.items import Item
from rinklog.advice.repair import Sunlit, ways
from rinklog.advice.rules import advice
from rinklog.advice.said import Said
from rinklog.advice.sentences import ACTS, SENTENCES
from rinklog.advice.situation import HoleAsked, HoleNow, NightFault, Situation, SnowLoss, TarpDay
from rinklog.advice.wording import chance_text, wording
from tests.advice.scene import HOUR, NOW, exactly, hazard, hours, scene, window, zone

SOURCE = Path(__file__).parents[2] / "rinklog"


def scenes() -> list[Situation]:
    """Situations that make the rules say most of what they can."""
    snowed = zone(snow_m=exactly(0.05), thickness_m=exactly(0.05), water_under_m=0.1, wears=True)
    wet = zone(2, wet_m=exactly(0.003))
    loss = SnowLoss(NOW + 24 * HOUR, 0.012, 0.004, 15.5)
    tarp = TarpDay(NOW + 16 * HOUR, NOW + 20 * HOUR, 0.006)
    holes = tuple(HoleNow(NOW - HOUR, "A1", 0.12) for _ in range(3))
    asked = (HoleAsked("e1", "A1", 0.9, 0.1), HoleAsked("e2", "A2", 0.9, 0.1))
    windows = (window(spoilers=("wind", "sun"), factor=1.2),)
    reasons = ("warm", "mild", "wind", "snow", "rain", "wet", "short", "late")
    faults = [NightFault(why, NOW, 1.0, 0.4, -8.0, 2.0) for why in reasons]
    old = hazard(found_at=NOW - 99 * HOUR)
    rich = scene(zones=(snowed, wet), windows=windows, snow_loss=loss, tarp=tarp, hazards=(old,),
                 questions=asked, hours=hours(-6.0), ice_known=False)  # fmt: skip
    return [
        rich,
        scene(holes=holes, windows=windows, hours=hours(-15.0), wet_until={2: NOW + HOUR}, zones=(wet,)),
        scene(hours=hours([-3.0] * 4 + [4.0] * 60, precip_mm=1.0), zones=(snowed,)),
        scene(hours=hours(-4.0, precip_mm=1.0), zones=(snowed,)),
        scene(hours=hours(-24.0), windows=windows),
        *(scene(fault=one, windows=(window(starts_at=NOW + 30 * HOUR),)) for one in faults),
    ]


def everything_said() -> list[Said]:
    said = []
    for situation in scenes():
        for item in advice(situation):
            said += [item.say, *item.why]
        for kind in ("bump", "crack", "rut", "shell-ice"):
            for weather in (
                Sunlit({"slush-pack": 3.0}, NOW, situation.tarp),
                Sunlit({}, weather_known=False),
            ):
                said += [why for way in ways(hazard(kind=kind), weather, []) for why in way.why]
    return said


def places(id: str) -> set[str]:
    return set(re.findall(r"%\((\w+)\)s", str(SENTENCES[id])))


def test_every_number_that_was_given_stands_in_the_sentence_and_no_other() -> None:
    seen = {one.id: one for one in everything_said()}
    assert len(seen) >= 45
    wrong = {
        id: places(id) ^ set(one.values)
        for id, one in seen.items()
        if places(id) - set(one.values) or set(one.values) - places(id) - {"many"}
    }
    assert wrong == {}


def test_sentences_are_worded_with_the_values_themselves() -> None:
    def show(quantity: str, value: Any) -> str:
        return f"<{quantity}:{value}>"

    for one in everything_said():
        words = wording(one, show)
        for name, (quantity, value) in one.values.items():
            if (
                quantity in ("depth", "temperature", "moment", "coat", "speed", "time", "count", "rain")
                and name != "many"
            ):
                assert f"<{quantity}:{value}>" in words


@pytest.mark.parametrize(
    ("share", "words"), [(1.0, "over 95 %"), (0.95, "95 %"), (0.8, "80 %"), (0.05, "5 %"), (0.0, "under 5 %")]
)
def test_twenty_members_that_agree_are_not_called_certainty(share: float, words: str) -> None:
    # Laplace: 20 of 20 says 21/22
    assert chance_text(share) == words


def test_rules_and_sentences_know_each_other() -> None:
    code = "\n".join(
        path.read_text() for path in (SOURCE / "advice").rglob("*.py") if path.name != "sentences.py"
    )
    said = set(re.findall(r'say\(\s*"([a-z]+\.[a-z-]+)"', code))
    assert said <= set(SENTENCES)
    by_reason = {f"flood.not-{why}" for why in ("mild", "snow", "rain", "wet", "short", "late")}
    unused = set(SENTENCES) - said - by_reason
    assert {id for id in unused if f'"{id}"' not in code} == set()


@pytest.mark.parametrize(
    "item", [item for situation in scenes() for item in advice(situation)], ids=lambda item: item.key
)
def test_every_item_has_a_source_and_its_tap_has_a_label(item: Item) -> None:
    assert item.source
    assert item.act is None or item.act.label in ACTS
