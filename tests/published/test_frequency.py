"""PUBLISHED rows C1, C2, C3: natural frequency of a mass on a spring."""

from __future__ import annotations

import math

import numpy as np
import pytest

from leverwright.ride import frequency

GRAVITY = 9.81  # m/s², as the rows state
OUNCE, POUND, INCH = 0.028349523125, 0.45359237, 0.0254  # kg, kg, m, exact
POUND_FORCE = 4.4482216152605  # N, exact


@pytest.mark.parametrize(
    ("millimetre", "hertz"), [(10, 4.985), (25, 3.153), (40, 2.492), (100, 1.576), (150, 1.287)]
)
def test_frequency_of_a_static_deflection(millimetre, hertz):
    """C1 (C; the 10 mm case is Khurmi, Theory of Machines, ex. 4.3 p. 79, R 4.98 Hz); 0.1 %."""
    assert frequency.frequency_of_deflection(millimetre * 1e-3, GRAVITY) == pytest.approx(hertz, rel=1e-3)


@pytest.mark.parametrize(("hertz", "millimetre"), [(1, 248.5), (2, 62.1)])
def test_deflection_of_a_frequency(hertz, millimetre):
    """C1, the other way (C), 0.1 %."""
    stiffness = frequency.stiffness_for_frequency(hertz, 50.0)
    assert 50 * GRAVITY / stiffness * 1e3 == pytest.approx(millimetre, rel=1e-3)


def test_rule_of_thumb_constants():
    """C1: 15.76 / √mm and 3.127 / √in, in Hz (C), 0.1 %."""
    assert frequency.frequency_of_deflection(1e-3, GRAVITY) == pytest.approx(15.76, rel=1e-3)
    assert frequency.frequency_of_deflection(INCH, GRAVITY) == pytest.approx(3.127, rel=1e-3)


def test_period_of_a_weight_on_a_spring():
    """C2, Schaum, Engineering Mechanics, prob. 19-2 p. 465: 18 lb/in, 35 lb (R companion 0.45 s)."""
    found = frequency.natural_frequency(18 * POUND_FORCE / INCH, 35 * POUND)
    assert 1 / found == pytest.approx(0.4459, rel=1e-3)


def test_two_light_weights():
    """C3, Schaum 13-19 p. 244: 2 oz/in with 12 oz, and 22 N/m with 0.34 kg (R companion 1.28)."""
    ounce_force = POUND_FORCE / 16
    assert frequency.natural_frequency(2 * ounce_force / INCH, 12 * OUNCE) == pytest.approx(1.277, rel=1e-3)
    assert frequency.natural_frequency(22.0, 0.34) == pytest.approx(1.280, rel=1e-3)


def test_tyre_in_a_row_and_wheel_hop():
    """Arithmetic of story S6: 60.2 and 51.6 N/mm, 110 kg sprung, 45 kg unsprung; as printed there."""
    both = frequency.series_rate(60.2e3, 51.6e3)
    assert both / 1e3 == pytest.approx(27.8, abs=0.05)
    assert frequency.natural_frequency(both, 110.0) == pytest.approx(2.53, abs=0.005)
    assert frequency.hop_frequency(60.2e3, 51.6e3, 45.0) == pytest.approx(7.9, abs=0.05)


def test_a_spring_that_pushes_over_has_no_frequency():
    found = frequency.natural_frequency(np.array([-5.0, 0.0, 1.0]), np.array([1.0, 1.0, 1.0]))
    assert np.isnan(found).tolist() == [True, True, False]
    assert math.isnan(frequency.natural_frequency(-1.0, 2.0))
