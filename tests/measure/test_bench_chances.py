"""Tails of the distributions that decide what a bench test shows, against a general statistics library."""

import pytest
from scipy import stats

from leverwright.measure import chances

SPARE = (1, 2, 3, 5, 10, 40, 500)
SIZES = (0.01, 0.3, 1.0, 2.0, 4.0, 12.0, 70.0)


@pytest.mark.parametrize("spare", SPARE)
@pytest.mark.parametrize("size", SIZES)
def test_tails_agree_with_the_library(spare: int, size: float) -> None:
    """Rounding of the continued fractions only."""
    assert chances.beyond_t(size, spare) == pytest.approx(2 * stats.t.sf(size, spare), rel=1e-10, abs=1e-13)
    assert chances.beyond_chi_squared(size, spare) == pytest.approx(
        stats.chi2.sf(size, spare), rel=1e-10, abs=1e-13
    )
    for above in (1, 2, 7):
        assert chances.beyond_f(size, above, spare) == pytest.approx(
            stats.f.sf(size, above, spare), rel=1e-10, abs=1e-13
        )
    assert chances.beyond_normal(size) == pytest.approx(2 * stats.norm.sf(size), rel=1e-12, abs=1e-300)


@pytest.mark.parametrize("spare", SPARE)
def test_twice_the_widened_deviation_covers_95_percent(spare: int) -> None:
    assert 2 * chances.widened(spare) == pytest.approx(stats.t.ppf(0.975, spare), rel=1e-9)
