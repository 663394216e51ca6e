"""Real Redis and PostgreSQL servers in temporary folders, on ports of their own, ended by their process id."""

import os
import shutil
import socket
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.support.processes import end, free_port, wait_for


def answers(port: int) -> bool:
    """Whether something listens on a port of this machine."""
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) == 0


@pytest.fixture(scope="session")
def redis_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a Redis that keeps nothing."""
    program = shutil.which("redis-server")
    if not program:
        pytest.fail("redis-server is missing; install with:  sudo apt-get install -y redis-server")
    port, folder = free_port(), tmp_path_factory.mktemp("redis")
    command = [program, "--port", str(port), "--bind", "127.0.0.1", "--save", "", "--dir", str(folder)]
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL)
    try:
        wait_for(lambda: answers(port), seconds=20, what="Redis answers")
        yield f"redis://127.0.0.1:{port}/0"
    finally:
        process.terminate()
        process.wait(20)


@pytest.fixture(scope="session")
def postgres_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a PostgreSQL database that is thrown away."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
    if not found:
        pytest.fail("postgresql is missing; install with:  sudo apt-get install -y postgresql")
    port, folder = free_port(), Path("/tmp") / f"rinklog-pg-{os.getpid()}"
    folder.mkdir(mode=0o700)
    if os.geteuid() == 0:
        shutil.chown(folder, "postgres", "postgres")
    data, programs = folder / "data", found[-1].parent
    as_postgres([programs / "initdb", "-D", data, "-U", "rinklog", "-A", "trust", "-E", "UTF8", "--no-sync"])
    options = f"-p {port} -h 127.0.0.1 -k {folder} -c fsync=off"
    as_postgres([programs / "pg_ctl", "-D", data, "-w", "-o", options, "-l", folder / "log", "start"])
    pid = int((data / "postmaster.pid").read_text().split()[0])
    try:
        as_postgres([programs / "createdb", "-h", "127.0.0.1", "-p", port, "-U", "rinklog", "rinklog"])
        yield f"postgres://rinklog@127.0.0.1:{port}/rinklog"
    finally:
        end(pid)
        shutil.rmtree(folder, ignore_errors=True)


def as_postgres(command: list[object]) -> None:
    """Run as the user PostgreSQL insists on: it refuses root."""
    prefix = ["runuser", "-u", "postgres", "--"] if os.geteuid() == 0 else []
    subprocess.run(
        [*prefix, *map(str, command)],
        check=True,
        stdout=subprocess.DEVNULL,
        stdin=subprocess.DEVNULL,
        cwd="/",
        timeout=120,
    )
