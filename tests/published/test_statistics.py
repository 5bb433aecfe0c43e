"""PUBLISHED rows H1, H2, H3: repeats that hang together, a line, a curve that is not linear in its numbers.

H1: JCGM 100:2008 (GUM), example H.2; readings from memory (M), means and uncertainties as printed there.
H2, H3: NIST Statistical Reference Datasets, Norris and Misra1a; data and certified values as read (R) in SciPy's own
tests and recomputed (C).
"""

from __future__ import annotations

import numpy as np
import pytest

from leverwright.measure.fitting import fit_curve, fit_linear
from leverwright.measure.repeats import carried, mean_of_repeats


def test_example_h_2_resistance_and_reactance():
    """Voltage, current and phase read five times together; R, X and Z hang together strongly."""
    readings = np.array(
        [
            [5.007, 19.663e-3, 1.0456],
            [4.994, 19.639e-3, 1.0438],
            [5.005, 19.640e-3, 1.0468],
            [4.990, 19.685e-3, 1.0428],
            [4.999, 19.678e-3, 1.0433],
        ]
    )

    def impedance(read):
        whole = read[0] / read[1]
        return np.array([whole * np.cos(read[2]), whole * np.sin(read[2]), whole])

    found = carried(mean_of_repeats(readings), impedance)
    assert found.value == pytest.approx([127.7322, 219.8465, 254.2597], rel=1e-6)
    assert found.error == pytest.approx([0.0711, 0.2956, 0.2363], rel=1e-3)
    together = found.correlation[np.triu_indices(3, 1)]
    assert together == pytest.approx([-0.5884, -0.4853, 0.9925], abs=1e-3)


# fmt: off
NORRIS = np.array([
    [0.1, 0.2], [338.8, 337.4], [118.1, 118.2], [888.0, 884.6], [9.2, 10.1], [228.1, 226.5], [668.5, 666.3],
    [998.5, 996.3], [449.1, 448.6], [778.9, 777.0], [559.2, 558.2], [0.3, 0.4], [0.1, 0.6], [778.1, 775.5],
    [668.8, 666.9], [339.3, 338.0], [448.9, 447.5], [10.8, 11.6], [557.7, 556.0], [228.3, 228.1], [998.0, 995.8],
    [888.8, 887.6], [119.6, 120.2], [0.3, 0.3], [0.6, 0.3], [557.6, 556.8], [339.3, 339.1], [888.0, 887.2],
    [998.5, 999.0], [778.9, 779.0], [10.2, 11.1], [117.6, 118.3], [228.9, 229.2], [668.4, 669.1], [449.2, 448.9],
    [0.2, 0.5],
])
# fmt: on


def test_norris_line():
    """Thirty-six pairs, y before x as the dataset lists them: certified values and standard deviations."""
    y, x = NORRIS.T
    found = fit_linear(np.stack([np.ones(36), x], axis=1), y)
    assert found.value == pytest.approx([-0.262323073774029, 1.00211681802045], rel=1e-9)
    assert np.sqrt(np.diag(found.covariance)) == pytest.approx(
        [0.232818234301152, 0.429796848199937e-3], rel=1e-9
    )
    assert found.spare == 34


MISRA_X = [77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0]
MISRA_Y = [
    10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78,
]  # fmt: skip


@pytest.mark.parametrize("start", [(500.0, 1e-4), (250.0, 5e-4)])
def test_misra1a_curve(start):
    """y = b1 (1 − exp(−b2 x)) from both of the starting points that the dataset asks for."""
    x = np.array(MISRA_X)

    def curve(value):
        fall = np.exp(-value[1] * x)
        return value[0] * (1 - fall), np.stack([1 - fall, value[0] * x * fall], axis=1)

    found = fit_curve(curve, np.array(start), np.array(MISRA_Y))
    assert found.value == pytest.approx([238.94212918, 5.5015643181e-4], rel=1e-6)
    assert np.sqrt(np.diag(found.covariance)) == pytest.approx([2.7070075241, 7.2668688436e-6], rel=1e-6)
    assert found.square_sum == pytest.approx(0.12455138894, rel=1e-6)
