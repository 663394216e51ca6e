"""What a checkpoint's fingerprint covers: every input up to its hour, nothing after it, nothing that changes nothing."""

import datetime as dt
from dataclasses import replace

import pytest

from rinklog.ice.fingerprints import chain, fixed_hours, is_kept
from rinklog.ice.inputs import Inputs, Look
from rinklog.ice.spread import Spread
from tests.ice.inventing import HOUR, START, flood, grounds, hole, inputs, known

LAST = START + 30 * HOUR


def base() -> Inputs:
    return inputs(known(48), grounds(0.1, 0.2), deeds=(flood(10.2, 3.0),), holes=(hole(12.5, 0.03),))


def of(made: Inputs, hours: float = 30) -> str:
    return chain(made, LAST)(START + hours * HOUR)


CHANGES = {
    "weather": lambda: inputs(
        known(48, air_c=-8.001), grounds(0.1, 0.2), deeds=base().deeds, holes=base().holes
    ),
    "a flood's water": lambda: replace(base(), deeds=(flood(10.2, 3.1),)),
    "a flood's minute": lambda: replace(base(), deeds=(flood(10.3, 3.0),)),
    "a flood less": lambda: replace(base(), deeds=()),
    "a hole": lambda: replace(base(), holes=(hole(12.5, 0.031),)),
    "a hole's answer": lambda: replace(base(), holes=(hole(12.5, 0.03, answer="right"),)),
    "a look": lambda: replace(base(), looks=(Look(START + 5 * HOUR, 0, "seen", wet=True),)),
    "a zone's shade": lambda: replace(
        base(), grounds=(base().grounds[0], replace(base().grounds[1], shade_frac=0.85))
    ),
    "the fill": lambda: replace(base(), stood_m=(0.1, 0.21)),
    "the seed": lambda: replace(base(), seed=8),
    "the errors": lambda: replace(base(), spread=Spread(flood_log=0.2)),
}


@pytest.mark.parametrize("what", CHANGES)
def test_every_input_until_then_changes_the_fingerprint(what: str) -> None:
    assert of(CHANGES[what]()) != of(base())


def test_what_comes_later_changes_nothing() -> None:
    later = replace(base(), deeds=(*base().deeds, flood(30.0, 2.0)), holes=(*base().holes, hole(30.4, 0.05)))
    assert of(later) == of(base())
    assert of(later, 31) != of(base(), 31)


def test_a_change_reaches_every_later_hour_and_no_earlier_one() -> None:
    changed = replace(base(), deeds=(flood(10.2, 3.1),))
    same = [n for n in range(31) if of(changed, n) == of(base(), n)]
    assert same == list(range(11))  # a flood at hour 10.2 is not yet part of hour 10, and part of hour 11


def test_checkpoints_stand_at_fixed_hours_and_thin_out_with_age() -> None:
    now = dt.datetime(2026, 2, 20, 15, tzinfo=dt.UTC)
    kept = [at for at in fixed_hours(dt.datetime(2026, 1, 1, tzinfo=dt.UTC), now) if is_kept(at, now)]
    ages = [(now - at) / dt.timedelta(days=1) for at in kept]
    assert sum(age <= 4 for age in ages) == 16
    assert sum(4 < age <= 14 for age in ages) == 10
    assert all(at.weekday() == 0 and at.hour == 12 for at, age in zip(kept, ages, strict=True) if age > 14)
    assert sum(age > 14 for age in ages) == 5  # Mondays 5, 12, 19, 26 January and 2 February
    assert not is_kept(dt.datetime(2026, 2, 20, 13, tzinfo=dt.UTC), now)
