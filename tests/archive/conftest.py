import datetime as dt

import pytest

from rinklog.archive.demo.fill import Filled, fill_demo
from tests.support.cast import Cast, make_cast

NOW = dt.datetime(2026, 1, 20, 19, 30, tzinfo=dt.UTC)


@pytest.fixture
def cast(db: None, settings) -> Cast:  # type: ignore[no-untyped-def]
    """The named cast of tests/support/cast.py."""
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    return make_cast()


@pytest.fixture
def filled(db: None, settings) -> Filled:  # type: ignore[no-untyped-def]
    """The demo on an evening in January 2026."""
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    return fill_demo(now=NOW)
