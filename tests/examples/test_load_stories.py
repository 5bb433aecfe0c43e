"""The trike, the trailer, the wheelchair buggy and the weighed swamp buggy: every figure that their stories state.

The stories were computed on a level vehicle with g = 9.81 and rounded; the vehicles here stand on their springs, turn
with them, and are of our own drawing. Where that matters the tolerance says so.
"""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from leverwright import Project, Study
from leverwright.findings import judge
from leverwright.ride.tipping import speed_in_bend, track_factor

FOLDER = Path(__file__).parents[2] / "examples"


@cache
def study(name, load_set="usual"):
    whole = Study(Project.read(FOLDER / f"{name}.toml"))
    return whole.under(load_set) if load_set in whole.sets else whole


def tipping(name, load_set="usual"):
    return study(name, load_set).loading.tipping


# --- the market trike: two wheels in front, one behind -----------------------------------------------------


@pytest.mark.parametrize(
    ("load_set", "tips", "braking", "over", "km_h", "track"),
    [
        ("empty", 0.21, 0.30, 1.07, 12.6, 1.6),
        ("usual", 0.36, 0.45, 0.86, 16.6, 0.93),
        ("high", 0.315, 0.40, 0.75, 15.5, 1.07),
    ],
)
def test_market_trike_tips_before_it_slides_in_every_state(load_set, tips, braking, over, km_h, track):
    """Its rear wheel moves by 1.2 mm between the states: figures as in the story."""
    found = tipping("market-trike", load_set)
    assert found.rigid == pytest.approx(tips, abs=0.005)
    assert found.braking == pytest.approx(braking, abs=0.006)
    assert found.over_front == pytest.approx(over, abs=0.006)
    assert 3.6 * speed_in_bend(found.rigid, 6.0, 9.81) == pytest.approx(km_h, abs=0.06)
    assert 0.84 * track_factor(found.stance, 0.40) == pytest.approx(
        track, abs=0.03 if track == 1.6 else 0.006
    )


@pytest.mark.parametrize(
    ("load_set", "back", "high"), [("empty", 0.869, 0.809), ("usual", 0.593, 0.688), ("high", 0.593, 0.789)]
)
def test_market_trikes_centre_of_gravity(load_set, back, high):
    stance = tipping("market-trike", load_set).stance
    front = stance.places[:, 0].max()
    assert front - stance.centre[0] == pytest.approx(back, abs=0.001)
    assert stance.height == pytest.approx(high, abs=0.001)


def test_market_trikes_front_wheels_are_not_sprung_so_it_does_not_lean():
    assert tipping("market-trike").lean.per_lateral == 0.0


# --- the peat trailer: two wheels and a coupling -----------------------------------------------------------


@pytest.mark.parametrize(
    ("load_set", "level", "level_share", "pitched", "pitched_share"),
    [
        ("empty", 7.8, 0.082, 7.8, 0.082),
        ("usual", 34.5, 0.10, 29.9, 0.087),
        ("behind", 15.2, 0.044, None, None),
        ("ahead", 37.2, 0.108, 32.7, 0.095),
    ],
)
def test_peat_trailers_tongue_level_and_as_it_stands(load_set, level, level_share, pitched, pitched_share):
    share = study("peat-trailer", load_set).loading.coupling
    assert share.level == pytest.approx(level, abs=0.07)
    assert share.level_share == pytest.approx(level_share, abs=0.0006)
    if pitched is not None:
        assert share.pitched == pytest.approx(pitched, abs=0.1)
        assert share.pitched_share == pytest.approx(pitched_share, abs=0.0006)


def test_peat_trailer_stands_nose_up_by_2_1_degrees_and_its_centre_goes_back_22_mm():
    """The axle falls 61.7 mm level; leaning back brings 2.3 kg more on each wheel and 1 mm more."""
    loaded, empty = study("peat-trailer"), study("peat-trailer", "empty")
    fall = 1e3 * (answer(loaded, "sag") - answer(empty, "sag"))
    assert fall == pytest.approx(61.7, abs=1.2)
    assert math.degrees(-loaded.chassis.pitch) == pytest.approx(2.1, abs=0.07)
    ahead = loaded.loading.coupling
    assert 1.70 * (ahead.level - ahead.pitched) / 345 == pytest.approx(0.022, abs=0.001)


