"""The named cast."""

import pytest

from tests.support.cast import Cast, make_cast


@pytest.fixture
def cast(db: None) -> Cast:
    """The named cast of tests/support/cast.py."""
    return make_cast()
