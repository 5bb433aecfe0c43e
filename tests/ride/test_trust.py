"""Close to dead centre the linear ± is wrong, and the program says so."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from leverwright import Project, Study

FILE = Path(__file__).parents[2] / "examples" / "gravity-racer-equal.toml"
SIGMA = 1.5e-3
AXES = (0, 2)
WHEEL = "front"


def turned(degrees: float) -> Project:
    """The racer with its link hole turned about the rocker's pivot, up from level: towards dead centre."""
    project = Project.read(FILE)
    pivot = np.array(project.points["rocker-pivot"].at)
    angle = np.deg2rad(degrees)
    hole = pivot + 0.060 * np.array([np.cos(angle), 0.0, np.sin(angle)])
    points = {
        name: replace(
            point, errors=(SIGMA, 0.0, SIGMA), at=tuple(map(float, hole)) if name == "link-hole" else point.at
        )
        for name, point in project.points.items()
    }
    shocks = {name: replace(shock, friction=None) for name, shock in project.shocks.items()}
    return replace(project, points=points, shocks=shocks)


def ratio(project: Project, shift: np.ndarray | None = None) -> float:
    """Heave ratio at the standing position, every place moved by a row (N, 2) m; NaN where it cannot stand."""
    if shift is not None:
        points = {}
        for (name, point), by in zip(project.points.items(), shift, strict=True):
            points[name] = replace(point, at=(point.at[0] + float(by[0]), 0.0, point.at[2] + float(by[1])))
        project = replace(project, points=points)
    (value,) = (a.value for a in Study(project, quick=True).answers[WHEEL].heave_ratio.values())
    return np.nan if value is None else value


@pytest.fixture(scope="module")
def near() -> Project:
    """15.6 degrees from dead centre where it stands."""
    return turned(100.0)


def test_the_lopsidedness_is_that_of_whole_vehicles_two_deviations_away(near: Project) -> None:
    count = len(near.points) * 2
    steps = np.eye(count).reshape(count, -1, 2) * 2e-5
    slope = np.array([ratio(near, s) - ratio(near, -s) for s in steps]) / 4e-5
    worst = (slope / np.linalg.norm(slope)).reshape(-1, 2) * 2.0 * SIGMA
    here, up, down = ratio(near), ratio(near, worst), ratio(near, -worst)
    bend = 0.5 * (up + down - 2.0 * here) / (2.0 * SIGMA * np.linalg.norm(slope))
    assert bend > 0.2
    (errors,) = Study(near).errors
    assert errors is not None
    # Where it stands bends too, which the look from the standing position leaves out.
    assert errors.bend[0] == pytest.approx(bend, rel=0.5)


def test_drawn_vehicles_stand_nowhere_though_the_spread_says_nothing_of_it(near: Project) -> None:
    answer = Study(near).answers[WHEEL].heave_ratio["shock"]
    assert answer.value is not None
    assert answer.error is not None
    draw = np.random.default_rng(1)
    drawn = np.array([ratio(near, SIGMA * draw.normal(size=(len(near.points), 2))) for _ in range(60)])
    lost = float(np.mean(np.isnan(drawn)))
    # A normal spread of this size puts one vehicle in 10^15 on dead centre: the ratio would be without bound there.
    assert lost > 0.03
    assert answer.because is not None
    assert "close to dead centre" in answer.because


def test_every_answer_that_hangs_on_the_ratio_says_so(near: Project) -> None:
    answers = Study(near).answers[WHEEL]
    for name in ("wheel_rate", "heave_rate", "ride_frequency_without_tyre"):
        assert "close to dead centre" in (answers.of[name].because or ""), name
    assert answers.of["sag"].because is None


@pytest.mark.parametrize("degrees", [0.0, 60.0])
def test_away_from_dead_centre_nothing_is_said_and_the_spread_holds(degrees: float) -> None:
    study = Study(turned(degrees))
    answer = study.answers[WHEEL].heave_ratio["shock"]
    assert answer.because is None
    (errors,) = study.errors
    assert errors is not None
    assert errors.bend[0] < 0.25
