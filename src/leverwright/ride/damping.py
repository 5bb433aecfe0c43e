"""Damped swings: critical damping, ratio, damped frequency, and damping from two peaks that follow each other. SI.

Source: the linear oscillator with viscous damping, any text on mechanical vibration.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

__all__ = [
    "Swing",
    "critical_damping",
    "damped_frequency",
    "log_decrement",
    "ratio_of_decrement",
    "swing_of_peaks",
]


def critical_damping(stiffness: float, mass: float) -> float:
    """Damping [N·s/m] above which nothing swings: 2 √(k m)."""
    return 2.0 * math.sqrt(stiffness * mass)


def damped_frequency(natural: float, ratio: float) -> float:
    """Frequency of the swing, in the unit of `natural`, at a damping ratio below 1."""
    return natural * math.sqrt(1.0 - ratio**2)


def log_decrement(ratio: float) -> float:
    """Natural logarithm [1] of one peak by the next on the same side: 2π ζ / √(1 − ζ²)."""
    return 2.0 * math.pi * ratio / math.sqrt(1.0 - ratio**2)


def ratio_of_decrement(decrement: float) -> float:
    """Damping ratio ζ [1] from the logarithm of one peak by the next: `log_decrement` turned round."""
    return decrement / math.hypot(2.0 * math.pi, decrement)


@dataclass(frozen=True, slots=True)
class Swing:
    """What two peaks tell: decrement and ratio [1], stiffness [N/m], damping [N·s/m]."""

    decrement: float
    ratio: float
    stiffness: float
    damping: float


def swing_of_peaks(mass: float, peaks: tuple[float, float], period: float) -> Swing:
    """Stiffness and damping of `mass` [kg] from two successive peaks [m] on one side, `period` [s] apart."""
    decrement = math.log(peaks[0] / peaks[1])
    ratio = ratio_of_decrement(decrement)
    natural = 2.0 * math.pi / period / math.sqrt(1.0 - ratio**2)
    stiffness = mass * natural**2
    return Swing(decrement, ratio, stiffness, ratio * critical_damping(stiffness, mass))