def test_peat_trailers_springs_are_harsh_empty_and_right_loaded():
    """29.6 and 141.2 kg sprung at each wheel, 4.8 to 1; 17.7 N/mm; 3.3 mm and 3.9 Hz, 65 mm and 1.78 Hz."""
    loaded, empty = study("peat-trailer"), study("peat-trailer", "empty")
    assert empty.chassis.loads[0] - 14 == pytest.approx(29.6, abs=0.05)
    assert loaded.chassis.loads[0] - 14 == pytest.approx(141.2, abs=2.4)  # level; 2.3 more leaning back
    assert answer(empty, "wheel_rate") == pytest.approx(17.7e3, rel=0.025)
    assert answer(loaded, "wheel_rate") == pytest.approx(17.7e3, rel=0.025)
    assert answer(empty, "sag") == pytest.approx(3.3e-3, abs=0.06e-3)
    assert answer(loaded, "sag") == pytest.approx(65e-3, abs=1.2e-3)
    assert answer(empty, "ride_frequency_without_tyre") == pytest.approx(3.9, abs=0.05)
    assert answer(loaded, "ride_frequency_without_tyre") == pytest.approx(1.78, abs=0.01)


def answer(of, name, wheel=None):
    return of.answers[wheel or next(iter(of.answers))].of[name].value


def test_peat_trailers_loads_err_together():
    """Each wheel gains half of what the peat weighs more, and leans back for it: ± by weighing 3 kg and 1 kg more."""
    of = study("peat-trailer")
    (block,) = of.measured.blocks
    assert block.inputs == (("load", "wheel-left"), ("load", "wheel-right"))
    correlation = block.covariance[0, 1] / math.sqrt(block.covariance[0, 0] * block.covariance[1, 1])
    assert correlation == pytest.approx(1.0)
    more = [
        of.with_change(["masses", name, "mass"], mass).chassis.loads[0] - of.chassis.loads[0]
        for name, mass in (("peat", 253), ("trailer", 96))
    ]
    assert math.sqrt(block.covariance[0, 0]) == pytest.approx(math.hypot(*more), rel=0.01)


# --- the step-free buggy: lifted, leaning, and boarded over a ramp -----------------------------------------


def test_step_free_buggys_height_by_tilting():
    tilted = study("step-free-buggy").loading.tilted
    assert tilted.height == pytest.approx(0.72, abs=0.002)
    assert tilted.error == pytest.approx(0.032, abs=0.0006)
    assert tilted.better_lift == pytest.approx(0.400)
    assert tilted.better_error == pytest.approx(0.019, abs=0.0006)


def test_step_free_buggy_leans_7_8_degrees_a_g_and_tips_at_0_655():
    found = tipping("step-free-buggy")
    assert found.mass == pytest.approx(318)
    assert found.rigid == pytest.approx(0.729, abs=0.001)
    assert math.degrees(math.atan(found.rigid)) == pytest.approx(36, abs=0.5)
    assert found.lean.sprung == pytest.approx(270)
    assert found.lean.arm == pytest.approx(0.70, abs=0.005)
    assert math.degrees(found.lean.per_lateral) == pytest.approx(7.8, abs=0.05)
    assert found.leaning == pytest.approx(0.655, abs=0.001)
    assert math.degrees(found.slope) == pytest.approx(33, abs=0.5)


def test_step_free_buggys_limits_are_as_unsure_as_its_height():
    """0.72 m ± 0.032, track 1.05 m. Rigid: 0.729 * 0.032 / 0.72. Leaning: 1 mm higher by the same arithmetic.

    318 kg of which 270 lean, so the arm grows by 318/270 of it; roll rate 15.4 kN·m/rad.
    """
    found = tipping("step-free-buggy")
    assert found.error == pytest.approx(0.729 * 0.032 / 0.72, rel=0.03)

    def leaning(higher):
        arm = 0.70 + higher * 318 / 270
        turn = 270 * 9.80665 * arm / (4 * 14e3 * 0.525**2 - 270 * 9.80665 * arm)
        return 0.525 * 318 / (318 * (0.72 + higher) + 270 * arm * turn)

    assert leaning(0.0) == pytest.approx(0.655, abs=0.001)
    by_hand = 0.032 * (leaning(-0.5e-3) - leaning(0.5e-3)) / 1e-3
    assert found.leaning_error == pytest.approx(by_hand, rel=0.03)
    assert found.leaning_error > found.error  # it leans more too, the higher it is
    low, high = (math.degrees(end) for end in found.slope_ends)
    assert low == pytest.approx(math.degrees(math.atan(0.655 - 2 * by_hand)), abs=0.15)
    assert high == pytest.approx(math.degrees(math.atan(0.655 + 2 * by_hand)), abs=0.15)
    (said,) = [each.sentence for each in judge(study("step-free-buggy")) if each.id == "tips-first"]
    for words in ("between 0.58 and 0.73 g", "between 30 and 36 deg", "Half of the lower end is 15 deg"):
        assert words in said


