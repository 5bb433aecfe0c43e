"""Bench tests of shocks: springs whose truth is known are read with a scale's steps and found again."""

import math

import numpy as np
import pytest

from leverwright.measure.bench import BenchFit, fit_bench
from leverwright.measure.bench_points import BenchReadings
from leverwright.measure.bench_unfit import unfit_by_readings

G = 9.80665
MARKS = np.arange(0, 41, 5) * 1e-3


def read(push, friction=20.0, marks=MARKS, turned=True, **more):
    """Readings in and out, rounded to half kilograms, of a spring that pushes `push`(squash)."""
    spring = push(marks)
    going_in, coming_out = (np.round((spring + sign * friction) / G * 2) / 2 * G for sign in (1, -1))
    if turned:
        coming_out[-1] = going_in[-1]
    return BenchReadings(marks, going_in, coming_out, **more)


def coil(squash):
    return 80.0 + 18e3 * squash


def changed(readings, mark, way, kilogram):
    column = readings.going_in if way == "in" else readings.coming_out
    column[mark] = kilogram * G
    return readings


# Story of the utility cart: kilograms in and out at 0, 10, 20, 30, 40 mm. Expected: mean of in and out at 0 to 30 mm,
# straight line; the story's own arithmetic, with 9.81 where we have 9.80665: 0.05 %.
CART = {
    "A": ([10.5, 29.5, 47.5, 66.0, 84.5], [6.5, 24.5, 43.0, 61.5, 84.5], (18.05, 84, 22)),
    "B": ([24.5, 43.0, 61.0, 80.0, 98.0], [20.0, 38.5, 57.0, 75.5, 98.0], (18.12, 218, 21.5)),
    "D": ([9.0, 25.5, 42.0, 58.0, 74.5], [5.0, 21.0, 37.5, 54.0, 74.5], (16.04, 68, 21)),
}


def cart(name, **more):
    going_in, coming_out, _ = CART[name]
    return BenchReadings(np.arange(5) * 0.01, np.array(going_in) * G, np.array(coming_out) * G, **more)


@pytest.mark.parametrize("name", CART)
def test_the_carts_shocks_are_what_the_story_computes(name):
    found = fit_bench(cart(name))
    rate, start, friction = CART[name][2]
    assert found.kind == "straight"
    assert found.rate / 1e3 == pytest.approx(rate, abs=0.01)
    assert found.start == pytest.approx(start, abs=0.6)
    assert found.friction == pytest.approx(friction, abs=0.3)
    assert found.left_out is None
    assert found.touch is None


def test_the_turning_point_is_no_mean_of_in_and_out():
    """Out equals in there because the shock has not come back yet: used as a mean it would lift the line."""
    found = fit_bench(cart("A"))
    assert found.turning == 4
    with_it = np.polyfit(np.arange(5) * 0.01, [8.5 * G, 27 * G, 45.25 * G, 63.75 * G, 84.5 * G], 1)
    assert found.rate < with_it[0] - 100


def test_a_true_reading_coming_out_of_the_last_mark_is_used():
    assert fit_bench(read(coil, turned=False)).turning is None


def test_errors_of_marks_and_scale_both_count():
    """Each mean of two: variance of half a reading and of the mark times the rate; four marks 10 mm apart."""
    found = fit_bench(cart("A", force_error=0.5 * G, mark_error=1e-3))
    one = math.hypot(0.5 * G / math.sqrt(2), found.rate * 1e-3)
    # 1 %: a mark's error counts with the median rate between marks, not with the fitted one.
    assert found.error[0] == pytest.approx(one / math.sqrt(500e-6), rel=0.01)
    assert found.error[2] == pytest.approx(0.5 * G / math.sqrt(8), rel=1e-6)


def test_two_readings_40_mm_apart_know_the_rate_to_3_7_percent():
    """1 mm and 0.5 kg at each end of 40 mm at 18 N/mm: 3.7 %; 25 mm 5.9 %; 10 mm 15 % (the trade's arithmetic)."""
    for span, share in ((0.040, 0.037), (0.025, 0.059), (0.010, 0.15)):
        marks = np.array([0.0, span])
        nothing = np.full(2, np.nan)
        found = fit_bench(BenchReadings(marks, 80 + 18e3 * marks, nothing, 0.5 * G, 1e-3))
        assert found.error[0] / found.rate == pytest.approx(share, rel=0.02)


