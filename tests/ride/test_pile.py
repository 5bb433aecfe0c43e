"""The pile of shocks: story of the utility cart, ratio 0.80, stroke 60, 30 kg sprung empty and 62 kg loaded a wheel."""

import math

import pytest

from leverwright.ride.frequency import natural_frequency
from leverwright.ride.pile import Owned, pair_of, sought, stands, want_of
from leverwright.springs import ShockLaw

G = 9.80665
LOADED, EMPTY, RATIO = 62.0, 30.0, 0.80


def shock(name, rate, start, gas=None, **more):
    """N/mm and N at fully open."""
    law = ShockLaw(0.318, 0.258, rate * 1e3, (start - (gas or 0.0)) / rate / 1e3, gas or 0.0)
    return Owned(name, law, 100.0, gas, **more)


A = shock("A", 18.044, 83.60)
B = shock("B", 18.118, 217.95, 13.7 * G)
D = shock("D", 16.034, 68.40)


@pytest.mark.parametrize(
    ("owned", "empty", "loaded"), [(A, 19.7, 46.9), (B, 10.3, 37.4), (D, 23.3, 53.9)], ids="ABD"
)
def test_where_each_stands_before_trimming(owned, empty, loaded):
    """(F − P) / k / 0.8 with F = m g / 0.8; the story rounds with 9.81: 0.1 mm."""
    assert stands(owned, EMPTY, RATIO) / RATIO * 1e3 == pytest.approx(empty, abs=0.1)
    assert stands(owned, LOADED, RATIO) / RATIO * 1e3 == pytest.approx(loaded, abs=0.1)


def test_a_and_b_match_once_a_is_tightened():
    pair = pair_of(A, B, [LOADED, EMPTY], RATIO)
    assert pair.verdict == "trim"
    assert pair.rate_share == pytest.approx(0.004, abs=0.0005)
    assert pair.trim.tighten == "A"
    assert pair.trim.by * 1e3 == pytest.approx(7.4, abs=0.05)
    loaded, empty = pair.trimmed  # the story gives one number for both; their rates leave them 0.15 mm apart
    assert [1e3 * z for z in loaded] == pytest.approx([37.5, 37.5], abs=0.15)
    assert [1e3 * z for z in empty] == pytest.approx([10.4, 10.4], abs=0.1)


def test_b_sits_9_4_mm_high_at_both_loads():
    for first, second in pair_of(A, B, [LOADED, EMPTY], RATIO).sag:
        assert (first - second) * 1e3 == pytest.approx(9.4, abs=0.1)


def test_b_must_not_be_backed_off_instead():
    """Its coil carries 84 N of the 218: 4.6 mm, less than 7.4."""
    trim = pair_of(A, B, [LOADED, EMPTY], RATIO).trim
    assert trim.loosen_most is not None
    assert trim.loosen_most * 1e3 == pytest.approx(4.6, abs=0.05)
    assert not trim.may_loosen


def test_where_the_gas_is_not_known_nothing_is_said_of_loosening():
    unknown = shock("B", 18.118, 217.95)
    trim = pair_of(A, Owned("B", unknown.law, 100.0, None), [LOADED], RATIO).trim
    assert trim.loosen_most is None
    assert not trim.may_loosen


@pytest.mark.parametrize(("room", "has"), [(7e-3, False), (8e-3, True), (None, None)])
def test_a_tightened_coil_needs_the_room_to_coil_bind(room, has):
    owned = shock("A", 18.044, 83.60, bind_room=room)
    assert pair_of(owned, B, [LOADED], RATIO).trim.has_room is has


def test_a_and_d_cannot_be_trimmed_for_both_loads():
    """3.6 mm apart empty, 7.0 mm loaded; rates 12 % apart."""
    pair = pair_of(A, D, [LOADED, EMPTY], RATIO)
    assert pair.verdict == "no"
    assert pair.trim is None
    loaded, empty = pair.sag
    assert (loaded[1] - loaded[0]) * 1e3 == pytest.approx(7.0, abs=0.1)
    assert (empty[1] - empty[0]) * 1e3 == pytest.approx(3.6, abs=0.1)


def test_rates_seven_percent_apart_are_a_poor_pair():
    assert pair_of(A, shock("E", 19.3, 84), [LOADED], RATIO).verdict == "poor"


def test_two_alike_need_no_trimming():
    assert pair_of(A, shock("E", 18.2, 85), [LOADED], RATIO).verdict == "match"


def test_rhythm_and_sag_of_the_pair():
    """3.12 and 2.17 Hz; 14 % empty, 50 % loaded of 75 mm; untrimmed A would have been 62 %."""
    for load, hertz in ((EMPTY, 3.12), (LOADED, 2.17)):
        assert natural_frequency(18.044e3 * RATIO**2, load) == pytest.approx(hertz, abs=0.005)
    travel = A.stroke / RATIO
    assert travel == pytest.approx(0.075)
    loaded, empty = pair_of(A, B, [LOADED, EMPTY], RATIO).trimmed
    assert empty[0] / travel == pytest.approx(0.14, abs=0.005)
    assert loaded[0] / travel == pytest.approx(0.50, abs=0.005)
    assert stands(A, LOADED, RATIO) / RATIO / travel == pytest.approx(0.62, abs=0.006)


def test_the_ratio_a_shock_wants_puts_the_load_at_the_middle_of_the_band():
    """Standing at 35 % of 60 mm: 21 mm; F = 83.6 + 18.044 · 21 = 462.5 N carries 62 kg at 1.315; 45.6 mm of travel."""
    want = want_of(A, LOADED)
    assert want.ratio[1] == pytest.approx(LOADED * G / 462.5, rel=1e-3)
    assert want.wheel_travel == pytest.approx(0.060 / want.ratio[1])
    assert stands(A, LOADED, want.ratio[0]) == pytest.approx(0.40 * 0.060, rel=1e-6)
    assert stands(A, LOADED, want.ratio[2]) == pytest.approx(0.30 * 0.060, rel=1e-6)
    assert want.frequency == pytest.approx(natural_frequency(18.044e3 * want.ratio[1] ** 2, LOADED))


def test_what_to_look_for_when_none_fits():
    """0.8 and 75 mm of wheel: 60 mm, of which 760 N squash 30 to 40 %; 1.9 to 2.5 kN squash it whole."""
    found = sought(LOADED, RATIO, 0.075)
    assert found.stroke == pytest.approx(0.060)
    assert found.squash_force == pytest.approx((760 / 0.4, 760 / 0.3), rel=1e-4)


def test_a_load_too_large_and_one_that_preload_holds():
    assert math.isnan(stands(A, 500.0, RATIO))
    assert stands(B, 10.0, RATIO) == 0.0
