"""The cart taped again on other days: how often the truth lies in what is said."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from leverwright import Project, Study
from leverwright.quantity import Quantity
from tests.examples.test_taped import TRUE, WHEEL

FILE = Path(__file__).parents[2] / "examples" / "taped-milk-cart.toml"
DAYS = 40
SIGMA = 1e-3
FIGURES = ("sag", "ride_frequency_without_tyre", "dead_centre_bump")


def place(name: str) -> np.ndarray:
    side = 1.0 if name.endswith("-left") else -1.0
    return np.array(TRUE[name.replace("-right", "-left")]) * [1.0, side, 1.0] / 1e3


@pytest.fixture(scope="module")
def cart() -> Project:
    """The example with nothing uncertain but its tapes."""
    project = Project.read(FILE)
    shocks = {
        n: replace(
            s, **{k: replace(getattr(s, k), error=None) for k in ("rate", "length_open", "length_closed")}
        )
        for n, s in project.shocks.items()
    }
    wheels = {}
    for n, w in project.wheels.items():
        assert w.load is not None
        wheels[n] = replace(w, load=replace(w.load, error=None))
    return replace(project, shocks=shocks, wheels=wheels)


def taped_on(cart: Project, seed: int) -> Study:
    draw = np.random.default_rng(seed)
    tapes = {}
    for name, tape in cart.tape.items():
        ends = [place(p) for p in tape.points]
        true = ends[0][2] if tape.kind == "height" else float(np.linalg.norm(ends[0] - ends[1]))
        tapes[name] = replace(tape, reads=(Quantity(true + SIGMA * float(draw.normal()), None, "length"),))
    return Study(replace(cart, tape=tapes))


def told(study: Study) -> list[tuple[float, float]]:
    answers = study.answers[WHEEL]
    each = [*(answers.of[name] for name in FIGURES), answers.motion_ratio["spring-left"]]
    return [(a.value or np.nan, np.nan if a.error is None else a.error) for a in each]


def test_the_truth_lies_in_the_interval_as_often_as_it_says(cart: Project) -> None:
    points = {
        n: replace(p, at=tuple(map(float, place(n))), sketched=False, error=0.0, errors=(0.0, 0.0, 0.0))
        for n, p in cart.points.items()
    }
    true = np.array([value for value, _ in told(Study(replace(cart, points=points, tape={})))])
    off = np.array(
        [[(v - t) / e for (v, e), t in zip(told(taped_on(cart, s)), true, strict=True)] for s in range(DAYS)]
    )
    # The four figures go together, so that this is little more than 40 draws: sigma to 11 %, the share to 3.4 %.
    assert np.abs(off.std() - 1.0) < 0.3
    assert 0.85 < np.mean(np.abs(off) < 2.0) <= 1.0
