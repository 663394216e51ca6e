"""Real Redis and PostgreSQL servers in temporary folders, on ports of their own, ended by their process id."""

import os
import shutil
import socket
import subprocess
from collections.abc import Iterator
from pathlib import Path
from uuid import uuid4

import pytest

from tests.support.processes import end, free_port, wait_for


def answers(port: int) -> bool:
    """Whether something listens on a port of this machine."""
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) == 0


@pytest.fixture
def redis_server(redis_port: int) -> str:
    """The address of an empty Redis: messages of another test would be carried out in this one."""
    with socket.create_connection(("127.0.0.1", redis_port), timeout=10) as line:
        line.sendall(b"FLUSHALL\r\n")
        assert line.recv(64).startswith(b"+OK")
    return f"redis://127.0.0.1:{redis_port}/0"


@pytest.fixture(scope="session")
def redis_port(tmp_path_factory: pytest.TempPathFactory) -> Iterator[int]:
    """The port of a Redis that keeps nothing."""
    program = shutil.which("redis-server")
    if not program:
        pytest.fail("redis-server is missing; install with:  sudo apt-get install -y redis-server")
    port, folder = free_port(), tmp_path_factory.mktemp("redis")
    command = [program, "--port", str(port), "--bind", "127.0.0.1", "--save", "", "--dir", str(folder)]
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL)
    try:
        wait_for(lambda: answers(port), seconds=20, what="Redis answers")
        yield port
    finally:
        process.terminate()
        process.wait(20)


@pytest.fixture
def postgres_server(postgres_cluster: str) -> str:
    """The address of an empty PostgreSQL database of this test's own: another test's rows would be found in it."""
    name = f"rinklog_{uuid4().hex}"
    as_postgres([program_of("createdb"), "-h", "127.0.0.1", "-p", postgres_cluster, "-U", "rinklog", name])
    return f"postgres://rinklog@127.0.0.1:{postgres_cluster}/{name}"


@pytest.fixture(scope="session")
def postgres_cluster() -> Iterator[str]:
    """The port of a PostgreSQL that is thrown away."""
    port, folder = free_port(), Path("/tmp") / f"rinklog-pg-{os.getpid()}"
    folder.mkdir(mode=0o700)
    if os.geteuid() == 0:
        shutil.chown(folder, "postgres", "postgres")
    data = folder / "data"
    as_postgres([program_of("initdb"), "-D", data, "-U", "rinklog", "-A", "trust", "-E", "UTF8", "--no-sync"])
    options = f"-p {port} -h 127.0.0.1 -k {folder} -c fsync=off"
    as_postgres([program_of("pg_ctl"), "-D", data, "-w", "-o", options, "-l", folder / "log", "start"])
    pid = int((data / "postmaster.pid").read_text().split()[0])
    try:
        yield str(port)
    finally:
        end(pid)
        shutil.rmtree(folder, ignore_errors=True)


def program_of(name: str) -> Path:
    """A program of the newest PostgreSQL here."""
    found = sorted(Path("/usr/lib/postgresql").glob(f"*/bin/{name}"))
    if not found:
        pytest.fail("postgresql is missing; install with:  sudo apt-get install -y postgresql")
    return found[-1]


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
