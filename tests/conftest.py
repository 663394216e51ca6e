"""What every test has: the fixtures of tests/support, quick hashing, eager tasks, and no network but this machine."""

import os
import socket
from collections.abc import Iterator
from pathlib import Path

import pytest

pytest_plugins = [
    "tests.support.browser",
    "tests.support.mail_sink",
    "tests.support.push_service",
    "tests.support.servers",
    "tests.support.site",
]

# Playwright keeps an event loop in the thread that also drives Django's test server.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")


def pytest_configure() -> None:
    """Settle what must not depend on an earlier `up` in the same folder."""
    from django.conf import settings

    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    settings.STORAGES["staticfiles"] = {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}
    settings.WHITENOISE_USE_FINDERS = True
    settings.WHITENOISE_AUTOREFRESH = True


@pytest.fixture(scope="session", autouse=True)
def _tasks_run_at_once() -> None:
    """A queued task runs in the test itself; only a real `up` has a worker."""
    from rinklog.celery import app

    app.conf.task_always_eager = True


@pytest.fixture(autouse=True)
def _media_of_its_own(tmp_path_factory: pytest.TempPathFactory, settings: object) -> None:
    """No test sees another's photos, or a real site's."""
    settings.MEDIA_ROOT = tmp_path_factory.getbasetemp() / "media"  # type: ignore[attr-defined]


@pytest.fixture(scope="session", autouse=True)
def _no_network() -> Iterator[None]:
    """A test that calls out fails at once: expected values are literals, never fetched."""
    connect = socket.socket.connect

    def guarded(self: socket.socket, address: object) -> None:
        host = address[0] if isinstance(address, tuple) else ""
        if (
            self.family != socket.AF_UNIX
            and host not in ("localhost", "::1", "")
            and not str(host).startswith("127.")
        ):
            raise OSError(f"a test tried to reach {host}; tests talk to this machine only")
        connect(self, address)  # type: ignore[arg-type]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(socket.socket, "connect", guarded)
        yield


@pytest.fixture(scope="session")
def root() -> Path:
    """The project's folder."""
    return Path(__file__).resolve().parent.parent
