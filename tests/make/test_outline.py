"""The outline: a tight band around a circle at each hole."""

from math import dist, hypot, pi

import pytest

from leverwright.make.outline import Arc, Line, hull_sides, rounded_hull


def _ends(piece):
    if isinstance(piece, Line):
        return piece.start, piece.end
    from math import cos, sin

    return tuple(
        (piece.centre[0] + piece.radius * cos(angle), piece.centre[1] + piece.radius * sin(angle))
        for angle in (piece.start_angle, piece.end_angle)
    )


def _length(outline):
    return sum(
        dist(piece.start, piece.end)
        if isinstance(piece, Line)
        else piece.radius * (piece.end_angle - piece.start_angle)
        for piece in outline
    )


TRIANGLE = ((0.0, 0.0), (0.09, 0.0), (0.0, 0.12))  # sides 90, 120, 150 mm


def test_round_equal_holes_it_is_as_long_as_the_triangle_and_one_circle():
    outline = rounded_hull(TRIANGLE, (0.02, 0.02, 0.02))
    assert _length(outline) == pytest.approx(0.09 + 0.12 + 0.15 + 2 * pi * 0.02, abs=1e-12)  # rounding


@pytest.mark.parametrize("radii", [(0.02, 0.02, 0.02), (0.044, 0.02, 0.02), (0.01, 0.05, 0.03)])
def test_every_piece_starts_where_the_one_before_ended(radii):
    outline = rounded_hull(TRIANGLE, radii)
    for before, after in zip(outline, outline[1:] + outline[:1], strict=True):
        assert dist(_ends(before)[1], _ends(after)[0]) < 1e-12  # rounding


@pytest.mark.parametrize("radii", [(0.02, 0.02, 0.02), (0.044, 0.02, 0.02), (0.01, 0.05, 0.03)])
def test_every_circle_lies_inside_and_each_straight_side_touches_two(radii):
    outline = rounded_hull(TRIANGLE, radii)
    for side in (piece for piece in outline if isinstance(piece, Line)):
        (x0, y0), (x1, y1) = side.start, side.end
        length = hypot(x1 - x0, y1 - y0)
        gaps = [
            ((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)) / length - radius  # plate on the left
            for (x, y), radius in zip(TRIANGLE, radii, strict=True)
        ]
        assert min(gaps) > -1e-12
        assert sorted(gaps)[1] == pytest.approx(0.0, abs=1e-12)


def test_a_hole_on_a_side_adds_no_corner():
    centres = ((0.0, 0.0), (0.045, 0.0), (0.09, 0.0), (0.0, 0.12))
    with_it = rounded_hull(centres, (0.02,) * 4)
    assert len(with_it) == 6
    assert _length(with_it) == pytest.approx(0.36 + 2 * pi * 0.02, abs=1e-12)


def test_a_circle_that_holds_the_others_is_the_outline():
    outline = rounded_hull(((0.0, 0.0), (0.005, 0.0)), (0.02, 0.01))
    assert outline == (Arc((0.0, 0.0), 0.02, 0.0, 2 * pi),)


def test_sides_of_the_hull_leave_inner_points_out():
    assert hull_sides((*TRIANGLE, (0.02, 0.02))) == ((1, 2), (2, 0), (0, 1))
