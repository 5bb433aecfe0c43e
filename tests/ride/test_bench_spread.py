"""Drawn bench tests: what they leave unsure of the standing height is what the covariance says."""

import math

import numpy as np
import pytest

from leverwright.assemble.spring_fit import SpringSources, spring_fit
from leverwright.measure.bench import fit_bench
from leverwright.measure.bench_points import BenchReadings

G = 9.80665
MARKS = np.arange(0, 41, 5) * 1e-3
FORCE, MARK = 0.4 * G, 0.8e-3
STANDING = 0.024  # m of squash


def drawn(rng, push):
    moved = MARKS + rng.normal(0, MARK, len(MARKS))
    columns = [push(moved) + side + rng.normal(0, FORCE, len(MARKS)) for side in (20, -20)]
    return spring_fit("drawn", SpringSources(fit_bench(BenchReadings(MARKS, *columns, FORCE, MARK))), ())


def push_there(fit):
    """Force at the standing squash, and one standard deviation of it, as the filled vehicle has them."""
    if fit.rows:
        rows = np.array(fit.rows)
        force = float(np.interp(STANDING, rows[:, 0], rows[:, 1:].mean(axis=1))) + fit.gas.value
        return force, math.sqrt(fit.covariance[2, 2])
    gas = 0.0 if fit.gas is None else fit.gas.value
    force = fit.rate.value * (STANDING + fit.preload.value) + gas
    slopes = np.array([STANDING + fit.preload.value, fit.rate.value, 1.0])
    return force, math.sqrt(slopes @ fit.covariance @ slopes)


@pytest.mark.parametrize(
    ("push", "bent", "allowed"),
    [
        (lambda s: 90 + 17e3 * s, False, 0.15),
        # A table keeps only how high it may lie, taken at its middle: a little more or less elsewhere.
        (lambda s: 90 + 14e3 * s * (1 + 18 * s), True, 0.35),
    ],
    ids=["straight", "progressive"],
)
def test_force_where_it_stands_is_as_unsure_as_said(push, bent, allowed):
    """250 draws know a standard deviation to 4.5 %; three of those and the few that look of another kind: 15 %."""
    rng = np.random.default_rng(4)
    found = [push_there(fit) for fit in (drawn(rng, push) for _ in range(250)) if bool(fit.rows) is bent]
    assert len(found) > 200
    forces, sigmas = np.array(found).T
    assert forces.std() == pytest.approx(np.median(sigmas), rel=allowed)
    assert forces.mean() == pytest.approx(push(STANDING), abs=4 * forces.std() / math.sqrt(len(found)) + 1.5)
