"""The ± of answers where measured numbers err together, by drawing all of them and solving the vehicle again."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from leverwright import Project, Study
from leverwright.assemble import Block, Measured

EXAMPLES = Path(__file__).parents[2] / "examples"
WHEEL = "front"
DRAWS = 120
CAUSES = 5
STEP = 2e-5  # m each way: a second-order rest of 1e-6 of a ratio, rounding of 1e-9 / 2e-5


def of(project: Project, covariance: np.ndarray, inputs: list[tuple[str, ...]]) -> Study:
    """The study of a project some of whose numbers err together."""
    study = Study(project)
    study.__dict__["measured"] = Measured(project, blocks=(Block(tuple(inputs), covariance),))
    return study


def figures(project: Project) -> np.ndarray:
    found = Study(project, quick=True).answers[WHEEL]
    values = [*found.motion_ratio.values(), found.of["sag"], found.of["ride_frequency_without_tyre"]]
    return np.array([answer.value for answer in values], dtype=float)


def spreads(study: Study) -> np.ndarray:
    found = study.answers[WHEEL]
    values = [*found.motion_ratio.values(), found.of["sag"], found.of["ride_frequency_without_tyre"]]
    return np.array([answer.error for answer in values], dtype=float)


def exact(project: Project) -> Project:
    """The same vehicle with no ± anywhere."""

    def bare(part: Any, keys: tuple[str, ...]) -> Any:
        stated = {key: getattr(part, key) for key in keys if getattr(part, key) is not None}
        return replace(part, **{key: replace(value, error=None) for key, value in stated.items()})

    points = {n: replace(p, error=0.0, errors=(0.0, 0.0, 0.0)) for n, p in project.points.items()}
    shocks = {
        n: bare(replace(s, friction=None), ("rate", "length_open", "length_closed", "preload", "gas"))
        for n, s in project.shocks.items()
    }
    wheels = {n: bare(w, ("radius", "load", "unsprung", "tyre")) for n, w in project.wheels.items()}
    bars = {n: bare(b, ("length",)) for n, b in project.bars.items()}
    return replace(project, points=points, shocks=shocks, wheels=wheels, bars=bars)


@pytest.fixture(scope="module")
def racer() -> Project:
    return exact(Project.read(EXAMPLES / "gravity-racer.toml"))


def shifted(project: Project, shift: np.ndarray) -> Project:
    """Every place moved by a row (N, 2) m of x and z."""
    moved = {}
    for (name, point), by in zip(project.points.items(), shift, strict=True):
        moved[name] = replace(point, at=(point.at[0] + float(by[0]), 0.0, point.at[2] + float(by[1])))
    return replace(project, points=moved)


def test_places_that_err_together_spread_the_answers_as_moving_and_drawing_them_does(racer: Project) -> None:
    """A covariance of low rank: five causes move all fourteen coordinates."""
    inputs = [("point", n, axis) for n in racer.points for axis in "xz"]
    count = len(inputs)
    draw = np.random.default_rng(11)
    root = 0.3e-3 * draw.normal(size=(count, CAUSES))
    sigma = np.sqrt(np.einsum("kc,kc->k", root, root)).reshape(-1, 2)
    stated = {
        name: replace(point, errors=(float(own[0]), 0.0, float(own[1])))
        for (name, point), own in zip(racer.points.items(), sigma, strict=True)
    }
    measured = replace(racer, points=stated)
    linear = spreads(of(measured, root @ root.T, inputs))
    steps = np.eye(count).reshape(count, -1, 2) * STEP
    slope = np.array([figures(shifted(racer, s)) - figures(shifted(racer, -s)) for s in steps]) / (2 * STEP)
    assert linear == pytest.approx(np.sqrt(np.einsum("kf,kc,lc,lf->f", slope, root, root, slope)), rel=2e-3)
    drawn = [figures(shifted(racer, (root @ draw.normal(size=CAUSES)).reshape(-1, 2))) for _ in range(DRAWS)]
    # 120 draws tell a deviation to 6.5 %; three of those.
    assert np.array(drawn).std(axis=0) == pytest.approx(linear, rel=0.195)
    apart = spreads(of(measured, np.diag(sigma.ravel() ** 2), inputs))
    assert np.abs(apart / linear - 1.0).max() > 0.1  # apart they would spread otherwise


def test_rate_and_preload_that_err_against_each_other_spread_the_sag_less(racer: Project) -> None:
    name = next(iter(racer.shocks))
    shock = racer.shocks[name]
    assert shock.rate is not None
    assert shock.preload is not None
    sigma = np.array([0.05 * shock.rate.value, 1e-3])
    stated = {
        **racer.shocks,
        name: replace(
            shock,
            rate=replace(shock.rate, error=float(sigma[0])),
            preload=replace(shock.preload, error=float(sigma[1])),
        ),
    }
    inputs = [("shock", name, "rate"), ("shock", name, "preload")]
    sags = []
    for correlation in (-0.95, 0.0, 0.95):
        covariance = np.outer(sigma, sigma) * np.array([[1.0, correlation], [correlation, 1.0]])
        sags.append(spreads(of(replace(racer, shocks=stated), covariance, inputs))[-2])
    assert sags[0] < sags[1] < sags[2]
    # Var = a² + 2 r a b + b²: the mean of both extremes is the independent one.
    assert (sags[0] ** 2 + sags[2] ** 2) / 2 == pytest.approx(sags[1] ** 2, rel=1e-6)


def test_numbers_in_a_block_without_correlation_spread_as_without_a_block(racer: Project) -> None:
    project = Project.read(EXAMPLES / "gravity-racer.toml")
    assert project.error is not None
    inputs = [("point", n, axis) for n in project.points for axis in "xz"]
    blocked = spreads(of(project, np.eye(len(inputs)) * project.error**2, inputs))
    assert blocked == pytest.approx(spreads(Study(project)), rel=1e-9)
