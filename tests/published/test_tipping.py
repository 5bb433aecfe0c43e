"""PUBLISHED row H7: static tip limit of a rigid vehicle, track / (2 · height)."""

from __future__ import annotations

import math

import numpy as np
import pytest

from leverwright.ride.tipping import Stance, rigid_tip_limit, side_limit


@pytest.mark.parametrize(
    ("track", "height", "share", "degree"), [(1.0, 0.5, 1.0, 45.0), (0.56, 0.33, 0.8485, 40.31)]
)
def test_static_stability_factor(track, height, share, degree):
    """H7 (R: the definition of NHTSA's static stability factor; C), 1e-4."""
    limit = rigid_tip_limit(track / 2, height)
    assert limit.lateral == pytest.approx(share, abs=1e-4)
    # 40.31 is printed to a hundredth: half of its last place.
    assert math.degrees(limit.slope) == pytest.approx(degree, abs=5e-3)


@pytest.mark.parametrize(("track", "height", "share"), [(1.0, 0.5, 1.0), (0.56, 0.33, 0.8485)])
def test_four_wheels_and_their_polygon_give_the_same_factor(track, height, share):
    """H7 again, from the wheels' places; where along the wheelbase the weight lies does not matter, 1e-4."""
    wheels = np.array([[1.2, track / 2], [1.2, -track / 2], [0.0, track / 2], [0.0, -track / 2]])
    for x in (0.2, 0.6, 1.1):
        assert side_limit(Stance(wheels, np.array([x, 0.0]), height)) == pytest.approx(share, abs=1e-4)


@pytest.mark.parametrize("bad", [(0, 1), (1, 0), (-1, 1), (math.nan, 1), (math.inf, 1)])
def test_a_vehicle_without_width_or_height_is_refused(bad):
    with pytest.raises(ValueError, match="above 0"):
        rigid_tip_limit(*bad)
