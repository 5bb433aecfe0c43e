"""Which bodies and bars get a template, and what is said of the others."""

import pytest

from leverwright.make.choices import MakeError
from leverwright.make.plates import flat_parts
from tests.make.vehicle_samples import FLAT, flat, read, space


def _names(project):
    return [part.names for part in flat_parts(project).parts]


def _said(project):
    return {one.name: one.sentence for one in flat_parts(project).left_out}


def test_left_and_right_of_one_shape_are_one_part():
    assert _names(space()) == [
        ("rocker-left", "rocker-right"),
        ("link-left", "link-right"),
        ("arm-left", "arm-right"),
        ("arm-top",),
    ]


def test_a_right_side_drawn_otherwise_gets_its_own_template_and_says_how_far_it_differs():
    project = space(
        old="tab-left = [380, 150, 100]", new="tab-left = [380, 150, 100]\nlink-hole-right = [380, -150, 347]"
    )
    names = _names(project)
    assert ("rocker-left",) in names
    assert ("rocker-right",) in names
    right = next(part for part in flat_parts(project).parts if part.names == ("rocker-right",))
    # From a pivot point 30 mm along the line: (30, 60, 80) is 104.403 mm, (30, 60, 82) is 105.943 mm.
    assert any(
        "Not the same as rocker-left: hole distances differ by up to 1.54 mm" in note for note in right.notes
    )


def test_a_body_that_carries_a_wheel_is_left_out_with_its_distances():
    left_out = {one.name: one for one in flat_parts(flat()).left_out}
    assert left_out["arm"].sentence == "arm carries the wheel: it is built up, not cut from one plate."
    spans = {(span.first, span.last): span.length for span in left_out["arm"].spans}
    assert spans["arm-pivot", "arm-tab"] == pytest.approx(0.240, abs=1e-12)


def test_a_lever_that_is_not_flat_says_by_how_much():
    project = space(old="spring-hole-left = [380,", new="spring-hole-left = [356,")
    assert _said(project)["rocker-left"] == (
        "rocker-left (and rocker-right) is not flat: its holes stand 24.0 mm apart along the pivot line "
        "(1.0 mm is taken as flat)."
    )


def test_a_lever_just_out_of_plane_is_taken_as_flat_and_says_so():
    project = space(old="spring-hole-left = [380,", new="spring-hole-left = [380.9,")
    plate = flat_parts(project).parts[0]
    assert plate.names[0] == "rocker-left"
    assert "The drawn holes stand 0.9 mm out of one plane; the plate takes them as flat." in plate.notes


def test_where_the_plate_stands_on_its_pivot_tube_is_said():
    plate = flat_parts(space()).parts[0]
    assert plate.notes[0] == (
        "Middle of the plate: 30.0 mm from pivot-front-left, towards pivot-rear-left; "
        "pivot-front-left to pivot-rear-left 60.0 mm."
    )


def test_a_link_with_threads_is_a_setting_gauge_with_the_reach_of_its_threads():
    link = next(part for part in flat_parts(space()).parts if part.names[0] == "link-left")
    assert link.gauge
    assert "The link itself has threads, 235.0 mm to 260.0 mm hole to hole: this bar sets it." in link.notes


def test_a_link_is_as_long_as_its_stated_length():
    project = flat(old='ends = ["arm-tab", "link-hole"]', new='ends = ["arm-tab", "link-hole"]\nlength = 327')
    link = flat_parts(project).parts[1]
    assert link.holes[1].along - link.holes[0].along == pytest.approx(0.327, abs=1e-12)
    assert link.notes == ("Set to 327.0 mm; in the set-up pose its holes are 330.0 mm apart.",)


def test_a_long_bar_is_set_by_tape():
    project = space(old="arm-high = [0, 0, 210]", new="arm-high = [-300, 0, 210]")
    assert _said(project)["arm-top"].startswith("arm-top is 680.1 mm hole to hole: set it by tape")


def test_a_link_drawn_as_a_body_of_two_points_is_a_link():
    project = flat(
        old='[bars.link]\nends = ["arm-tab", "link-hole"]\n',
        new="",
        also='rocker = ["rocker-pivot"',
        too='link = ["arm-tab", "link-hole"]\nrocker = ["rocker-pivot"',
    )
    assert ("link",) in _names(project)


