"""Geometry that no vehicle can have, and what just may be."""

import pytest

from leverwright.project import Draft
from tests.project.vehicle_texts import FLAT, WHOLE


def _keys(text):
    return [fault.key for fault in Draft.from_text(text).faults]


def _beam(left, right, *, names=("one", "other"), axes=(("a", "b"), ("c", "d")), top=""):
    """A beam axle with two wheels, their centres at y = left and right, mm; spindles 50 mm further out."""
    middle = (left + right) / 2
    wheels = "".join(
        f'[wheels.{name}]\nbody = "axle"\ncentre = "{centre}"\naxis = ["{axis[0]}", "{axis[1]}"]\n'
        "radius = 200\nload = 50\n"
        for name, centre, axis in zip(names, "ac", axes, strict=True)
    )
    return (
        f"leverwright = 1\n{top}[points]\na = [0, {left}, 0]\nb = [0, {left + (50 if left >= middle else -50)}, 0]\n"
        f"c = [0, {right}, 0]\nd = [0, {right + (50 if right > middle else -50)}, 0]\n"
        "p = [300, 100, 0]\nq = [300, -100, 0]\n"
        f'[bodies]\nchassis = ["p", "q"]\naxle = ["a", "b", "c", "d", "p", "q"]\n{wheels}'
    )


INWARD = (("b", "a"), ("d", "c"))


@pytest.mark.parametrize(("left", "right"), [(500, -500), (5500, 4500), (-4500, -5500), (500, -10)])
def test_outward_is_away_from_the_vehicles_middle_wherever_the_origin_lies(left, right):
    assert _keys(_beam(left, right)) == []
    assert _keys(_beam(left, right, axes=INWARD)) == ["wheels.one.axis", "wheels.other.axis"]


def test_one_wheel_or_wheels_in_line_point_away_from_the_origin():
    text = _beam(500, 490, axes=(("a", "b"), ("a", "b")), names=("one", "other")).replace(
        'centre = "c"', 'centre = "a"'
    )
    assert _keys(text) == []
    assert _keys(text.replace('["a", "b"]', '["b", "a"]')) == ["wheels.one.axis", "wheels.other.axis"]
    assert _keys(text.replace("a = [0, 500", "a = [0, -500").replace("b = [0, 550", "b = [0, -550")) == []


@pytest.mark.parametrize("axis", [("a", "b"), ("b", "a")])
@pytest.mark.parametrize("y", [0, 5, -5])
def test_a_wheel_in_the_middle_may_point_either_way(axis, y):
    text = _beam(y, y - 0.2, axes=(axis, axis)).replace('centre = "c"', 'centre = "a"')
    assert _keys(text) == []


@pytest.mark.parametrize("axis", [("c", "d"), ("d", "c")])
def test_a_middle_wheel_beside_one_on_the_left_may_point_either_way(axis):
    assert _keys(_beam(500, 0, axes=(("a", "b"), axis))) == []
    assert _keys(_beam(500, 0, axes=(("b", "a"), axis))) == ["wheels.one.axis"]


def test_a_wheel_named_for_a_side_points_to_it():
    names = ("w-left", "w-right")
    assert _keys(_beam(5500, 4500, names=names)) == []
    assert _keys(_beam(5500, 4500, names=names, axes=INWARD)) == ["wheels.w-left.axis", "wheels.w-right.axis"]


@pytest.mark.parametrize(
    ("x", "refused"), [(49.9, False), (50, False), (50.1, True), (-50.1, True), (1000, True)]
)
def test_an_axis_may_stand_up_to_45_degrees_off(x, refused):
    text = _beam(500, -500).replace("b = [0, 550, 0]", f"b = [{x}, 550, 0]")
    assert _keys(text) == (["wheels.one.axis"] if refused else [])


def test_an_axis_whose_points_are_missing_is_not_judged():
    assert _keys(_beam(500, -500).replace('axis = ["a", "b"]', 'axis = ["a", "z"]')) == ["wheels.one.axis"]
    assert _keys(_beam(500, -500).replace('centre = "a"', 'centre = "z"')) == ["wheels.one.centre"]


def test_points_of_a_body_that_is_missing_are_not_judged():
    assert _keys(_beam(500, -500).replace('body = "axle"\ncentre = "a"', 'body = "axe"\ncentre = "a"')) == [
        "wheels.one.body"
    ]


@pytest.mark.parametrize(("apart", "refused"), [(0.099, True), (0.101, False)])
def test_ends_nearer_than_a_tenth_of_a_millimetre_are_one_place(apart, refused):
    text = WHOLE.replace(
        "tie-left         = [380, 560, 205]", f"tie-left         = [380, {200 + apart}, 205]"
    )
    assert _keys(text) == (["bars.tie-left.ends"] if refused else [])


