"""The queue in a folder: whole messages, in order, and none forgotten before its work is done."""

from pathlib import Path

import pytest
from kombu import Connection, Queue

from rinklog.upkeep.folder_queue import Transport, folder_options, put_back

QUEUE = Queue("jobs", routing_key="jobs")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """An empty queue's folder."""
    folder_options(tmp_path)
    return tmp_path


def opened(folder: Path) -> Connection:
    """A connection to the queue."""
    return Connection(transport=Transport, transport_options=folder_options(folder))


def send(folder: Path, *words: str) -> None:
    """Queue some messages."""
    with opened(folder) as line, line.Producer(serializer="json") as producer:
        for word in words:
            producer.publish({"word": word}, routing_key="jobs", declare=[QUEUE])


def files(folder: Path, part: str) -> int:
    """How many files lie in a part of the queue."""
    return len(list((folder / part).iterdir()))


def test_messages_come_out_in_order_and_go_when_they_are_done(folder: Path) -> None:
    send(folder, "one", "two")
    with opened(folder) as line:
        channel = line.channel()
        first = QUEUE(channel).get()
        assert first is not None
        assert (files(folder, "tasks"), files(folder, "taken")) == (1, 1)
        first.ack()
        assert (files(folder, "tasks"), files(folder, "taken")) == (1, 0)
        second = QUEUE(channel).get()
        assert second is not None
        assert [first.payload["word"], second.payload["word"]] == ["one", "two"]
        second.ack()
        assert QUEUE(channel).get() is None


def test_a_message_half_written_is_left_alone(folder: Path) -> None:
    (folder / "tasks" / ".00000000000000000001_x.jobs.msg.draft").write_text('{"bo')
    with opened(folder) as line:
        assert QUEUE(line.channel()).get() is None


def test_a_message_given_back_comes_again(folder: Path) -> None:
    send(folder, "again")
    with opened(folder) as line:
        channel = line.channel()
        message = QUEUE(channel).get()
        assert message is not None
        message.requeue()
        assert (files(folder, "tasks"), files(folder, "taken")) == (1, 0)


def test_a_worker_that_died_leaves_its_message_to_the_next(folder: Path) -> None:
    send(folder, "unfinished")
    line = opened(folder)
    assert QUEUE(line.channel()).get() is not None  # and no word after that: the worker was killed
    assert put_back(folder) == 1
    with opened(folder) as later:
        message = QUEUE(later.channel()).get()
        assert message is not None
        assert message.payload == {"word": "unfinished"}
        message.ack()
    assert put_back(folder) == 0
