"""kill -9 between and during posts: what was acknowledged is there, once, whatever died."""

import signal
from collections.abc import Callable
from uuid import UUID

import pytest

from tests.support.populated import Phone, new_id, phone_on
from tests.support.processes import kill_one, parents, wait_for
from tests.support.site import Site

pytestmark = [pytest.mark.servers, pytest.mark.slow]
KILLS = 50


def web_workers(site: Site) -> list[int]:
    """The workers of the plain web server, the master left out."""
    masters = [pid for pid in site.children("gunicorn") if parents().get(pid) == site.process.pid]
    plain = [pid for pid in masters if pid not in site.children("--certfile")]
    return [pid for pid, parent in parents().items() if parent in plain]


def kill_a_web_worker(site: Site) -> None:
    """End one worker at once."""
    kill_one(lambda: web_workers(site), what="a web worker")


def post_until_answered(phone: Phone, id: UUID, litres: int) -> None:
    """Do as a phone does: silence or a 5xx means once more with the same id."""
    wait_for(lambda: phone.post_flood(id, litres=litres) == 302, seconds=60, what=f"{id} is acknowledged")


def test_fifty_kills_between_posts_lose_nothing_acknowledged(site: Site) -> None:
    phone = phone_on(site)
    sent: dict[UUID, float] = {}
    for turn in range(KILLS):
        id = new_id()
        post_until_answered(phone, id, litres=100 + turn)
        sent[id] = (100 + turn) / 1000
        kill_a_web_worker(site)
    assert dict(phone.stored()) == pytest.approx(sent)
    assert len(phone.stored()) == KILLS


def test_kills_during_posts_store_each_flood_once(site: Site) -> None:
    phone = phone_on(site)
    sent = set()
    for _turn in range(20):
        id = new_id()
        phone.post_flood(id, litres=100, hang_up=True)
        kill_a_web_worker(site)
        post_until_answered(phone, id, litres=100)
        sent.add(id)
    assert sorted(id for id, _ in phone.stored()) == sorted(sent)


def test_a_killed_site_started_again_has_every_acknowledged_flood(start_site: Callable[..., Site]) -> None:
    site = start_site().wait_until_healthy()
    phone = phone_on(site)
    sent = [new_id() for _ in range(6)]
    for number, id in enumerate(sent):
        post_until_answered(phone, id, litres=100)
        if number % 2:
            assert site.stop(signal.SIGKILL) == set()
            phone.site = site = start_site().wait_until_healthy()
    assert sorted(id for id, _ in phone.stored()) == sorted(sent)
