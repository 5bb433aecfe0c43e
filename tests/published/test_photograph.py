"""A plane from a photograph, H6: four corners of 400 mm by 300 mm and two picks.

Origin of the expected places: computed with OpenCV's getPerspectiveTransform and with a solve of the eight linear
equations by hand; both agree to 1e-4 mm. The second is repeated here with NumPy, sharing nothing with the program.
"""

import numpy as np
import pytest

from leverwright.measure.photograph import rectify
from leverwright.measure.photograph_figures import Photograph, rectangle

CORNERS = np.array([[120.0, 80.0], [520.0, 100.0], [560.0, 430.0], [90.0, 400.0]])
LENGTHS = (0.4, 0.3)
PICKS = {"first": (300.0, 250.0), "second": (450.0, 350.0)}
PLACES = np.array([[181.1604, 160.9341], [312.3713, 240.9434]])  # mm, right and down


def by_eight_equations(picks):
    """The homography from the picture to the plane from eight linear equations, in mm."""
    plane = np.array([[0.0, 0.0], [400.0, 0.0], [400.0, 300.0], [0.0, 300.0]])
    rows, right = [], []
    for (u, v), (x, y) in zip(CORNERS, plane, strict=True):
        rows += [[u, v, 1, 0, 0, 0, -u * x, -v * x], [0, 0, 0, u, v, 1, -u * y, -v * y]]
        right += [x, y]
    h = np.append(np.linalg.solve(np.array(rows), np.array(right)), 1.0).reshape(3, 3)
    lifted = np.column_stack([picks, np.ones(len(picks))]) @ h.T
    return lifted[:, :2] / lifted[:, 2:]


@pytest.mark.parametrize("size", [None, (640.0, 480.0)])
def test_h6_two_picks_on_a_plane(size):
    plane = rectify(Photograph((rectangle(CORNERS, LENGTHS),), PICKS, 1.0, size=size))
    down = plane.places.at * [1000.0, -1000.0]  # what is stored is up
    assert down == pytest.approx(PLACES, abs=1e-3)  # the precision that is printed, mm


def test_the_printed_places_are_those_of_eight_linear_equations():
    assert by_eight_equations(np.array(list(PICKS.values()))) == pytest.approx(PLACES, abs=1e-4)


def test_the_program_agrees_with_the_equations_everywhere_in_the_rectangle():
    picks = {f"{u}-{v}": (u, v) for u in np.linspace(150, 500, 8) for v in np.linspace(120, 380, 8)}
    plane = rectify(Photograph((rectangle(CORNERS, LENGTHS),), picks, 1.0))
    theirs = by_eight_equations(np.array(list(picks.values())))
    assert plane.places.at * [1000.0, -1000.0] == pytest.approx(theirs, abs=1e-8)  # rounding, mm
