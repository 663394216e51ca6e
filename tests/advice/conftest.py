import pytest

from tests.support.cast import Cast, make_cast
from tests.support.winter import at, foretold, observed, placed


@pytest.fixture
def cast(db: None) -> Cast:
    """The named cast; the first rink has a position and four zones, and building began on 5 January."""
    made = make_cast()
    placed(made)
    return made


@pytest.fixture
def cold(cast: Cast) -> Cast:
    """The same after a cold week: observed to the 12th, 16:00, foretold for five days more."""
    observed(cast, at(5, 0), at(12, 16))
    foretold(cast, at(12, 15, 30), 5)
    return cast
