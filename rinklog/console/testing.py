"""`manage.py test`: bring what the tests need, then run pytest with the arguments given."""

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
MOST_AT_ONCE = 4  # processes; each may start a browser and servers of its own


def _program(*names: str) -> Callable[[], bool]:
    return lambda: any(shutil.which(name) for name in names)


def _postgres() -> bool:
    return any(Path("/usr/lib/postgresql").glob("*/bin/initdb")) or bool(shutil.which("initdb"))


# Debian package → is what it brings already here?
PACKAGES: dict[str, Callable[[], bool]] = {
    "chromium": _program("chromium"),
    "fonts-dejavu-core": lambda: (
        Path("/usr/share/fonts/truetype").exists() or Path("/usr/share/fonts/TTF").exists()
    ),
    "gettext": _program("xgettext"),
    "redis-server": _program("redis-server"),
    "postgresql": _postgres,
}


def run(arguments: Sequence[str]) -> int:
    """Run the tests asked for, or all of them with browser and servers; returns pytest's exit status."""
    missing = install_missing()
    if missing:
        print(
            f"rinklog: the tests need {', '.join(missing)}; install with:  {apt_line(missing)}",
            file=sys.stderr,
        )
        if not arguments:
            return 1
        print("rinklog: going on with the tests asked for; those that need it will fail", file=sys.stderr)
    return pytest(arguments or everything(os.cpu_count() or 1))


def everything(cores: int) -> list[str]:
    """The arguments to run every test, side by side where there are cores for it."""
    at_once = min(cores, MOST_AT_ONCE)
    return ["-n", str(at_once), "--dist", "worksteal"] if at_once > 1 else []


def absent() -> list[str]:
    """The Debian packages that the tests need and this machine lacks."""
    return [package for package, here in PACKAGES.items() if not here()]


def apt_line(packages: Sequence[str]) -> str:
    """The exact command that installs packages."""
    return f"sudo apt-get install -y --no-install-recommends {' '.join(packages)}"


def install_missing() -> list[str]:
    """Install what is absent when this user may; returns what is absent still."""
    wanted = absent()
    prefix = privilege()
    if not wanted or prefix is None:
        return wanted
    print(f"rinklog: installing {', '.join(wanted)} for the tests", file=sys.stderr, flush=True)
    environ = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for step in (["update", "-q"], ["install", "-q", "-y", "--no-install-recommends", *wanted]):
        subprocess.call([*prefix, "apt-get", *step], env=environ, stdout=sys.stderr, stdin=subprocess.DEVNULL)
    return absent()


def privilege() -> list[str] | None:
    """The words before `apt-get` with which this user may install, or None."""
    if not shutil.which("apt-get"):
        return None
    if os.geteuid() == 0:
        return []
    sudo = ["sudo", "-n"]
    if not shutil.which("sudo") or subprocess.call([*sudo, "true"], stderr=subprocess.DEVNULL) != 0:
        return None
    return sudo


def pytest(arguments: Sequence[str]) -> int:
    """Run pytest with a data folder of its own, so that no test ever sees a real site."""
    with tempfile.TemporaryDirectory(prefix="rinklog-tests-") as data:
        environ = {**os.environ, "RINKLOG_DATA": data, "DJANGO_ALLOW_ASYNC_UNSAFE": "true"}
        process = subprocess.Popen([sys.executable, "-m", "pytest", *arguments], cwd=ROOT, env=environ)
        while True:
            try:
                return process.wait()
            except KeyboardInterrupt:
                continue  # pytest got it too, and ends with its summary