def test_rate_and_start_force_err_together():
    """Turned about the middle of the marks a steeper line starts lower: covariance is minus rate's by the mean mark."""
    found = fit_bench(cart("A", force_error=0.5 * G, mark_error=1e-3))
    assert found.covariance[0, 1] == pytest.approx(-0.015 * found.covariance[0, 0], rel=1e-6)


def test_the_truth_lies_inside_the_stated_interval_and_straight_springs_stay_straight():
    """300 drawn tests, errors 0.3 kg and 0.7 mm: 95 % within 1.96 deviations give 285 ± 4; 4 σ of that allowed."""
    rng = np.random.default_rng(11)
    inside = bent = 0
    for _ in range(300):
        rate = rng.uniform(8e3, 40e3)
        moved = MARKS[::2] + rng.normal(0, 0.7e-3, 5)
        drawn = [
            np.round((100 + rate * moved + side + rng.normal(0, 0.3 * G, 5)) / G * 2) / 2 * G
            for side in (20, -20)
        ]
        found = fit_bench(BenchReadings(MARKS[::2], drawn[0], drawn[1], math.hypot(0.3, 0.144) * G, 0.7e-3))
        inside += abs(found.rate - rate) <= 1.96 * found.error[0]
        bent += found.kind != "straight" or found.left_out is not None
    assert 285 - 16 <= inside <= 300
    assert bent <= 0.06 * 300


@pytest.mark.parametrize("mark", range(8))  # the last stands for both ways: a high one is coils touching
@pytest.mark.parametrize("way", ["in", "out"])
def test_one_mistyped_reading_is_named(mark, way):
    """Two figures swapped, or ten kilograms too many: the others foretell it to a kilogram."""
    readings = read(coil, marks=MARKS)
    true = (readings.going_in if way == "in" else readings.coming_out)[mark] / G
    found = fit_bench(changed(readings, mark, way, true + 10))
    assert found.left_out is not None
    assert (found.left_out.mark, found.left_out.way) == (mark, way)
    assert found.left_out.expected == pytest.approx(true * G, abs=G)
    assert found.rate == pytest.approx(18e3, rel=0.01)


def test_no_reading_is_blamed_for_a_scale_that_scatters():
    readings = read(coil)
    off = np.array([1, -1, 0, 1, 1, -1, 0, -1, 0]) * 0.5 * G
    assert fit_bench(BenchReadings(MARKS, readings.going_in + off, readings.coming_out)).left_out is None


def test_readings_that_scatter_more_than_stated_make_the_error_larger():
    readings = read(coil, force_error=0.2 * G, mark_error=0.1e-3)
    shift = np.array([3, -3, 3, -3, 3, -3, 3, -3, 3]) * 0.5 * G
    found = fit_bench(
        BenchReadings(MARKS, readings.going_in + shift, readings.coming_out + shift, 0.2 * G, 0.1e-3)
    )
    assert found.excess > 3


def test_a_progressive_spring_becomes_rows():
    found = fit_bench(read(lambda s: 80 + 18e3 * s * (1 + 10 * s)))
    assert found.kind == "progressive"
    assert found.rates == pytest.approx((18e3, 18e3 * 1.8), rel=0.05)
    assert found.rows[:, 0] == pytest.approx(MARKS)
    mean = found.rows[:, 1:].mean(axis=1)
    assert mean == pytest.approx(80 + 18e3 * MARKS * (1 + 10 * MARKS), abs=3)
    assert found.rows[:, 1] - found.rows[:, 2] == pytest.approx(40, abs=1)


def test_a_spring_wound_with_two_rates_shows_its_knee():
    found = fit_bench(read(lambda s: 80 + 15e3 * s + 12e3 * np.maximum(0, s - 0.022)))
    assert found.kind == "two rates"
    assert found.knee == pytest.approx(0.022, abs=0.001)
    assert found.rates == pytest.approx((15e3, 27e3), rel=0.03)


