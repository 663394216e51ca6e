"""`up` as a person starts it: real processes, real ports, and none left behind."""

import os
import signal
import socket
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.support.populated import phone_on
from tests.support.processes import free_port, living, parents, wait_for
from tests.support.site import Site, command_line, wait_until_gone
from tests.support.sqlite import execute

pytestmark = [pytest.mark.servers, pytest.mark.slow]
StartSite = Callable[..., Site]


def test_a_first_start_is_healthy_and_serves_both_ways_and_offers_the_claim(site: Site) -> None:
    status, parts = site.health()
    assert (status, parts["database"], parts["queue"], parts["worker"]) == (200, True, True, True)
    assert site.fetch("/health")[0] == 200
    assert site.claim_path
    assert "\n" not in site.claim_path


def test_an_interrupt_stops_every_process(site: Site) -> None:
    before = site.processes()
    assert len(before) >= 8, [command_line(pid) for pid in before]
    assert site.stop(signal.SIGINT) == set()
    assert site.process.returncode == 0


def test_a_killed_parent_leaves_no_process(site: Site) -> None:
    assert site.stop(signal.SIGKILL) == set()


@pytest.mark.parametrize("word", ["gunicorn", " worker ", " beat "])
def test_a_killed_child_is_started_again_and_its_own_children_end(site: Site, word: str) -> None:
    masters = {pid for pid in site.children(word) if parent(pid) == site.process.pid}
    victim = min(masters)
    below = {pid for pid in site.processes() if parent(pid) == victim}
    os.kill(victim, signal.SIGKILL)
    wait_until_gone(below | {victim}, seconds=10)
    assert living(below | {victim}) == set()
    wait_for(lambda: len(site.children(word)) >= len(masters), seconds=20, what=f"{word} is back")
    site.wait_until_healthy()


def test_a_worker_that_does_not_come_back_makes_the_site_unhealthy(start_site: StartSite) -> None:
    site = start_site().wait_until_healthy()
    for pid in site.children("celery"):
        os.kill(pid, signal.SIGSTOP)
    execute(site.data / "rinklog.sqlite3", "UPDATE upkeep_heartbeat SET at = '2020-01-01 00:00:00'")
    status, parts = site.health()
    for pid in site.children("celery"):
        os.kill(pid, signal.SIGCONT)
    assert status == 503
    assert parts["worker"] is False
    assert set(parts) == {"database", "queue", "worker", "version"}


def test_a_second_start_replaces_the_claim_link_and_keeps_key_and_certificate(start_site: StartSite) -> None:
    first = start_site().wait_until_healthy()
    kept = [(first.data / name).read_bytes() for name in ("secret-key", "tls/certificate.pem")]
    claim = first.claim_path
    first.stop()
    second = start_site().wait_until_healthy()
    assert second.claim_path
    assert second.claim_path != claim
    assert [(second.data / name).read_bytes() for name in ("secret-key", "tls/certificate.pem")] == kept


def test_two_sites_run_side_by_side_but_not_on_one_folder(start_site: StartSite) -> None:
    one = start_site().wait_until_healthy()
    start_site(name="other").wait_until_healthy()
    third = start_site()
    assert third.process.wait(30) == 1
    assert "another `up` already serves" in third.complained.read_text()
    assert one.health()[0] == 200


def test_the_demo_says_who_can_sign_in_at_every_start_and_needs_no_claim(start_site: StartSite) -> None:
    first = start_site("--demo").wait_until_healthy()
    assert "Sign in with the password" in first.banner
    assert first.claim_path == ""
    first.stop()
    second = start_site().wait_until_healthy()
    assert "Everybody who reads this can sign in" in second.banner


def test_the_demo_never_joins_a_site_that_has_people(start_site: StartSite) -> None:
    site = start_site().wait_until_healthy()
    phone_on(site)
    site.stop()
    again = start_site("--demo")
    assert again.process.wait(30) == 1
    assert "has people of its own" in again.complained.read_text()
    assert execute(site.data / "rinklog.sqlite3", "SELECT count(*) FROM rink_rink") == [(2,)]


def test_a_taken_port_is_one_sentence(tmp_path: Path) -> None:
    with socket.socket() as holder:
        holder.bind(("0.0.0.0", 0))
        holder.listen()
        ended = up("--port", str(holder.getsockname()[1]), "--data", str(tmp_path))
    assert ended.returncode == 1
    assert ended.stdout == ""
    assert "cannot be used (Address already in use); give another with --port." in ended.stderr
    assert ended.stderr.count("\n") == 1


def test_a_port_out_of_range_is_one_sentence(tmp_path: Path) -> None:
    ended = up("--port", "70000", "--data", str(tmp_path))
    assert ended.returncode == 1
    assert "port 70000 cannot be used" in ended.stderr
    assert "Traceback" not in ended.stderr


def test_a_data_folder_that_cannot_be_made_is_one_sentence() -> None:
    ended = up("--port", str(free_port()), "--data", "/proc/no-such-place")
    assert ended.returncode == 1
    assert "/proc/no-such-place" in ended.stderr
    assert "Traceback" not in ended.stderr


def test_behind_a_proxy_there_is_plain_http_only(start_site: StartSite) -> None:
    site = start_site(RINKLOG_BEHIND_PROXY="1").wait_until_healthy()
    assert "https://" not in site.banner
    assert not site.children("--certfile")


def test_redis_and_postgres_serve_as_well(
    start_site: StartSite, redis_server: str, postgres_server: str
) -> None:
    site = start_site(CELERY_BROKER_URL=redis_server, DATABASE_URL=postgres_server).wait_until_healthy()
    assert site.health()[1]["queue"] is True
    assert not (site.data / "rinklog.sqlite3").exists()


def test_a_broker_that_is_not_there_makes_the_site_unhealthy_but_served(start_site: StartSite) -> None:
    site = start_site(CELERY_BROKER_URL=f"redis://127.0.0.1:{free_port()}/0")
    wait_for(lambda: site.health()[0] == 503, seconds=30, what="/health answers 503")
    assert site.health()[1]["queue"] is False


def up(*arguments: str) -> "subprocess.CompletedProcess[str]":
    """Run an `up` that is expected to end by itself."""
    command = [sys.executable, "manage.py", "up", *arguments]
    return subprocess.run(command, capture_output=True, text=True, timeout=60, stdin=subprocess.DEVNULL)


def parent(pid: int) -> int:
    """A process's parent."""
    return parents().get(pid, 0)
