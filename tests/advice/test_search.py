"""The window search against brute force: every start hour, coat and member of a real week, marched one by one."""

import datetime as dt
import gzip

import numpy as np
import pytest

from rinklog.advice.search import best_coat, freezing, spread
from rinklog.physics.column import Action, Column, Settings, Weather, march
from rinklog.physics.column.marching import WET
from rinklog.physics.windows import ensemble
from rinklog.weather.formats import isd_lite
from tests.open_data import fetch
from tests.pure.test_column_measured import CHICAGO

SETTINGS = Settings()
MEMBERS = 2


def chicago(first: dt.datetime, hours: int) -> Weather:
    """Chicago O'Hare from a moment on (NOAA ISD-Lite 725300, 2015), holes bridged in a line, no sun."""
    parsed = isd_lite.parse(gzip.decompress(fetch(CHICAGO).read_bytes()))
    at = {hour.at: hour for hour in parsed.hours}
    wanted = [first + dt.timedelta(hours=n) for n in range(hours)]

    def line(name: str, fallback: float) -> np.ndarray:
        got = [getattr(at[when], name, None) if when in at else None for when in wanted]
        known = [n for n, value in enumerate(got) if value is not None]
        return np.interp(range(hours), known, [got[n] for n in known]) if known else np.full(hours, fallback)

    return Weather(
        hold_s=np.full(hours, 3600.0), air_c=line("air_c", 0), wind_ms=line("wind_ms", 2),
        humidity_frac=np.clip(line("humidity_frac", 0.8), 0, 1), cloud_frac=line("cloud_frac", 0.5),
    )  # fmt: skip


@pytest.fixture(scope="module")
def week() -> Weather:
    # 10 to 12 February 2015: −6 to +2 °C, so that some coats freeze and some do not
    return ensemble(chicago(dt.datetime(2015, 2, 10, 15, tzinfo=dt.UTC), 48), MEMBERS, seed=1)


def one_by_one(
    column: Column, weather: Weather, member: int, start: int, coat_mm: float, limit: int
) -> float:
    """Brute force: march one column of one member to the start, flood, march on in five-minute steps, look each step."""

    def hours(first: int, count: int, pieces: int) -> Weather:
        def part(value: object) -> np.ndarray:
            values = np.asarray(value, dtype=float)
            values = (
                values[first : first + count, member] if values.ndim == 2 else values[first : first + count]
            )
            return np.repeat(values, pieces)

        names = ("air_c", "wind_ms", "humidity_frac", "cloud_frac")
        return Weather(
            hold_s=np.full(count * pieces, 3600.0 / pieces),
            **{name: part(getattr(weather, name)) for name in names},
        )

    if start:
        column, _ = march(column, hours(0, start, 1), SETTINGS)
    pour = [Action(0.0, "flood", coat_mm, 5.0)]
    wet = march(column, hours(start, limit, 12), SETTINGS, actions=pour, step_s=300.0, keep=(WET,))[1][WET][
        :, 0
    ]
    frozen = np.flatnonzero(wet <= 1e-6)
    return float((frozen[0] + 1) / 12) if frozen.size else np.inf


@pytest.mark.slow
def test_the_search_finds_what_trying_every_start_coat_and_member_finds(week: Weather) -> None:
    starts, coats, limit = tuple(range(24)), (1.0, 3.0, 10.0), 8
    begin = Column.start(SETTINGS, 1, ice_m=0.08, ice_c=-3.0)
    found = freezing(begin.repeat(MEMBERS), week, SETTINGS, starts, [limit] * len(starts), coats)
    brute = np.array(
        [[[one_by_one(begin, week, m, s, mm, limit) for m in range(MEMBERS)] for mm in coats] for s in starts]
    )
    assert np.isinf(brute).any()
    assert np.isfinite(brute).any()
    near = np.minimum(brute, limit) - np.minimum(found.hours, limit)
    # Brute force sees a coat frozen at the end of its five minutes: at most that much later.
    assert near.min() > -0.02
    assert near.max() < 5 / 60 + 0.02
    wanted = 0.75
    for place, start in enumerate(starts):
        share = (brute[place] <= limit).mean(axis=1)
        likely = [(mm * p, -mm) for mm, p in zip(coats, share, strict=True) if p >= wanted]
        best = best_coat(found, place, limit, wanted, thickest_mm=10.0)
        assert (best is None) == (not likely), start
        if best is not None:
            assert (best.score_mm, -best.coat_mm) == max(likely)


def test_the_best_coat_is_the_most_expected_ice_among_those_likely_enough() -> None:
    cold = Weather(hold_s=np.full(14, 3600.0), air_c=np.full((14, 1), -12.0), wind_ms=3.0)
    column = Column.start(SETTINGS, 1, ice_m=0.1)
    found = freezing(column, cold, SETTINGS, [0], [14], (1.0, 3.0, 6.0))
    thick = best_coat(found, 0, 14, 0.8, thickest_mm=10)
    thin = best_coat(found, 0, 14, 0.8, thickest_mm=3)
    assert (thick.coat_mm, thin.coat_mm) == (6.0, 3.0)  # type: ignore[union-attr]
    # twice as slow as computed, learned from earlier floods: the thick one is no longer in time
    need = float(found.hours[0, 2, 0])
    slower = best_coat(found, 0, need * 1.5, 0.8, thickest_mm=10, factor=2.0)
    assert slower is not None
    assert slower.coat_mm == 3.0
    assert slower.middle_h == pytest.approx(2 * float(found.hours[0, 1, 0]))


def test_no_flood_goes_onto_a_coat_that_is_still_wet() -> None:
    mild = Weather(hold_s=np.full(14, 3600.0), air_c=np.full((14, 1), -1.0), wind_ms=2.0)
    wet = Column.start(SETTINGS, 1, ice_m=0.1, coat_m=0.006)
    found = freezing(wet, mild, SETTINGS, [0], [14], (1.0,))
    assert found.wet_m[0] == pytest.approx(0.006, rel=0.02)
    assert best_coat(found, 0, 14, 0.0, thickest_mm=10) is None


def test_the_band_counts_members() -> None:
    # 10 members: the first is at 10 %, the fifth at 50 %, the ninth at 90 %
    assert spread(np.arange(1.0, 11.0)) == (1.0, 5.0, 9.0)
    assert spread(np.array([1.0, np.inf, np.inf, np.inf])) == (1.0, np.inf, np.inf)