@pytest.mark.parametrize("touching", [0.033, 0.036])
def test_coils_that_touch_are_seen_and_kept_out_of_the_rate(touching):
    found = fit_bench(read(lambda s: 80 + 18e3 * s + 250e3 * np.maximum(0, s - touching)))
    assert found.kind == "straight"
    assert found.touch is not None
    assert found.touch[0] <= touching <= found.touch[1]
    assert found.rate == pytest.approx(18e3, rel=0.01)


def test_a_shock_that_lay_on_its_own_end_is_no_mistyped_reading():
    """Fully open and not yet moving the scale reads less than the spring's push: nothing, or the shock's own weight."""
    found = fit_bench(changed(read(coil), 0, "in", 0.0))
    assert found.resting
    assert found.left_out is None
    assert found.start == pytest.approx(80, abs=4)


def test_going_in_alone_leaves_friction_in_the_start_force():
    readings = read(coil)
    found = fit_bench(BenchReadings(MARKS, readings.going_in, np.full(9, np.nan)))
    assert math.isnan(found.friction)
    assert found.start == pytest.approx(100, abs=4)
    # Up to a tenth of the mean force, 460 N, as likely here as there: 46 / √3; the true 80 lies within two of it.
    assert found.error[1] == pytest.approx(46 / math.sqrt(3), rel=0.05)
    assert found.rate == pytest.approx(18e3, rel=0.01)


def test_a_few_readings_out_are_enough_to_take_friction_off_the_others():
    readings = read(coil)
    readings.coming_out[[1, 3, 4, 5, 7]] = np.nan
    found = fit_bench(readings)
    assert found.start == pytest.approx(80, abs=4)
    assert found.friction == pytest.approx(20, abs=2)


def test_a_lever_that_may_be_wrong_makes_all_numbers_wrong_alike():
    found = fit_bench(cart("B", lever_error=0.013))
    plain = fit_bench(cart("B"))
    assert found.error[0] == pytest.approx(math.hypot(plain.error[0], 0.013 * plain.rate), rel=1e-9)
    more = found.covariance - plain.covariance
    assert more[0, 1] == pytest.approx(0.013**2 * plain.rate * plain.start, rel=1e-9)


@pytest.mark.parametrize("unit", [1.0, G, 4.4482216152605])
def test_units_do_not_matter(unit):
    """Readings that happen to be whole in one unit: the same spring comes out of each to what the steps leave."""
    rows = [np.round((coil(MARKS) + side) / unit) * unit for side in (20, -20)]
    found = fit_bench(BenchReadings(MARKS, *rows))
    assert found.rate == pytest.approx(18e3, abs=max(3 * found.error[0], 40))


@pytest.mark.parametrize("count", [0, 1])
def test_too_few_readings_give_no_rate(count):
    found = fit_bench(BenchReadings(MARKS[:count], coil(MARKS[:count]), coil(MARKS[:count]) - 40))
    assert isinstance(found, BenchFit)
    assert found.kind is None
    assert math.isnan(found.rate)


def test_two_marks_without_stated_errors_have_no_error_to_give():
    found = fit_bench(BenchReadings(MARKS[:2], coil(MARKS[:2]) + 20, coil(MARKS[:2]) - 20))
    assert found.rate == pytest.approx(18e3)
    assert math.isnan(found.error[0])


def test_readings_that_make_no_sense_are_fitted_or_left_but_never_break():
    """Zeros, noise, marks a hair apart, columns that are one: 300 draws; numpy's warnings are errors here."""
    rng = np.random.default_rng(3)
    for _ in range(300):
        count = int(rng.integers(1, 10))
        marks = np.cumsum(rng.choice([1e-9, 0.001, 0.01, 0.02], count))
        drawn = [
            np.zeros(count),
            np.full(count, 100.0),
            rng.normal(0, 500, count),
            np.round(80 + 18e3 * marks),
        ]
        going_in = drawn[rng.integers(0, 4)]
        out = [np.full(count, np.nan), going_in.copy(), going_in - 40, np.zeros(count)][rng.integers(0, 4)]
        errors = rng.choice([None, 0.0, 5.0]), rng.choice([None, 0.0, 1e-3])
        readings = BenchReadings(marks, going_in, out, *errors)
        found = fit_bench(readings)
        unfit_by_readings(readings, found)
        assert found.kind is None or math.isfinite(found.rate)
