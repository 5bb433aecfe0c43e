"""Parts against one datum edge and one datum end."""

from itertools import combinations
from math import dist

import pytest

from leverwright.make.choices import Choices, MakeError
from leverwright.make.parts import ASSUMED_EDGE
from leverwright.make.plates import flat_parts
from leverwright.make.settings import end_stops, fences
from tests.make.vehicle_samples import flat, space


def _part(project, name, choices=None):
    return next(part for part in flat_parts(project, choices).parts if name in part.names)


def _distances(part):
    return {frozenset((a.points[0], b.points[0])): dist(a.at, b.at) for a, b in combinations(part.holes, 2)}


def test_hole_distances_are_those_of_the_drawing():
    found = _distances(_part(flat(), "rocker"))
    assert found == {
        frozenset(("rocker-pivot", "link-hole")): pytest.approx(0.100, abs=1e-12),
        frozenset(("rocker-pivot", "spring-hole")): pytest.approx(0.130, abs=1e-12),
        frozenset(("link-hole", "spring-hole")): pytest.approx((0.180**2 + 0.130**2) ** 0.5, abs=1e-12),
    }


def test_a_plate_in_space_has_its_pivot_where_the_pivot_line_goes_through_it():
    found = _distances(_part(space(), "rocker-left"))
    assert found[frozenset(("pivot-front-left", "link-hole-left"))] == pytest.approx(0.100, abs=1e-12)
    assert found[frozenset(("pivot-front-left", "spring-hole-left"))] == pytest.approx(0.130, abs=1e-12)


def test_the_pivot_is_drilled_first_and_then_what_is_nearest_to_the_datum_edge():
    part = _part(flat(), "rocker")
    assert part.holes[0].role == "pivot"
    assert [hole.number for hole in part.holes] == [1, 2, 3]
    assert part.holes[1].up <= part.holes[2].up


def test_holes_that_run_into_each_other_are_told():
    part = _part(flat(old="[60, 480]", new="[8, 406]"), "rocker", Choices(hole=0.0101))
    assert part.notes == ("HOLES 1 AND 2 RUN INTO EACH OTHER: their centres are 10.0 mm apart.",)
    assert _part(flat(old="[60, 480]", new="[8, 406]"), "rocker", Choices(hole=0.0099)).notes == ()


def test_two_holes_share_one_distance_from_the_datum_edge_in_whole_millimetres():
    part = _part(flat(), "rocker", Choices(hole=0.0105))
    least = min(hole.up for hole in part.holes)
    assert sum(abs(hole.up - least) < 1e-9 for hole in part.holes) == 2
    assert least == pytest.approx(0.021, abs=1e-12)  # 2 x 10.5 mm
    assert min(hole.along for hole in part.holes) == pytest.approx(0.021, abs=0.001)


def test_the_outline_lies_inside_the_blank_and_clear_of_no_side_by_over_a_millimetre():
    part = _part(space(), "rocker-left", Choices(hole=0.010, holes={"pivot-front-left": 0.022}))
    assert min(hole.along - hole.edge for hole in part.holes) >= -1e-12
    assert min(hole.up - hole.edge for hole in part.holes) == pytest.approx(0.0, abs=1e-3)
    assert max(hole.along + hole.edge for hole in part.holes) == pytest.approx(part.length, abs=1e-3)
    assert max(hole.up + hole.edge for hole in part.holes) == pytest.approx(part.height, abs=1e-3)


def test_a_hole_size_that_nobody_stated_stays_blank_and_the_outline_says_it_is_assumed():
    part = _part(flat(), "rocker")
    assert {hole.diameter for hole in part.holes} == {None}
    assert {hole.edge for hole in part.holes} == {ASSUMED_EDGE}
    assert part.assumed_edge


def test_a_size_of_one_hole_goes_before_the_common_one():
    part = _part(flat(), "rocker", Choices(hole=0.010, holes={"rocker-pivot": 0.022}))
    assert {hole.role: hole.diameter for hole in part.holes} == {
        "pivot": 0.022,
        "link": 0.010,
        "spring": 0.010,
    }
    assert {hole.role: hole.edge for hole in part.holes} == {"pivot": 0.044, "link": 0.020, "spring": 0.020}


def test_what_repeats_is_one_setting_of_fence_or_stop():
    parts = flat_parts(flat(), Choices(hole=0.010)).parts
    first = fences(parts)[0]
    assert first.distance == pytest.approx(0.020, abs=1e-9)
    assert {name for name, _ in first.holes} == {"rocker", "link"}
    assert len(first.holes) == 4  # two of the rocker, both of the link
    assert end_stops(parts)[0].distance == pytest.approx(0.020, abs=1e-9)


@pytest.mark.parametrize(
    ("choices", "found"),
    [
        ({"hole": 0.0001}, "0.1 mm"),
        ({"hole": 10.0}, "10000 mm"),
        ({"holes": {"rocker-pivot": float("nan")}}, "nan"),
        ({"edge_in_holes": 0.5}, "0.5"),
    ],
)
def test_a_slip_of_unit_is_refused(choices, found):
    with pytest.raises(MakeError, match=found):
        Choices(**choices)


def test_a_size_for_a_point_that_is_none_is_refused_by_name():
    with pytest.raises(MakeError, match="'rocker-pivto', which is not a point"):
        flat_parts(flat(), Choices(holes={"rocker-pivto": 0.01}))
