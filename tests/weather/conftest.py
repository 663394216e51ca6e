from collections.abc import Iterator

import pytest

from tests.support.cast import Cast, make_cast
from tests.support.weather_service import Service, weather_service


@pytest.fixture
def cast(db: None) -> Cast:
    """The named cast of tests/support/cast.py."""
    return make_cast()


@pytest.fixture
def service() -> Iterator[Service]:
    """A weather service on this machine."""
    with weather_service() as made:
        yield made
