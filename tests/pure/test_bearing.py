"""Bearing guidance: Gold 1971 and its users; numbers by hand from P = A h²."""

from __future__ import annotations

import pytest

from rinklog.physics import bearing
from rinklog.physics.validity import NotApplicableError, OutOfRangeError


@pytest.mark.parametrize(("coefficient", "ice_m", "load"), [(4, 0.20, 1600), (3.5, 0.15, 787.5)])
def test_golds_rule_says_what_a_thickness_carries(coefficient: float, ice_m: float, load: float) -> None:
    assert bearing.load_kg(ice_m, coefficient) == pytest.approx(load)


def test_golds_rule_says_what_a_load_needs() -> None:
    assert bearing.needed_m(2500, 4) == pytest.approx(0.25)


def test_white_ice_counts_half() -> None:
    # Alberta-type guides, from memory: 8 cm clear and 6 cm white count as 11 cm.
    assert bearing.effective_m(0.08, 0.06) == pytest.approx(0.11)


def test_ice_frozen_to_the_ground_is_refused_with_the_reason() -> None:
    with pytest.raises(NotApplicableError, match="rests on it"):
        bearing.require_floating("frozen")
    with pytest.raises(ValueError, match="permitted: water"):
        bearing.require_floating("liner")
    bearing.require_floating("water")


def test_a_coefficient_no_guide_uses_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="3 to 7"):
        bearing.load_kg(0.2, 7.5)
