"""The task queue: the one place that puts a task on it, and whether it takes messages."""

import logging
import os
import time
from functools import partial
from typing import Any

from celery import Task, current_app
from django.db import transaction
from kombu.exceptions import ChannelError, ConnectionError, KombuError

log = logging.getLogger(__name__)
UNREACHABLE = (OSError, KombuError, ChannelError, ConnectionError)
SLOW_S = 0.5
PAUSE_S = 20.0


class _Pause:
    """Until when this process leaves a broker alone that made somebody wait [s of the monotonic clock]."""

    ends = 0.0


def soon(task: "Task[Any, Any]", *ids: object) -> None:
    """Queue a task once what is being written is committed, with ids only; never raises for the broker's sake.

    Rows are the truth and messages hints: what the queue does not take costs minutes, because a sweep finds the row.
    """
    transaction.on_commit(partial(_queue, task, [str(one) for one in ids]))


def _queue(task: "Task[Any, Any]", ids: list[str]) -> None:
    """Hand one message to the broker, unless it lately made somebody wait."""
    began = time.monotonic()
    if began < _Pause.ends:
        log.info("%s %s waits for the sweep: the queue rests", task.name, ids)
        return
    try:
        task.apply_async(ids, retry=False)
    except UNREACHABLE as error:
        log.warning("%s %s waits for the sweep: the queue did not take it (%s)", task.name, ids, error)
        if time.monotonic() - began > SLOW_S:
            _Pause.ends = time.monotonic() + PAUSE_S


def queue_answers() -> bool:
    """Whether the broker can be reached within seconds; a folder is reached when it can be written."""
    with current_app.connection_for_write(connect_timeout=2) as connection:
        channel = connection.default_channel
        folder = getattr(channel, "data_folder_out", None)
        if folder is not None:
            return os.access(folder, os.W_OK | os.X_OK)
        return bool(channel.client.ping())
