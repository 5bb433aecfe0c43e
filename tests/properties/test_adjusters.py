"""Both ends of an adjustable bar answer as the same vehicle does with that length written in its file."""

from __future__ import annotations

import copy
import math

import numpy as np
import pytest

from leverwright.ride import NEAR, Figures
from tests.properties.drawn import File, as_text, base
from tests.reference.product import study_of
from tests.reference.vehicle import read

# What the sweep's number of poses does not touch.
NAMES = (
    "standing_travel",
    "sag",
    "bump_left",
    "wheel_rate",
    "ride_frequency_without_tyre",
)


def with_bar(name: str, bar: str, **keys: object) -> File:
    file = copy.deepcopy(base(name))
    file["bars"][bar] |= keys
    return file


def alike(one: Figures, other: Figures) -> None:
    for name in NAMES:
        assert one.value[name] == pytest.approx(other.value[name], rel=1e-6, abs=1e-9, nan_ok=True), name
    # Far dead centres are not looked for at the ends of a thread; those within 60 mm of the set-up pose are.
    found, asked = one.value["dead_centre_bump"], other.value["dead_centre_bump"]
    far = np.isnan(found) & (asked + other.value["standing_travel"] > NEAR)
    assert found[~far] == pytest.approx(asked[~far], rel=1e-6, nan_ok=True)
    assert one.ratio == pytest.approx(other.ratio, rel=1e-6)
    assert one.heave == pytest.approx(other.heave, rel=1e-6)


@pytest.mark.parametrize(
    ("name", "bar", "adjust"),
    [("flat-train", "link", [-6, 9]), ("wishbone-corner", "push", [-5, 7]), ("beam-axle", "push-l", [-4, 6])],
)
def test_ends_of_the_thread(name, bar, adjust):
    measured = read(name).bar_length[bar] * 1e3
    (adjuster,) = study_of(as_text(with_bar(name, bar, adjust=adjust))).adjusters
    settings = (adjuster.shortest, adjuster.longest)
    for change, setting in zip(adjust, settings, strict=True):
        (cut,) = study_of(as_text(with_bar(name, bar, length=measured + change))).figures
        assert setting.change == pytest.approx(change * 1e-3)
        alike(setting.figures, cut)
    heights = [float(s.figures.value["standing_travel"][0]) for s in settings]
    assert not math.isclose(heights[0], heights[1], abs_tol=1e-3)  # the screw does something


def test_a_thread_counts_from_the_measured_length_even_where_another_is_set():
    measured = read("flat-train").bar_length["link"] * 1e3
    file = with_bar("flat-train", "link", length=measured + 3, adjust=[-6, 9])
    (adjuster,) = study_of(as_text(file)).adjusters
    (cut,) = study_of(as_text(with_bar("flat-train", "link", length=measured - 6))).figures
    alike(adjuster.shortest.figures, cut)