def test_a_plain_arm_of_a_flat_drawing_has_its_pivot_as_hole_one():
    project = flat(
        old='rocker = ["rocker-pivot", "link-hole", "spring-hole"]',
        new='rocker = ["link-hole", "rocker-pivot"]',
        also='["spring-hole", "spring-eye"]',
        too='["link-hole", "spring-eye"]',
        third="spring-hole = [-120, 350]\n",
        gone="",
    )
    part = next(part for part in flat_parts(project).parts if part.names == ("rocker",))
    assert [(hole.role, hole.name) for hole in part.holes] == [
        ("pivot", "rocker-pivot"),
        ("link", "link-hole"),
    ]


def test_an_arm_with_one_hole_off_its_pivot_line_is_no_plate():
    project = space(
        old='"pivot-rear-left", "link-hole-left", "spring-hole-left"]',
        new='"pivot-rear-left", "link-hole-left"]',
        also='["spring-hole-left", "spring-eye-left"]',
        too='["link-hole-left", "spring-eye-left"]',
        third="spring-hole-left = [380, 330, 315]\n",
        gone="",
    )
    assert _said(project)["rocker-left"] == (
        "rocker-left (and rocker-right) has fewer than two holes off its pivot line: an arm, not a lever plate."
    )


def test_a_body_with_more_points_than_a_lever_has_is_said():
    points = "".join(f"extra-{k} = [{k}, 700]\n" for k in range(22))
    names = ", ".join(f'"extra-{k}"' for k in range(22))
    project = flat(
        old="[bodies]\n",
        new=points + "[bodies]\n",
        also='"link-hole", "spring-hole"]',
        too=f'"link-hole", "spring-hole", {names}]',
    )
    assert _said(project)["rocker"] == "rocker has 25 points; a plate is drawn with up to 16."


def test_a_body_that_turns_on_no_line_is_said():
    project = space(
        old='rocker-left = ["pivot-front-left", "pivot-rear-left", "link-hole-left", "spring-hole-left"]',
        new='rocker-left = ["pivot-front-left", "link-hole-left", "spring-hole-left"]',
        also='"pivot-front-left", "pivot-rear-left", "spring-eye-left"',
        too='"pivot-front-left", "spring-eye-left"',
        third="pivot-rear-left = [350, 210, 265]\n",
        gone="",
    )
    assert _said(project)["rocker-left"] == (
        "rocker-left (and rocker-right) turns on no pivot line, so no plane is square to one."
    )


def test_a_lever_longer_than_paper_is_good_for_is_set_out_by_tape():
    project = flat(old="spring-hole = [-120, 350]", new="spring-hole = [-600, 150]")
    assert _said(project)["rocker"].startswith("rocker is 737.9 mm long: set it out by tape")


def test_a_hole_says_what_it_carries():
    project = flat(
        old="[shocks.found]",
        new='[straps.droop]\nends = ["strap-hole", "arm-pivot"]\nlength = 340\n\n[shocks.found]',
        also='"link-hole", "spring-hole"]',
        too='"link-hole", "spring-hole", "strap-hole", "spare"]',
        third="[bodies]",
        more="strap-hole = [10, 300]\nspare = [-40, 300]\n[bodies]",
    )
    plate = flat_parts(project).parts[0]
    assert {hole.name: hole.role for hole in plate.holes} == {
        "rocker-pivot": "pivot",
        "link-hole": "link",
        "spring-hole": "spring",
        "strap-hole": "strap",
        "spare": "hole",
    }


def test_every_body_and_bar_is_made_or_said():
    for project in (flat(), space()):
        found = flat_parts(project)
        told = {name for part in found.parts for name in part.names}
        said = " ".join(one.sentence for one in found.left_out)
        for name in (*project.bodies, *project.bars):
            assert name == "chassis" or name in told or name in said


def test_hundreds_of_bars_are_refused_at_once():
    bars = "".join(f'[bars.b{k}]\nends = ["arm-pivot", "p{k}"]\n' for k in range(201))
    points = "".join(f"p{k} = [{k}, 900]\n" for k in range(201))
    body = 'many = ["spring-hole", ' + ", ".join(f'"p{k}"' for k in range(201)) + "]\n"
    text = FLAT.replace("[bodies]\n", points + "[bodies]\n" + body) + bars
    with pytest.raises(MakeError, match="206 bodies and bars"):
        flat_parts(read(text))
