"""Drawn bench tests: what they leave unsure of the standing height is what the covariance says."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from leverwright import Project, Study
from leverwright.assemble.spring_fit import SpringSources, spring_fit
from leverwright.measure.bench import fit_bench
from leverwright.measure.bench_points import BenchReadings

FINDINGS = Path(__file__).parents[1] / "findings"
G = 9.80665
MARKS = np.arange(0, 41, 5) * 1e-3
FORCE, MARK = 0.4 * G, 0.8e-3
STANDING = 0.024  # m of squash


def drawn(rng, push):
    moved = MARKS + rng.normal(0, MARK, len(MARKS))
    columns = [push(moved) + side + rng.normal(0, FORCE, len(MARKS)) for side in (20, -20)]
    return spring_fit(
        "drawn", SpringSources(fit_bench(BenchReadings(MARKS, columns[0], columns[1], FORCE, MARK))), ()
    )


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


def test_a_straight_spring_is_seldom_called_bent():
    """250 draws: at a hundredth for each of six shapes it was 3 in 100; five of 250 are more than chance allows now."""
    rng = np.random.default_rng(4)
    assert sum(bool(drawn(rng, lambda s: 90 + 17e3 * s).rows) for _ in range(250)) < 5


BENCHED = """
[shocks.coil]
length_open = 270
length_closed = 220

[bench.coil]
marks = [2, 10, 18, 26, 34, 42]
in = [13.6, 24.6, 39.6, 58.7, 81.9, 109.2]
out = [9.6, 20.6, 35.6, 54.7, 77.9, 105.2]
error = 0.5
mark_error = 1
"""


def test_the_slope_of_a_bent_spring_is_unsure_too_and_the_frequency_with_it():
    """Places and masses exact: the bounce is then as unsure, by share, as half the rate where it stands."""
    text = (FINDINGS / "unsprung-unstated" / "near_miss.toml").read_text(encoding="utf-8")
    head, _, rest = text.partition("[shocks.coil]")
    rest = rest[rest.index("[springs.shock]") :]
    study = Study(Project.from_text(head.replace("error = 0.5", "error = 0") + BENCHED + rest))
    shock = study.project.shocks["coil"]
    assert shock.table is not None
    assert shock.tilt > 200  # N/m: 1 mm at each of six marks over 40 mm, at some 20 N/mm
    answer = study.answers["front"].of["ride_frequency_without_tyre"]
    bare = replace(shock, tilt=0.0)
    flat = Study(replace(study.project, shocks={"coil": bare})).answers["front"]
    slope = study.figures[0].springs.rate[0, 0]
    with_tilt, without = (
        float(each.error or 0.0) for each in (answer, flat.of["ride_frequency_without_tyre"])
    )
    more = math.sqrt(with_tilt**2 - without**2)
    assert more / float(answer.value or 0.0) == pytest.approx(
        0.5 * shock.tilt / slope, rel=0.35
    )  # it stands lower or higher too


def test_the_slope_along_a_bent_spring_is_as_unsure_as_said():
    """Between the marks the slope is known a little better than at them, where it is stated."""
    rng = np.random.default_rng(4)
    off, said = [], []
    for fit in (drawn(rng, lambda s: 90 + 14e3 * s * (1 + 18 * s)) for _ in range(250)):
        if fit.bench.kind != "progressive":
            continue
        rows = np.array(fit.rows)
        slopes = np.diff(rows[:, 1]) / np.diff(rows[:, 0])
        middles = 0.5 * (rows[1:, 0] + rows[:-1, 0])
        off.append(np.sqrt(np.mean((slopes - 14e3 * (1 + 36 * middles)) ** 2)))
        said.append(fit.bench.slope_error)
    assert len(off) > 150
    assert np.sqrt(np.mean(np.square(off))) == pytest.approx(np.median(said), rel=0.25)
