"""Natural frequencies of a mass on springs, and springs in a row. All SI, floats or arrays alike.

Source: the undamped linear oscillator, any text on mechanical vibration.
"""

from __future__ import annotations

from typing import TypeVar, overload

import numpy as np

from leverwright.geometry import Array

__all__ = [
    "STANDARD_GRAVITY",
    "frequency_of_deflection",
    "hop_frequency",
    "natural_frequency",
    "series_rate",
    "stiffness_for_frequency",
]

STANDARD_GRAVITY = 9.80665  # m/s², by definition (3rd General Conference on Weights and Measures, 1901)

Real = TypeVar("Real", float, Array)


@overload
def natural_frequency(stiffness: float, mass: float) -> float: ...
@overload
def natural_frequency(stiffness: Array, mass: Array) -> Array: ...
def natural_frequency(stiffness: float | Array, mass: float | Array) -> float | Array:
    """Undamped natural frequency [Hz] = √(k/m) / 2π, of `mass` [kg] on `stiffness` [N/m].

    The stiffness is the local one, at the standing position, with the geometric term. Where it is
    not above 0 the mass has no frequency, it falls over: NaN, for the caller to say why.
    """
    share = np.divide(stiffness, mass)
    found: float | Array = np.sqrt(np.where(share > 0, share, np.nan))[()] / (2 * np.pi)
    return found


def stiffness_for_frequency(frequency: Real, mass: Real) -> Real:
    """Stiffness [N/m] on which `mass` [kg] has the natural `frequency` [Hz]: (2π f)² m."""
    found: Real = (2 * np.pi * frequency) ** 2 * mass
    return found


def frequency_of_deflection(deflection: Real, gravity: float = STANDARD_GRAVITY) -> Real:
    """Natural frequency [Hz] = √(g/δ) / 2π of a mass that a spring without preload lets down by δ [m].

    With preload or a rate that is not constant δ is load over local rate, not how far it sank.
    """
    found: Real = np.sqrt(np.divide(gravity, deflection)) / (2 * np.pi)
    return found


def series_rate(suspension: Real, tyre: Real) -> Real:
    """Stiffness [N/m] of suspension and tyre one upon the other = k·kt / (k + kt)."""
    found: Real = suspension * tyre / (suspension + tyre)
    return found


def hop_frequency(suspension: Real, tyre: Real, unsprung: Real) -> Real:
    """Wheel hop [Hz]: `unsprung` [kg] between tyre and suspension, the vehicle held still.

    = √((k + kt) / m) / 2π.
    """
    return natural_frequency(suspension + tyre, unsprung)
