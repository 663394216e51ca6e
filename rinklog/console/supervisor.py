"""Keeps a few child processes running, writes what they say to log files, and ends them all together."""

import logging
import os
import re
import selectors
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from logging.handlers import RotatingFileHandler
from pathlib import Path
from typing import IO

TETHER = Path(__file__).with_name("tether.py")
FIRST_PAUSE_S = 0.5
LONGEST_PAUSE_S = 30.0
STEADY_S = 60.0
ALARM = re.compile(r"\b(ERROR|CRITICAL)\b|^Traceback|^\S*(Error|Exception): ")


@dataclass
class Child:
    """One process to keep running."""

    name: str
    command: Sequence[str]
    environ: Mapping[str, str]
    sockets: Sequence[int] = ()
    process: subprocess.Popen[bytes] | None = None
    started_s: float = 0.0
    pause_s: float = FIRST_PAUSE_S
    due_s: float = 0.0
    rest: bytes = b""
    log: logging.Handler = field(default_factory=logging.NullHandler)


class Supervisor:
    """Starts children, restarts those that end with growing pauses, and stops all of them on a signal."""

    def __init__(
        self, log_dir: Path, *, patience_s: float = 12.0, report: Callable[[str], None] | None = None
    ) -> None:
        self.log_dir = log_dir
        self.patience_s = patience_s
        self.report = report or (lambda sentence: print(f"rinklog: {sentence}", file=sys.stderr, flush=True))
        self.children: list[Child] = []
        self.selector = selectors.DefaultSelector()
        self.stopping = False

    def add(self, child: Child) -> None:
        """Take a child in; `run` starts it."""
        self.log_dir.mkdir(parents=True, exist_ok=True)
        child.log = RotatingFileHandler(self.log_dir / f"{child.name}.log", maxBytes=2_000_000, backupCount=3)
        self.children.append(child)

    def run(self) -> None:
        """Work until a signal asks to stop."""
        self._catch_signals()
        try:
            while not self.stopping:
                self._start_due()
                self._read(0.5)
                self._note_ended()
        finally:
            self._stop_all()

    def _catch_signals(self) -> None:
        """Any of these ends the loop; the byte written to the pipe wakes it at once."""
        reader, writer = os.pipe2(os.O_NONBLOCK | os.O_CLOEXEC)
        signal.set_wakeup_fd(writer, warn_on_full_buffer=False)
        self.selector.register(reader, selectors.EVENT_READ)
        for sign in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            signal.signal(sign, self._ask_to_stop)
        signal.signal(signal.SIGCHLD, lambda *_: None)

    def _ask_to_stop(self, *_: object) -> None:
        self.stopping = True

    def _start_due(self) -> None:
        now = time.monotonic()
        for child in self.children:
            if child.process is None and now >= child.due_s:
                self._start(child, now)

    def _start(self, child: Child, now: float) -> None:
        # A session of its own: Ctrl-C reaches only this process, which then stops the others in order.
        child.process = subprocess.Popen(
            [sys.executable, "-S", str(TETHER), str(os.getpid()), *child.command],
            env=dict(child.environ),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            pass_fds=tuple(child.sockets),
            start_new_session=True,
        )
        child.started_s = now
        assert child.process.stdout is not None
        os.set_blocking(child.process.stdout.fileno(), False)
        self.selector.register(child.process.stdout, selectors.EVENT_READ, child)

    def _read(self, wait_s: float) -> None:
        """Take in what the children said meanwhile."""
        for key, _ in self.selector.select(wait_s):
            if isinstance(key.data, Child):
                self._take(key.data, key.fileobj)  # type: ignore[arg-type]
            else:
                os.read(key.fd, 512)

    def _take(self, child: Child, pipe: IO[bytes]) -> None:
        said = pipe.read(65536)
        if said == b"":
            self.selector.unregister(pipe)
            pipe.close()
            return
        *lines, child.rest = (child.rest + (said or b"")).split(b"\n")
        for line in lines:
            self._write(child, line.decode(errors="replace"))

    def _write(self, child: Child, line: str) -> None:
        child.log.emit(logging.LogRecord(child.name, logging.INFO, "", 0, line, None, None))
        if ALARM.search(line):
            print(f"{child.name}: {line}", file=sys.stderr, flush=True)

    def _note_ended(self) -> None:
        """Plan the restart of a child that ended by itself; the pause doubles while it keeps failing."""
        now = time.monotonic()
        for child in self.children:
            if child.process is None or child.process.poll() is None:
                continue
            status = child.process.returncode
            if now - child.started_s > STEADY_S:
                child.pause_s = FIRST_PAUSE_S
            self.report(
                f"{child.name} ended ({status}); starting it again in {child.pause_s:g} s, see its log"
            )
            child.process, child.due_s = None, now + child.pause_s
            child.pause_s = min(child.pause_s * 2, LONGEST_PAUSE_S)

    def _stop_all(self) -> None:
        """Ask every child to end, wait a while, then end what is left."""
        running = [child for child in self.children if child.process is not None]
        for child in running:
            self._signal(child, signal.SIGTERM)
        deadline = time.monotonic() + self.patience_s
        while running and time.monotonic() < deadline:
            self._read(0.1)
            running = [child for child in running if child.process and child.process.poll() is None]
        for child in running:
            self._signal(child, signal.SIGKILL)

    def _signal(self, child: Child, sign: signal.Signals) -> None:
        """Signal the process alone to ask, its whole group to end it."""
        assert child.process is not None
        try:
            if sign == signal.SIGKILL:
                os.killpg(child.process.pid, sign)
                child.process.wait()
            else:
                child.process.send_signal(sign)
        except ProcessLookupError:
            pass