def test_market_trike_states_no_error_so_its_limits_have_no_range():
    found = tipping("market-trike", "empty")
    assert found.error is None
    assert found.leaning_error is None
    assert found.ends == (found.least, found.least)


def test_step_free_buggy_carries_121_and_197_on_springs_of_14():
    of = study("step-free-buggy")
    loads = {name: load.value for name, load in of.measured.weights.loads.items()}
    assert loads["front-left"] + loads["front-right"] == pytest.approx(121)
    assert loads["rear-left"] + loads["rear-right"] == pytest.approx(197)
    assert of.measured.weights.source["rear-left"] == "weighed"
    assert of.chassis.loads == pytest.approx([60.5, 60.5, 98.5, 98.5], abs=0.1)  # the masses say the same
    assert [answer(of, "wheel_rate", wheel) for wheel in loads] == pytest.approx([14e3] * 4, rel=0.005)


def test_a_chair_on_the_ramp_sinks_the_tail_by_65_mm():
    """Level: 130 kg 0.35 m behind the rear axle put 153.9 on it and take 23.9 off the front: 54, 8 and 65 mm.

    Turned by 2 deg with its centre of gravity the buggy puts 2 kg more there.
    """
    before, boarding = (study("step-free-buggy", name).chassis for name in ("before-boarding", "boarding"))
    change = boarding.loads - before.loads
    assert change[2:].sum() == pytest.approx(153.9, abs=2.1)
    assert change[:2].sum() == pytest.approx(-23.9, abs=2.1)
    sinks = [
        1e3 * (before.over_ground(np.array([x, 0.0, 0.3])) - boarding.over_ground(np.array([x, 0.0, 0.3])))
        for x in (0.0, 1.9, -0.35)
    ]
    assert sinks == pytest.approx([54, -8.4, 65], abs=1.5)
    assert 120 - sinks[2] == pytest.approx(55, abs=1.5)


# --- the swamp buggy, weighed over a plank ------------------------------------------------------------------


def test_swamp_buggys_wheel_over_a_plank_is_155_kg_within_3():
    weighed = study("swamp-buggy-weighed").measured.weights.weighed
    k = weighed.wheels.index("rear-left")
    assert weighed.result.load[k] == pytest.approx(155, abs=0.5)
    assert math.sqrt(weighed.result.covariance[k, k]) == pytest.approx(3, abs=0.5)


def test_swamp_buggys_raised_wheel_is_50_kg_of_doubt_but_sides_and_ends_hold():
    weighed = study("swamp-buggy-weighed").measured.weights.weighed
    (raised,) = weighed.raised
    assert raised.shift == pytest.approx(50, abs=0.5)
    one = dict(zip(weighed.wheels, np.sqrt(np.diag(weighed.covariance)), strict=True))
    assert one["rear-left"] == pytest.approx(50, abs=0.5)
    left = np.array([name.endswith("-left") for name in weighed.wheels], dtype=float)
    rear = np.array([name.startswith("rear") for name in weighed.wheels], dtype=float)
    for sums in (left, rear, np.ones(4)):
        assert math.sqrt(sums @ weighed.covariance @ sums) < 6  # four planks' own 2.5 kg


def test_a_tyre_that_gives_9_5_mm_for_50_kg_is_51_6_n_per_mm():
    """Scale to 0.5 kg and ruler to 1 mm, twice each: share² = 2 · ((0.5 / 50)² + (1 / 9.5)²)."""
    of = study("swamp-buggy-weighed")
    assert of.file.wheels["rear-left"].tyre is None
    wheel = of.project.wheels["rear-left"]
    assert wheel.tyre.value == pytest.approx(50 * 9.81 / 9.5e-3, rel=0.001)
    share = math.sqrt(2 * ((0.5 / 50) ** 2 + (1 / 9.5) ** 2))
    assert wheel.tyre.error / wheel.tyre.value == pytest.approx(share, rel=1e-6)
