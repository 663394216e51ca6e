"""Synthetic rinks whose truth is known: what was called 80 in 100 must hold it 70 to 90 times in 100.

Rinks are drawn by seeds that nothing was fitted to. Zones of one rink share their luck, so that twenty rinks tell much
less than their hundreds of checks would.
"""

import numpy as np
import pytest

from rinklog.ice.spread import Spread
from tests.ice.synthetic import Checked, rink

DAYS = 7
DRILLED_ON = (3, 5)


def inside(found: list[Checked]) -> float:
    """Share of the checks whose truth lay in the band."""
    return float(np.mean([one.inside for one in found]))


@pytest.mark.slow
@pytest.mark.timeout(1200)
def test_the_band_of_80_in_100_holds_the_withheld_truth_70_to_90_times() -> None:
    free = [one for seed in range(300, 320) for one in rink(seed, DAYS, (), Spread())]
    told = [one for seed in range(300, 320) for one in rink(seed, DAYS, DRILLED_ON, Spread())]
    assert 0.70 <= inside(free) <= 0.90
    assert 0.70 <= inside(told) <= 0.90
    # Holes must make the estimate better, not only surer.
    off_free, off_told = (
        np.sqrt(np.mean([(c.true_m - c.given.middle) ** 2 for c in some])) for some in (free, told)
    )
    assert off_told < off_free


@pytest.mark.slow
@pytest.mark.timeout(1200)
def test_bands_that_leave_out_the_weathers_and_the_factors_errors_are_caught() -> None:
    sure = Spread(exchange_log=0.05, zone_log=0.02, sunlight_log=0.03)
    found = [one for seed in range(300, 308) for one in rink(seed, DAYS, (), sure)]
    assert inside(found) < 0.70
