"""A tyre's rate by scale and ruler."""

import math

import numpy as np
import pytest

from leverwright.measure.tyre import tyre_rate

G = 9.80665


def test_the_swamp_buggys_tyre():
    """Story: 50 kg more lower the axle 9.5 mm: 51.6 N/mm."""
    found = tyre_rate(np.array([105.0, 155.0]) * G, np.array([0.400, 0.3905]))
    assert found.rate / 1e3 == pytest.approx(51.6, abs=0.05)
    assert math.isnan(found.error)


def test_ruler_and_scale_both_leave_it_unsure():
    """Two readings: share² = 2 · ((1 kg / 50 kg)² + (0.5 mm / 9.5 mm)²)."""
    found = tyre_rate(np.array([105.0, 155.0]) * G, np.array([0.400, 0.3905]), 1 * G, 0.5e-3)
    share = math.sqrt(2 * ((1 / 50) ** 2 + (0.5 / 9.5) ** 2))
    assert found.error / found.rate == pytest.approx(share, rel=1e-6)


def test_more_loads_in_any_order_and_a_tyre_that_stiffens():
    sunk = np.array([0.010, 0.0, 0.005, 0.015])
    straight = tyre_rate(500 + 50e3 * sunk, 0.4 - sunk)
    assert straight.rate == pytest.approx(50e3)
    assert straight.bend == pytest.approx(0, abs=1e-3)
    assert tyre_rate(500 + 50e3 * sunk + 1e6 * sunk**2, 0.4 - sunk).bend == pytest.approx(30e3, rel=1e-6)


def test_repeats_of_two_loads_tell_a_rate_and_no_bend():
    """Twice the readings: the variance is half."""
    load = np.array([100.0, 100.0, 150.0, 150.0]) * G
    found = tyre_rate(load, np.array([0.400, 0.400, 0.3905, 0.3905]), 0.5 * G, 1e-3)
    assert found.rate == pytest.approx(50 * G / 9.5e-3)
    assert found.bend == 0
    one = tyre_rate(load[[0, 2]], np.array([0.400, 0.3905]), 0.5 * G, 1e-3)
    assert found.error == pytest.approx(one.error / math.sqrt(2))


def test_a_tyre_that_does_not_sink_is_refused():
    with pytest.raises(ValueError, match="stands lower"):
        tyre_rate(np.array([500.0, 900.0]), np.array([0.4, 0.4]))
