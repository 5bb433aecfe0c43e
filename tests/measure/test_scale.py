"""One scale, wheel by wheel: means, closure, cross weight, plank, a raised wheel, tilting; by hand arithmetic."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats

from leverwright.measure.plank import PlankLever, over_plank
from leverwright.measure.scale import (
    ScaleFacts,
    WheelReads,
    balance_point,
    cross_weight,
    pooled_error,
    raised_shift,
    weigh,
)
from leverwright.measure.tilt import TiltErrors, TiltReads, height_by_tilt, lift_for

CORNERS = np.array([[1.5, 0.5], [1.5, -0.5], [0.0, 0.5], [0.0, -0.5]])


def reads(*each, **more):
    return tuple(WheelReads(tuple(np.atleast_1d(one)), **more) for one in each)


def test_repeats_are_averaged_and_their_scatter_is_widened_by_students_t():
    """61.5, 62, 62.5: deviation 0.5 of two spare readings; t is 4.303, half of it on 0.5 is 1.076, over sqrt 3."""
    weighed = weigh(reads([61.5, 62.0, 62.5]), ScaleFacts())
    assert weighed.load == pytest.approx([62.0])
    t = stats.t.ppf(0.975, 2)
    assert math.sqrt(weighed.covariance[0, 0]) == pytest.approx(0.5 * t / 2 / math.sqrt(3), rel=1e-9)


def test_repeats_of_all_wheels_tell_the_scatter_together():
    each = reads([61.0, 62.0], [70.0, 71.0], [50.0, 51.0])
    assert pooled_error(each, ScaleFacts()) == pytest.approx(
        math.sqrt(0.5) * stats.t.ppf(0.975, 3) / 2, rel=1e-9
    )


def test_a_stated_error_is_that_of_one_reading():
    weighed = weigh(reads([62.0], [60.0, 61.0, 62.0, 63.0]), ScaleFacts(error=0.5))
    assert np.sqrt(np.diag(weighed.covariance)) == pytest.approx([0.5, 1 / math.sqrt(12)])  # rounds to 1 kg


def test_equal_repeats_do_not_make_a_scale_better_than_its_rounding():
    weighed = weigh(reads([62.5, 62.5, 62.5], [61.0, 61.0, 61.0]), ScaleFacts())
    assert np.sqrt(np.diag(weighed.covariance)) == pytest.approx([0.5 / math.sqrt(12)] * 2)


def test_nothing_states_an_error_so_none_is_told():
    assert np.isnan(weigh(reads([62.0], [61.0]), ScaleFacts()).covariance).any()


@pytest.mark.parametrize(("read", "closes"), [(20.9, True), (21.1, False), (18.9, False)])
def test_a_known_mass_of_20_kg_closes_within_a_kilogram(read, closes):
    (closure,) = weigh(reads([62.0]), ScaleFacts(error=0.5, known=(20.0, read))).closures
    assert closure.closes is closes
    assert closure.off == pytest.approx(read - 20)


def test_a_known_mass_read_wrongly_makes_every_wheel_err_alike():
    """2 kg too many at 20: 6.2 at 62 if it is the gain, over sqrt 3; the total errs by the sum."""
    weighed = weigh(reads([62.0], [62.0]), ScaleFacts(error=0.5, known=(20.0, 22.0)))
    assert weighed.covariance[0, 1] == pytest.approx((6.2 / math.sqrt(3)) ** 2)
    assert weighed.covariance.sum() == pytest.approx((12.4 / math.sqrt(3)) ** 2 + 2 * 0.25)


def test_the_sum_closes_within_two_per_cent_of_318_kg():
    wheels = reads([60.5], [60.5], [98.5], [98.5])
    assert [c.closes for c in weigh(wheels, ScaleFacts(total=324.0)).closures] == [True]
    assert [c.closes for c in weigh(wheels, ScaleFacts(total=325.0)).closures] == [False]


def test_repeats_that_differ_by_more_than_a_kilogram_do_not_close():
    closures = weigh(reads([40.0, 41.4, 40.6], [40.0, 40.5]), ScaleFacts()).closures
    assert [(c.kind, c.wheel, c.closes) for c in closures] == [("repeats", 0, False), ("repeats", 1, True)]


def test_cross_weight_is_left_front_and_right_rear():
    weighed = weigh(reads([55.0], [45.0], [45.0], [55.0]), ScaleFacts(error=1.0))
    value, sigma = cross_weight(weighed, (0, 3))
    assert value == pytest.approx(0.55)
    # by the wheels: 0.45 and -0.55 over 200 kg each
    assert sigma == pytest.approx(math.sqrt(2 * 0.45**2 + 2 * 0.55**2) / 200)


def test_centre_of_gravity_from_the_loads():
    at, covariance = balance_point(weigh(reads([60], [40], [60], [40]), ScaleFacts(error=1.0)), CORNERS)
    assert at == pytest.approx([0.75, 0.1])
    assert math.sqrt(covariance[0, 0]) == pytest.approx(
        0.75 * 2 / 200
    )  # four readings, 0.75 m off, over 200 kg


def test_a_plank_of_400_and_1000_makes_67_2_kg_into_155():
    """(67.2 - 5.1) / 0.4 = 155.25; ± 0.5 kg twice over 0.4 is 1.77, 5 mm of 400 is 1.94, 5 of 1000 is 0.78: 2.74."""
    value, sigma = over_plank(PlankLever(0.4, 1.0, 5.1, 0.5), 67.2, 0.5)
    assert value == pytest.approx(155.25)
    assert sigma == pytest.approx(2.74, abs=0.01)


def test_a_wheel_raised_38_mm_on_tyres_of_51_6_is_50_kg_wrong_and_so_is_its_diagonal():
    shift = raised_shift(CORNERS, np.full(4, 51.6e3), 0, 0.038) / 9.80665
    assert shift == pytest.approx([49.99, -49.99, -49.99, 49.99], abs=0.01)  # k h / 4


def test_a_raised_wheel_leaves_sum_and_moments_alone_whatever_the_rates():
    places = np.array([[1.4, 0.6], [1.4, -0.5], [0.0, 0.4], [0.1, -0.7]])
    shift = raised_shift(places, np.array([30e3, 40e3, 20e3, np.inf]), 2, 0.01)
    assert shift.sum() == pytest.approx(0, abs=1e-9)
    assert shift @ places == pytest.approx([0, 0], abs=1e-9)


def test_three_wheels_stand_on_any_ground_and_a_rigid_frame_on_rigid_wheels_on_none():
    assert raised_shift(CORNERS[:3], np.full(3, 3e4), 0, 0.038) == pytest.approx([0, 0, 0])
    assert np.isnan(raised_shift(CORNERS, np.full(4, np.inf), 0, 0.038)).all()


BUGGY = TiltReads(197.0, 207.9, 318.0, 0.25, 1.9, 0.23, 0.23)
SEVEN_TENTHS = TiltErrors(level=0.5, tilted=0.49)


def test_lifting_250_of_1900_gives_720_mm_with_32():
    height, sigma = height_by_tilt(BUGGY, SEVEN_TENTHS)
    assert height == pytest.approx(0.23 + 10.9 * 1.9 / (318 * math.tan(math.asin(0.25 / 1.9))), rel=1e-9)
    assert height == pytest.approx(0.72, abs=0.002)
    assert sigma == pytest.approx(0.032, abs=0.0005)


def test_lifting_400_instead_makes_it_19():
    lift, sigma = lift_for(BUGGY, SEVEN_TENTHS)
    assert lift == pytest.approx(0.4)
    assert sigma == pytest.approx(0.019, abs=0.0005)


@pytest.mark.parametrize(("lift", "per_kg"), [(0.1, 0.113), (0.25, 0.045), (0.4, 0.028)])
def test_each_kilogram_costs_as_the_story_says(lift, per_kg):
    reads_there = TiltReads(197.0, 205.0, 318.0, lift, 1.9, 0.23, 0.23)
    assert height_by_tilt(reads_there, TiltErrors(tilted=1.0))[1] == pytest.approx(per_kg, abs=0.0006)


@pytest.mark.parametrize("radii", [(0.23, 0.23), (0.23, 0.35), (0.35, 0.2)])
def test_unequal_wheels_give_the_height_that_made_the_readings(radii):
    """A body turned in the plane by rotating its three places; loads by moments about the wheel that stays down."""
    stays, lifted = radii
    base, ahead, high, total = 1.9, 0.72, 0.69, 318.0
    apart = math.hypot(base, lifted - stays)
    turned = math.asin((lifted - stays + 0.3) / apart) - math.asin((lifted - stays) / apart)
    turn = np.array([[math.cos(turned), -math.sin(turned)], [math.sin(turned), math.cos(turned)]])
    axle, mass = turn @ [base, lifted - stays], turn @ [ahead, high - stays]
    tilted = total * (1 - mass[0] / axle[0])
    assert axle[1] == pytest.approx(lifted - stays + 0.3)
    found = height_by_tilt(
        TiltReads(total * (1 - ahead / base), tilted, total, 0.3, base, *radii), TiltErrors()
    )
    assert found[0] == pytest.approx(high, abs=1e-12)


def test_a_lift_of_nothing_is_refused():
    with pytest.raises(ValueError, match="lift"):
        height_by_tilt(TiltReads(197, 207, 318, 0.0, 1.9, 0.23, 0.23), TiltErrors())
