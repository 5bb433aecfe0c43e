"""The ± of every answer is what moving each measured number does, added in squares.

Each coordinate, stated length, spring number and load of the file is written a little larger and a
little smaller, and the whole study is made again from the text: no derivative of the product's enters.
"""

from __future__ import annotations

import copy
import math
from typing import Any

import pytest

from leverwright.linkage import Layout
from leverwright.ride import Errors, Figures
from tests.properties.drawn import File, as_text, base, place_of
from tests.reference.product import study_of

By = dict[tuple[str, str, str], float]

STEP = 0.02  # mm each way: a second-order rest of some 1e-6, rounding of 1e-9 / 0.02
CLOSE = 2e-3  # of the ±: a ± is never shown to more than two figures


def with_tyre(name: str) -> File:
    file = base(name)
    for wheel in file["wheels"].values():
        wheel["tyre"] = 95
    return file


def answers(file: File) -> By:
    """Every figure by wheel, name and spring; what cannot be said is left out."""
    study = study_of(as_text(file))
    (sprung,), (figures,) = study.assemblies, study.figures
    return _by_key(sprung.assembly.layout, figures)


def errors(file: File) -> By:
    """One standard deviation of the same."""
    study = study_of(as_text(file))
    (sprung,), (found,) = study.assemblies, study.errors
    assert found is not None
    return _by_key(sprung.assembly.layout, found)


def _by_key(layout: Layout, figures: Figures | Errors) -> By:
    found: By = {}
    for w, wheel in enumerate(layout.wheel_names):
        found |= {(wheel, name, ""): float(row[w]) for name, row in figures.value.items()}
        for s, spring in enumerate(layout.line_names):
            found[wheel, "motion_ratio", spring] = float(figures.ratio[s, w])
            found[wheel, "heave_ratio", spring] = float(figures.heave[s])
    return {key: value for key, value in found.items() if not math.isnan(value)}


def moved_point(file: File, point: str, axis: int, by: float) -> File:
    other = copy.deepcopy(file)
    at = place_of(other["points"][point])
    at[axis] += by
    old = other["points"][point]
    other["points"][point] = {**old, "at": at} if isinstance(old, dict) else at
    return other


def moved_value(file: File, key: tuple[str, ...], by: float) -> File:
    other = copy.deepcopy(file)
    table: Any = other
    for part in key[:-1]:
        table = table[part]
    table[key[-1]] += by
    return other


def sums_of_squares(pairs: list[tuple[File, File, float]]) -> By:
    """Root of the summed squares over inputs; each pair is (up, down, sigma over the whole step)."""
    total: By = {}
    for up, down, share in pairs:
        high, low = answers(up), answers(down)
        for key, value in high.items():
            total[key] = total.get(key, 0.0) + ((value - low[key]) * share) ** 2
    return {key: math.sqrt(square) for key, square in total.items()}


def compare(file: File, pairs: list[tuple[File, File, float]]) -> None:
    said, expected = errors(file), sums_of_squares(pairs)
    assert said.keys() == expected.keys()
    for key, error in expected.items():
        assert said[key] == pytest.approx(error, rel=CLOSE), key


@pytest.mark.parametrize("name", ["flat-train", "flat-four-bar", "trailing-arm", "beam-axle"])
def test_tape_error_of_every_coordinate(name):
    """Each coordinate has a standard deviation of 1 mm."""
    file = with_tyre(name)
    carried = {p for points in file["bodies"].values() for p in points}
    carried -= {
        wheel["axis"][1] for wheel in file["wheels"].values() if "axis" in wheel
    }  # moves nothing asked here
    pairs = [
        (moved_point(file, point, axis, STEP), moved_point(file, point, axis, -STEP), 1.0 / (2 * STEP))
        for point in sorted(carried)
        for axis in range(len(place_of(file["points"][point])))
    ]
    compare(file, pairs)


def test_stated_errors_of_springs_loads_tyre_and_a_cut_length():
    """Coordinates exact; the rest with ± of its own."""
    exact = with_tyre("trailing-arm")
    exact["error"] = 0
    link = 234.0
    exact["bars"]["link"]["length"] = link
    sigma = {
        ("bars", "link", "length"): 0.5,
        ("shocks", "coil", "rate"): 1.5,
        ("shocks", "coil", "length_open"): 0.8,
        ("shocks", "coil", "length_closed"): 0.6,
        ("shocks", "coil", "preload"): 0.4,
        ("wheels", "wheel", "load"): 1.2,
        ("wheels", "wheel", "unsprung"): 0.3,
        ("wheels", "wheel", "tyre"): 6.0,
    }
    stated = copy.deepcopy(exact)
    for key, error in sigma.items():
        table: Any = stated
        for part in key[:-1]:
            table = table[part]
        table[key[-1]] = f"{table[key[-1]]} ± {error}"
    pairs = [
        (moved_value(exact, key, error * 0.02), moved_value(exact, key, -error * 0.02), 1 / 0.04)
        for key, error in sigma.items()
    ]
    compare(stated, pairs)


def test_friction_is_a_rectangular_band_about_the_standing_position():
    """JCGM 100 4.3.7: half-width over √3; 25 N at the spring, by the ratio, over the wheel rate."""
    exact = with_tyre("trailing-arm")
    exact["error"] = 0
    rubbing = copy.deepcopy(exact)
    rubbing["shocks"]["coil"]["friction"] = 25
    said, figures = errors(rubbing), answers(exact)
    ratio = figures["wheel", "motion_ratio", "spring"]
    rate = figures["wheel", "wheel_rate", ""]
    expected = 25 * ratio / math.sqrt(3) / rate
    assert said["wheel", "standing_travel", ""] == pytest.approx(expected, rel=1e-9)
    assert said["wheel", "sag", ""] == pytest.approx(expected, rel=1e-9)
    assert answers(rubbing)["wheel", "standing_travel", ""] == figures["wheel", "standing_travel", ""]
