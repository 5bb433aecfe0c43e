"""The two shocks of a mirrored axle close together on paper; on the real thing one is first, and nobody knows which."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from leverwright import Project, Study

TRAILER = Path(__file__).parents[2] / "examples" / "hay-trailer.toml"
DRAWS = 60
SCATTER = 0.3  # of a root mean square of 60 draws: three of its own standard deviations, 1 / sqrt(2 x 60)


def drawn(project, rng):
    points = {
        name: replace(
            point,
            at=tuple(
                x + rng.normal() * (project.error if e is None else e)
                for x, e in zip(point.at, point.errors, strict=True)
            ),
        )
        for name, point in project.points.items()
    }

    def off(quantity):
        if quantity is None or quantity.error is None:
            return quantity
        return replace(quantity, value=quantity.value + rng.normal() * quantity.error)

    shocks = {
        name: replace(
            shock,
            rate=off(shock.rate),
            preload=off(shock.preload),
            length_open=off(shock.length_open),
            length_closed=off(shock.length_closed),
        )
        for name, shock in project.shocks.items()
    }
    wheels = {name: replace(wheel, load=off(wheel.load)) for name, wheel in project.wheels.items()}
    return replace(project, points=points, shocks=shocks, wheels=wheels)


def test_both_sides_are_as_unsure_and_as_unsure_as_drawn_axles():
    project = Project.read(TRAILER)
    answers = Study(project).answers
    left, right = answers["axle-left"].of, answers["axle-right"].of
    rng = np.random.default_rng(7)
    draws = [Study(drawn(project, rng), quick=True).answers["axle-left"].of for _ in range(DRAWS)]
    for name in ("bump_left", "sag_percent"):
        assert left[name].error == pytest.approx(right[name].error, rel=1e-6)
        off = np.array([draw[name].value for draw in draws]) - left[name].value
        # About the stated value, not about their mean: the first of two to close comes before either.
        assert left[name].error == pytest.approx(np.sqrt(np.mean(off**2)), rel=SCATTER)