@pytest.mark.parametrize(("apart", "refused"), [(0.099, True), (0.101, False)])
def test_hinge_points_nearer_than_that_are_one_place(apart, refused):
    text = WHOLE.replace(
        "pivot-rear-left  = [312, 210, 265]", f"pivot-rear-left  = [412, 210, {265 - apart}]"
    )
    assert _keys(text) == (["points.pivot-rear-left"] if refused else [])


def test_points_at_one_place_that_make_no_hinge_are_let_be():
    text = WHOLE.replace("gas-eye-left     = [380, 300, 560]", "gas-eye-left     = [398, 300, 565]")
    assert _keys(text) == []


def test_points_beside_one_another_along_the_slant_are_told_apart():
    # Far from one another, yet at one place of the slanting direction in which points are sorted.
    text = WHOLE.replace(
        "gas-eye-left     = [380, 300, 560]", f"gas-eye-left     = [{398 + 53}, {300 - 61}, 565]"
    )
    assert _keys(text) == []


def test_a_free_point_needs_two_that_meet_there():
    free = FLAT.replace("\n[bodies]", "free = [50, 400]\nfar = [60, 500]\n\n[bodies]").replace(
        '"eye"]\narm', '"eye", "far"]\narm'
    )
    one = free + '[bars.one]\nends = ["free", "far"]\n'
    assert _keys(one) == ["points.free"]
    assert _keys(one + '[bars.two]\nends = ["free", "hole"]\n') == []
    assert _keys(one + '[straps.two]\nends = ["free", "hole"]\nlength = 300\n') == []
    assert _keys(one + '[springs.two]\nends = ["free", "hole"]\nshock = "coil"\n') == []
    assert _keys(one + '[held.two]\npoint = "free"\nalong = [1, 0]\nrange = [-1, 1]\n') == []


def test_two_springs_between_two_points_are_two_springs():
    assert _keys(FLAT + '[springs.second]\nends = ["eye", "hole"]\nshock = "coil"\n') == []


def test_two_bars_of_one_pair_of_points_are_one_too_many_either_way_round():
    bars = '[bars.one]\nends = ["eye", "hub"]\n[bars.two]\nends = ["hub", "eye"]\n'
    assert _keys(FLAT + bars) == ["bars.two.ends"]


@pytest.mark.parametrize(("touches", "refused"), [(80, False), (80.1, True)])
def test_a_stop_touches_within_the_stroke(touches, refused):
    text = FLAT.replace("preload = 0", f"preload = 0\nstop = {{ touches = {touches}, rate = 50 }}")
    assert _keys(text) == (["shocks.coil.stop.touches"] if refused else [])


@pytest.mark.parametrize(("touch", "refused"), [(240, False), (329.9, False), (330, True), (331, True)])
def test_coils_touch_only_when_the_shock_is_pushed_in(touch, refused):
    text = FLAT.replace("preload = 0", f"preload = 0\ncoils_touch = {touch}")
    assert _keys(text) == (["shocks.coil.coils_touch"] if refused else [])


@pytest.mark.parametrize(("closed", "refused"), [(329.8, False), (329.95, True), (330, True), (331, True)])
def test_a_shock_has_a_stroke(closed, refused):
    text = FLAT.replace("length_closed = 250", f"length_closed = {closed}")
    assert _keys(text) == (["shocks.coil.length_closed"] if refused else [])


@pytest.mark.parametrize(("unsprung", "refused"), [(49.9, False), (50, True), (51, True)])
def test_a_scale_reads_more_than_the_unsprung_weight(unsprung, refused):
    text = FLAT.replace("unsprung = 9", f"unsprung = {unsprung}")
    assert _keys(text) == (["wheels.rear.unsprung"] if refused else [])


def test_an_adjuster_takes_from_the_length_that_is_stated():
    bar = '[bars.one]\nends = ["eye", "hub"]\nlength = {}\nadjust = [-300, 0]\n'
    assert _keys(FLAT + bar.format(301)) == []
    assert _keys(FLAT + bar.format(299)) == ["bars.one.adjust"]
    assert _keys(FLAT + bar.format(299).replace('"hub"', '"hubb"')) == ["bars.one.ends", "bars.one.adjust"]


def test_a_bar_whose_length_cannot_be_known_is_not_judged():
    assert _keys(FLAT + '[bars.one]\nends = ["eye", "hubb"]\nadjust = [-9000, 0]\n') == ["bars.one.ends"]


def test_a_hinge_to_a_body_that_is_missing_is_not_judged():
    text = FLAT + '[held.one]\nbodies = ["arm", "arn"]\nrange = [-1, 1]\n'
    assert _keys(text) == ["held.one.bodies"]
