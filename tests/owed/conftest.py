import pytest

from tests.support.cast import Cast, make_cast


@pytest.fixture
def cast(db: None, settings) -> Cast:  # type: ignore[no-untyped-def]
    """The named cast of tests/support/cast.py."""
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    return make_cast()
