"""Tonight says a suspected leak aloud, with what went in and what is there."""

from rinklog.advice.fill.leak import Missing
from rinklog.advice.items import Urgency
from rinklog.advice.rules import leak
from tests.advice.scene import scene


def test_a_leak_stands_on_tonight_among_what_can_hurt() -> None:
    (item,) = leak.items(scene(missing=Missing(10.0, 8.0, 2.0, 0.02, 0.2)))
    assert item.urgency == Urgency.DANGER
    assert item.say.values == {"water_in": ("water", 10.0), "there": ("water", 8.0), "level": ("depth", 0.02)}
    assert item.act is not None
    assert item.act.url_name == "first-fill"


def test_less_than_a_reading_can_be_wrong_by_is_not_said() -> None:
    assert leak.items(scene(missing=Missing(10.0, 9.5, 0.5, 0.005, 0.05))) == []
    assert leak.items(scene()) == []
