"""Putting tasks on the queue: after the commit, once, and never at the expense of whoever posts. Real sockets."""

import socket
import time
from collections.abc import Iterator
from typing import Any

import pytest
from celery import Celery
from django.db import transaction

from rinklog.celery import transport_options
from rinklog.upkeep import queue
from tests.support.processes import free_port

# What somebody at the boards does not notice; a refused connection takes some milliseconds.
AT_ONCE_S = 1.0


@pytest.fixture(autouse=True)
def _rested(monkeypatch: pytest.MonkeyPatch) -> None:
    """No test meets the pause of another."""
    monkeypatch.setattr(queue._Pause, "ends", 0.0)


def a_task(port: int, **options: Any) -> Any:
    """A task of an app of its own, whose broker is at a port of this machine."""
    url = f"redis://127.0.0.1:{port}/0"
    app = Celery("apart", broker=url, set_as_current=False)
    app.conf.broker_transport_options = transport_options(url) | options

    @app.task(name="apart.job")
    def job(id: str) -> None:
        """Do nothing."""

    return job


class Counting:
    """Stands where a task would, and counts what it is given."""

    name = "counting"

    def __init__(self) -> None:
        self.given: list[list[str]] = []

    def apply_async(self, ids: list[str], **_: object) -> None:
        self.given.append(ids)


@pytest.fixture
def mute_port() -> Iterator[int]:
    """A port where somebody listens and never answers, as a broker that hangs does."""
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        listener.listen(8)
        yield listener.getsockname()[1]


@pytest.mark.django_db(transaction=True)
def test_a_task_is_queued_after_the_commit_and_a_row_taken_back_queues_nothing() -> None:
    task: Any = Counting()
    with transaction.atomic():
        queue.soon(task, 7)
        assert task.given == []
    assert task.given == [["7"]]
    with transaction.atomic():
        queue.soon(task, 8)
        transaction.set_rollback(True)
    assert task.given == [["7"]]


@pytest.mark.django_db(transaction=True)
def test_a_dead_broker_costs_a_post_no_time_and_no_error(caplog: pytest.LogCaptureFixture) -> None:
    task, began = a_task(free_port()), time.monotonic()
    with transaction.atomic():
        queue.soon(task, 7)
    assert time.monotonic() - began < AT_ONCE_S
    assert "waits for the sweep" in caplog.text


@pytest.mark.django_db(transaction=True)
def test_after_a_broker_made_one_post_wait_the_next_ones_do_not(
    mute_port: int, caplog: pytest.LogCaptureFixture
) -> None:
    task = a_task(mute_port, socket_timeout=0.7)
    queue.soon(task, 7)
    assert "waits for the sweep" in caplog.text
    began = time.monotonic()
    for id in range(20):
        queue.soon(task, id)
    assert time.monotonic() - began < 0.2


@pytest.mark.django_db(transaction=True)
def test_the_pause_ends_by_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    task: Any = Counting()
    monkeypatch.setattr(queue._Pause, "ends", time.monotonic() + 0.05)
    queue.soon(task, 1)
    time.sleep(0.06)
    queue.soon(task, 2)
    assert task.given == [["2"]]


@pytest.mark.servers
@pytest.mark.django_db(transaction=True)
def test_a_broker_that_is_there_gets_the_message(redis_server: str) -> None:
    task = a_task(int(redis_server.rsplit(":", 1)[1].split("/")[0]))
    queue.soon(task, 7)
    with task.app.connection_for_read() as connection:
        message = connection.SimpleQueue("celery").get(timeout=5)
        message.ack()
    assert message.payload[0] == ["7"]
