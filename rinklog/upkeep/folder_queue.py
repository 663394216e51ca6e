"""The task queue as a folder: kombu's own transport, with whole files and with nothing forgotten in flight.

Kombu's writes a message into the very file that a worker may be picking up (a half-written one ends the worker), and
deletes it before the work is done. Here a message appears by a rename, is set aside while it is worked on, and is
deleted when it is done; a worker that starts puts back what an earlier one left.
"""

import os
import time
from pathlib import Path
from queue import Empty
from typing import Any
from uuid import uuid4

from kombu.transport import filesystem
from kombu.utils.json import dumps, loads


class Channel(filesystem.Channel):
    """Messages are files `TIME_ID.QUEUE.msg`: in the tasks folder while they wait, in the taken one while worked on."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[no-untyped-call]
        self.taken: dict[str, Path] = {}

    def _put(self, queue: str, payload: Any, **kwargs: Any) -> None:  # type: ignore[override]
        place = Path(self.data_folder_out) / f"{time.time_ns():020d}_{uuid4()}.{queue}.msg"
        draft = place.with_name(f".{place.name}.draft")
        draft.write_text(dumps(payload))
        draft.rename(place)

    def _get(self, queue: str, timeout: float | None = None) -> Any:
        for name in sorted(os.listdir(self.data_folder_in)):
            if not name.endswith(f".{queue}.msg"):
                continue
            place = Path(self.processed_folder) / name
            try:
                (Path(self.data_folder_in) / name).rename(place)
            except FileNotFoundError:
                continue  # another worker was quicker
            payload = loads(place.read_text())
            self.taken[payload["properties"]["delivery_tag"]] = place
            return payload
        raise Empty

    def basic_ack(self, delivery_tag: str, multiple: bool = False) -> None:
        """The work is done: forget the message."""
        super().basic_ack(delivery_tag, multiple)  # type: ignore[no-untyped-call]
        self._forget(delivery_tag)

    def basic_reject(self, delivery_tag: str, requeue: bool = False) -> None:
        """The work is given back (kombu has put it again) or given up."""
        super().basic_reject(delivery_tag, requeue)  # type: ignore[no-untyped-call]
        self._forget(delivery_tag)

    def _forget(self, delivery_tag: str) -> None:
        if place := self.taken.pop(delivery_tag, None):
            place.unlink(missing_ok=True)


class Transport(filesystem.Transport):
    """The transport named `filesystem://`, with the channel above."""

    Channel = Channel


def folder_options(folder: Path) -> dict[str, Any]:
    """Make the folders of a queue, and say where they are in kombu's words."""
    tasks, taken, control = (folder / part for part in ("tasks", "taken", "control"))
    for part in (tasks, taken, control):
        part.mkdir(parents=True, exist_ok=True)
    return {
        "data_folder_in": str(tasks),
        "data_folder_out": str(tasks),
        "control_folder": str(control),
        "processed_folder": str(taken),
        "store_processed": True,
        "polling_interval": 0.2,
    }


def put_back(folder: Path) -> int:
    """Put back what an earlier worker had taken and not finished; returns how many. Only while no other worker runs."""
    left = sorted((folder / "taken").glob("*.msg"))
    for message in left:
        message.rename(folder / "tasks" / message.name)
    return len(left)
