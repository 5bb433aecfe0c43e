"""PUBLISHED rows C4, C5, C6: damped swings. R read in a worked-out companion of the book, C computed."""

import math

import pytest

from leverwright.ride import damping
from leverwright.ride.frequency import natural_frequency

INCH, POUND, POUND_FORCE = 0.0254, 0.45359237, 4.4482216152605
SLUG_INCH = POUND_FORCE / INCH  # N/m of 1 lb/in; kg of 1 lb·s²/in


def test_schaum_19_19_and_20():
    """C4, Schaum, Engineering Mechanics, p. 478: 12 lb, 20 lb/in, 10 lb at 20 in/s, g 386; 0.1 % (R, rounded)."""
    mass, stiffness = 12 / 386 * SLUG_INCH, 20 * SLUG_INCH
    natural = 2 * math.pi * natural_frequency(stiffness, mass)
    critical = damping.critical_damping(stiffness, mass)
    ratio = 10 / 20 * SLUG_INCH / critical
    assert natural == pytest.approx(25.364, rel=1e-3)
    assert critical / SLUG_INCH == pytest.approx(1.5770, rel=1e-3)
    assert ratio == pytest.approx(0.31705, rel=1e-3)
    assert damping.damped_frequency(natural, ratio) == pytest.approx(24.055, rel=1e-3)
    assert damping.log_decrement(ratio) == pytest.approx(2.1005, rel=1e-3)


def test_bevan_chapter_15_example_4():
    """C5, Bevan, p. 552: 50 lb on 100 lb/in, g 32.2 ft/s², ωn²/a² = 20.79 with a = c/m; 0.05 % (R)."""
    mass, stiffness = 50 / (32.2 * 12) * SLUG_INCH, 100 * SLUG_INCH
    natural = natural_frequency(stiffness, mass)
    per_mass = 2 * math.pi * natural / math.sqrt(20.79)
    ratio = per_mass * mass / damping.critical_damping(stiffness, mass)
    damped = damping.damped_frequency(natural, ratio)
    assert natural == pytest.approx(4.4244, rel=5e-4)
    assert ratio == pytest.approx(0.10966, rel=5e-4)
    assert damped == pytest.approx(4.3977, rel=5e-4)
    assert damped / natural == pytest.approx(0.99397, rel=5e-4)


def test_two_successive_peaks():
    """C6 (C; inputs read in a public student's script): 20 kg, 10 then 4.993 mm, 0.06 s apart; 0.1 %."""
    found = damping.swing_of_peaks(20, (10e-3, 4.993e-3), 0.06)
    assert found.decrement == pytest.approx(0.69455, rel=1e-3)
    assert found.ratio == pytest.approx(0.10987, rel=1e-3)
    assert found.stiffness == pytest.approx(222.0e3, rel=1e-3)
    assert found.damping == pytest.approx(463.0, rel=1e-3)


@pytest.mark.parametrize(("ratio", "next_swing"), [(0.1, 0.73), (0.2, 0.53), (0.3, 0.37), (0.4, 0.25)])
def test_each_swing_to_the_other_side(ratio, next_swing):
    """The trade's table (C): e^(−πζ/√(1−ζ²)), half of the decrement."""
    assert math.exp(-damping.log_decrement(ratio) / 2) == pytest.approx(next_swing, abs=0.005)
