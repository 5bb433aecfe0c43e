"""The vehicle that was measured by tape alone, against the places that its builder never sees."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from leverwright import Project, Study

FILE = Path(__file__).parents[2] / "examples" / "taped-milk-cart.toml"
WHEEL = "rear-left"

# mm; the drawing that the readings were taken from, with an error of 1 mm drawn by a die for each.
TRUE = {
    "dot-a-left": (40, 182, 312),
    "dot-b-left": (62, 238, 588),
    "dot-c-left": (-285, 214, 602),
    "dot-d-left": (-148, 96, 338),
    "arm-pivot-in-left": (0, 150, 300),
    "arm-pivot-out-left": (0, 250, 300),
    "arm-tab-left": (-210, 200, 270),
    "hub-left": (-420, 300, 250),
    "spindle-left": (-420, 400, 250),
    "link-hole-left": (-226, 200, 456),
    "rocker-pivot-in-left": (-160, 170, 480),
    "rocker-pivot-out-left": (-160, 230, 480),
    "spring-hole-left": (-187, 200, 555),
    "spring-eye-left": (150, 200, 570),
}


@pytest.fixture(scope="module")
def cart():
    return Study(Project.read(FILE))


@pytest.fixture(scope="module")
def truth(cart):
    """The same vehicle with its true places, exact."""
    points = {}
    for name, point in cart.file.points.items():
        x, y, z = TRUE[name.replace("-right", "-left")]
        at = (x / 1e3, (y if name.endswith("-left") else -y) / 1e3, z / 1e3)
        points[name] = replace(point, at=at, sketched=False, error=0.0, errors=(0.0, 0.0, 0.0))
    return Study(replace(cart.file, points=points, tape={}))


def test_no_place_of_it_was_measured_as_a_coordinate(cart):
    assert all(point.sketched for point in cart.file.points.values())
    off = [
        np.linalg.norm(np.array(point.at) * 1e3 - TRUE[name])
        for name, point in cart.file.points.items()
        if name in TRUE
    ]
    assert max(off) > 20  # mm: by eye


def test_four_dots_six_distances_four_tapes_a_hole(cart):
    tapes = [set(t.points) for t in cart.file.tape.values() if t.kind == "between"]
    dots = {n for n in TRUE if n.startswith("dot")}
    assert sum(points < dots for points in tapes) == 6
    for hole in TRUE.keys() - dots:
        assert sum(hole in points and bool(points & dots) for points in tapes) == 4, hole


def test_its_places_are_true_within_their_spread(cart):
    result = cart.measured.tapes.network
    own = [k for k, original in enumerate(result.network.twin_of) if k == original]
    off = result.places[own] - np.array([TRUE[result.network.names[k]] for k in own]) / 1e3
    off[:, [0, 2]] -= off[:, [0, 2]].mean(axis=0)  # where its origin lies is the sketch's word
    sigma = np.sqrt(np.einsum("ncnc->nc", result.covariance))[own]
    assert np.abs(off / sigma).max() < 3.5  # 42 coordinates: one in fifty lots of them passes that
    assert np.sqrt(np.mean((off / sigma) ** 2)) < 1.5
    assert result.agrees
    assert not result.suspects
    assert not result.loose


@pytest.mark.parametrize(
    "name", ["sag", "ride_frequency_without_tyre", "dead_centre_bump", "dead_centre_droop"]
)
def test_the_truth_lies_in_what_it_says_of_each_answer(cart, truth, name):
    found, true = cart.answers[WHEEL].of[name], truth.answers[WHEEL].of[name]
    assert found.error is not None
    assert abs(found.value - true.value) < 2.0 * found.error


def test_ratio_as_drawn_and_its_spread(cart, truth):
    found, true = (study.answers[WHEEL].motion_ratio["spring-left"] for study in (cart, truth))
    assert true.value == pytest.approx(0.567, abs=5e-4)  # as the file says on top
    assert abs(found.value - true.value) < 2.0 * found.error
    assert 0.01 < found.error < 0.03  # 1 mm on arms of 70 and 80 mm is 1.4 and 1.3 %, and pivots err too


def test_errors_of_places_by_themselves_would_tell_another_spread(cart):
    apart = Study(cart.project)  # each coordinate with its ±, as if they had nothing to do with each other
    one, other = ({n: a.error for n, a in s.answers[WHEEL].of.items() if a.error} for s in (cart, apart))
    assert max(abs(other[name] / one[name] - 1.0) for name in one) > 0.1
