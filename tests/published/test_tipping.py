"""PUBLISHED row H7: static tip limit of a rigid vehicle, track / (2 · height)."""

from __future__ import annotations

import math

import pytest

from leverwright.ride.tipping import rigid_tip_limit


@pytest.mark.parametrize(
    ("track", "height", "share", "degree"), [(1.0, 0.5, 1.0, 45.0), (0.56, 0.33, 0.8485, 40.31)]
)
def test_static_stability_factor(track, height, share, degree):
    """H7 (R: the definition of NHTSA's static stability factor; C), 1e-4."""
    limit = rigid_tip_limit(track / 2, height)
    assert limit.lateral == pytest.approx(share, abs=1e-4)
    # 40.31 is printed to a hundredth: half of its last place.
    assert math.degrees(limit.slope) == pytest.approx(degree, abs=5e-3)


@pytest.mark.parametrize("bad", [(0, 1), (1, 0), (-1, 1), (math.nan, 1), (math.inf, 1)])
def test_a_vehicle_without_width_or_height_is_refused(bad):
    with pytest.raises(ValueError, match="above 0"):
        rigid_tip_limit(*bad)
