"""Tipping on three and four wheels, turning while braking, lean, a trailer's coupling: by arithmetic of the stories.

The stories (a cargo trike, a wheelchair buggy, a two-wheel trailer) were computed with g = 9.81 and rounded.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from leverwright.ride.coupling import coupling_share, place_for_share
from leverwright.ride.lean import RollAxle, lean_of, leaning_limit
from leverwright.ride.tipping import (
    Stance,
    pitch_limit,
    rigid_tip_limit,
    side_limit,
    speed_in_bend,
    track_factor,
)

BASE, TRACK = 1.45, 0.84
TRIKE = np.array([[0.0, TRACK / 2], [0.0, -TRACK / 2], [-BASE, 0.0]])
THINGS = {
    "trike": (38, 0.55, 0.45),
    "rider": (80, 1.02, 0.98),
    "low": (60, 0.05, 0.45),
    "high": (60, 0.05, 0.75),
}
STATES = {"empty": ("trike", "rider"), "low": ("trike", "rider", "low"), "high": ("trike", "rider", "high")}


def trike(state):
    """x is counted backward from the front axle in the story."""
    mass, back, high = np.array([THINGS[name] for name in STATES[state]]).T
    return Stance(TRIKE, np.array([-(mass @ back) / mass.sum(), 0.0]), float(mass @ high / mass.sum()))


@pytest.mark.parametrize(
    ("state", "back", "high", "tips", "braking", "over", "km_h", "track"),
    [
        ("empty", 0.869, 0.809, 0.21, 0.30, 1.07, 12.6, 1.6),
        ("low", 0.593, 0.688, 0.36, 0.45, 0.86, 16.6, 0.93),
        ("high", 0.593, 0.789, 0.315, 0.40, 0.75, 15.5, 1.07),
    ],
)
def test_the_cargo_trike_tips_before_it_slides(state, back, high, tips, braking, over, km_h, track):
    stance = trike(state)
    assert -stance.centre[0] == pytest.approx(back, abs=0.0006)
    assert stance.height == pytest.approx(high, abs=0.0006)
    assert side_limit(stance) == pytest.approx(tips, abs=0.005)
    assert side_limit(stance, ahead=-0.3) == pytest.approx(braking, abs=0.006)
    assert pitch_limit(stance) == pytest.approx(over, abs=0.006)
    assert 3.6 * speed_in_bend(side_limit(stance), 6.0, 9.81) == pytest.approx(km_h, abs=0.06)
    assert TRACK * track_factor(stance, 0.40) == pytest.approx(track, abs=0.03 if track == 1.6 else 0.006)


def test_driving_out_of_a_bend_tips_the_trike_sooner():
    """Half width (T/2)(1 - x/L) with x further back by 0.2 h."""
    stance = trike("low")
    back = -stance.centre[0] + 0.2 * stance.height
    expected = TRACK / 2 * (1 - back / BASE) / stance.height
    assert side_limit(stance, ahead=0.2) == pytest.approx(expected)
    assert expected < side_limit(stance)


def test_on_four_wheels_it_is_the_static_stability_factor():
    four = np.array([[1.9, 0.525], [1.9, -0.525], [0.0, 0.525], [0.0, -0.525]])
    stance = Stance(four, np.array([0.7, 0.0]), 0.72)
    limit = rigid_tip_limit(0.525, 0.72)
    assert side_limit(stance) == pytest.approx(limit.lateral)
    assert limit.lateral == pytest.approx(0.729, abs=0.0005)
    assert math.degrees(limit.slope) == pytest.approx(36, abs=0.5)
    assert side_limit(stance, ahead=-0.5) == pytest.approx(
        limit.lateral
    )  # an oblong: braking changes nothing
    assert pitch_limit(stance) == pytest.approx(1.2 / 0.72)
    assert pitch_limit(stance, -1.0) == pytest.approx(0.7 / 0.72)


def test_a_load_beside_the_middle_tips_to_its_own_side_first():
    four = np.array([[1.0, 0.5], [1.0, -0.5], [0.0, 0.5], [0.0, -0.5]])
    stance = Stance(four, np.array([0.5, 0.1]), 0.5)
    assert side_limit(stance, side=1.0) == pytest.approx(0.8)
    assert side_limit(stance, side=-1.0) == pytest.approx(1.2)
    assert side_limit(stance) == pytest.approx(0.8)
    assert track_factor(stance, 1.0) == pytest.approx(1.2)  # 0.6 on the left


def test_braking_past_the_front_wheels_leaves_no_sideways_limit():
    assert side_limit(trike("high"), ahead=-0.8) == 0.0


def test_the_wheelchair_buggy_leans_7_8_degrees_a_g_and_tips_at_0_655():
    """Four wheels of 14 N/mm on a track of 1.05: 4 k (T/2)^2; 270 kg with an arm of 0.70 m."""
    axles = [RollAxle(1.9, 2 * 14e3 * 0.525**2, 0.10), RollAxle(0.0, 2 * 14e3 * 0.525**2, 0.10)]
    lean = lean_of(axles, 270.0, np.array([0.7, 0.80]))
    assert lean.arm == pytest.approx(0.70)
    assert math.degrees(lean.per_lateral) == pytest.approx(7.8, abs=0.05)
    tips = leaning_limit(0.525 / 0.72, 318.0, 0.72, lean)
    assert tips == pytest.approx(0.655, abs=0.0005)
    assert math.degrees(math.atan(tips)) == pytest.approx(33, abs=0.5)


def test_the_roll_axis_runs_from_axle_to_axle():
    axles = [RollAxle(2.0, 8e3, 0.2), RollAxle(0.0, 8e3, 0.0)]
    assert lean_of(axles, 100.0, np.array([0.5, 0.6])).arm == pytest.approx(0.55)


def test_too_soft_for_its_own_weight_is_said_and_rigid_does_not_lean():
    assert "upright" in str(lean_of([RollAxle(0.0, 500.0, 0.0)], 200.0, np.array([0.0, 0.6])))
    assert lean_of([RollAxle(0.0, math.inf, 0.0)], 200.0, np.array([0.0, 0.6])).per_lateral == 0.0


def test_a_trailers_coupling_carries_by_the_lever():
    """95 kg, 0.14 m ahead of an axle 1.70 m behind the coupler: 7.8 kg, 8.2 %."""
    share = coupling_share(95.0, 0.14, 0.0, 1.70, 7.5)
    assert share.level == pytest.approx(7.8, abs=0.05)
    assert share.level_share == pytest.approx(0.082, abs=0.0005)
    assert share.pitched_share == pytest.approx(7.5 / 95)


@pytest.mark.parametrize(("wanted", "at"), [(0.10, 0.181), (0.044, 0.05)])
def test_where_250_kg_must_lie_for_a_tenth_on_the_coupling(wanted, at):
    masses = np.array([95.0, 250.0]), np.array([0.14, 0.3])
    assert place_for_share(wanted, masses, 1, (0.0, 1.70)) == pytest.approx(at, abs=0.002)
