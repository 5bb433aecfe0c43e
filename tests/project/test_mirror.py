"""Twins by name."""

import pytest

from leverwright.project import Draft, Project
from tests.project.vehicle_texts import FLAT, WHOLE


@pytest.fixture(scope="module")
def cart():
    return Project.from_text(WHOLE)


def test_a_twin_stands_directly_after_its_original(cart):
    for things in (cart.points, cart.bodies, cart.bars, cart.springs, cart.straps, cart.held, cart.wheels):
        names = list(things)
        for at, name in enumerate(names):
            if name.endswith("-left"):
                assert names[at + 1] == name.removesuffix("-left") + "-right"


def test_the_twin_of_a_point_has_y_negated_and_its_errors(cart):
    twin = cart.points["link-hole-right"]
    assert twin.at == pytest.approx((0.398, -0.214, 0.318))
    assert (twin.twin_of, twin.error, twin.line) == ("link-hole-left", pytest.approx(0.0005), 10)
    assert cart.points["link-hole-left"].twin_of is None


def test_names_inside_a_twin_are_those_of_its_side(cart):
    assert cart.bars["link-right"].ends == ("tab-right", "link-hole-right")
    assert cart.springs["spring-right"].ends == ("spring-hole-right", "spring-eye-right")
    assert cart.springs["spring-right"].shock == "salvaged"
    assert cart.springs["twist-right"].hinge == ("arm-right", "chassis")
    assert cart.straps["droop-right"].ends == ("strap-top-right", "strap-low-right")
    assert cart.bodies["rocker-right"].points == (
        "pivot-front-right",
        "pivot-rear-right",
        "link-hole-right",
        "spring-hole-right",
    )
    wheel = cart.wheels["front-right"]
    assert (wheel.body, wheel.centre, wheel.brake) == ("arm-right", "hub-right", "arm-right")
    assert wheel.axis == ("hub-right", "spindle-right")


def test_numbers_of_a_twin_are_those_of_its_original(cart):
    left, right = cart.bars["link-left"], cart.bars["link-right"]
    assert (left.length, left.adjust, left.pitch) == (right.length, right.adjust, right.pitch)
    assert cart.springs["twist-right"].twist == cart.springs["twist-left"].twist
    assert cart.straps["droop-right"].rate == cart.straps["droop-left"].rate


def test_a_held_twin_is_led_the_mirrored_way(cart):
    twin = cart.held["rack-right"]
    assert (twin.point, twin.along, twin.range) == (
        "rack-right",
        (0.0, -1.0, 0.0),
        cart.held["rack-left"].range,
    )


def test_a_body_without_a_side_carries_the_twins_after_its_points(cart):
    assert cart.bodies["chassis"].points[:4] == (
        "pivot-front-left",
        "pivot-front-right",
        "pivot-rear-left",
        "pivot-rear-right",
    )
    assert cart.bodies["beam"].points == ("panhard-arm", "tab-left", "tab-right")
    assert cart.bodies["handlebar"].points == ("head-top", "head-low")


def test_a_body_that_names_the_twin_itself_carries_it_once():
    cart = Project.from_text(
        WHOLE.replace('["panhard-arm", "tab-left"]', '["tab-right", "panhard-arm", "tab-left"]')
    )
    assert cart.bodies["beam"].points == ("tab-right", "panhard-arm", "tab-left")


def test_things_without_a_side_have_no_twin(cart):
    assert "panhard" in cart.bars
    assert cart.points["panhard-arm"].at[1] == pytest.approx(-0.3)
    assert list(cart.shocks) == ["salvaged", "rubber"]


def test_a_kind_of_shock_has_no_side():
    cart = Project.from_text(WHOLE.replace("salvaged", "salvaged-left"))
    assert list(cart.shocks) == ["salvaged-left", "rubber"]
    assert cart.springs["spring-right"].shock == "salvaged-left"


def test_a_twin_has_the_shock_of_its_side_where_one_is_written():
    other = WHOLE[WHOLE.index("[shocks.rubber]") : WHOLE.index("[springs.spring-left]")].replace(
        "rubber", "salvaged-right"
    )
    cart = Project.from_text(WHOLE.replace("salvaged", "salvaged-left") + other)
    assert cart.springs["spring-left"].shock == "salvaged-left"
    assert cart.springs["spring-right"].shock == "salvaged-right"


def test_a_written_right_table_replaces_only_the_keys_that_it_states(cart):
    left, right = cart.wheels["front-left"], cart.wheels["front-right"]
    assert (right.load.value, left.load.value) == (64.0, 62.0)
    assert (right.radius, right.unsprung, right.tyre) == (left.radius, left.unsprung, left.tyre)
    assert (right.line, left.line, right.twin_of) == (108, 98, "front-left")


def test_a_written_right_bar_may_have_its_own_ends():
    cart = Project.from_text(
        WHOLE + '\n[bars.tie-right]\nends = ["tie-right", "rack-right"]\nlength = "361 mm"\n'
    )
    assert cart.bars["tie-right"].ends == ("tie-right", "rack-right")
    assert cart.bars["tie-right"].length.value == pytest.approx(0.361)
    assert cart.bars["tie-left"].length is None


def test_a_written_right_hold_may_state_its_range_alone():
    cart = Project.from_text(WHOLE + "\n[held.rack-right]\nrange = [-10, 10]\n")
    assert cart.held["rack-right"].range == pytest.approx((-0.01, 0.01))
    assert cart.held["rack-right"].along == (0.0, -1.0, 0.0)


def test_a_written_right_hinge_hold_keeps_degrees():
    text = WHOLE.replace("[held.bars]", "[held.bars-left]") + "\n[held.bars-right]\nrange = [-9, 9]\n"
    faults = Draft.from_text(text).faults
    assert [fault.key for fault in faults] == ["held.bars-left.bodies"]  # one hinge cannot be held twice
    assert Draft.from_text(text).sketch.held["bars-right"].range == pytest.approx(
        (-0.15707963267948966, 0.15707963267948966)
    )


def test_a_written_right_point_stands_in_its_own_coordinates():
    cart = Project.from_text(WHOLE.replace("\n[bodies]", "tab-right = [401, -215, 99]\n\n[bodies]"))
    point = cart.points["tab-right"]
    assert point.at == pytest.approx((0.401, -0.215, 0.099))
    assert (point.twin_of, point.line) == (None, 27)
    names = list(cart.points)
    assert names[names.index("tab-left") + 1] == "tab-right"
    assert cart.bars["link-right"].ends == ("tab-right", "link-hole-right")


def test_a_written_right_body_is_what_it_says():
    text = WHOLE.replace(
        "\n[bars.link-left]",
        'rocker-right = ["pivot-front-right", "pivot-rear-right", '
        '"link-hole-right", "spring-hole-right", "extra"]\n\n[bars.link-left]',
    )
    cart = Project.from_text(text.replace("[bodies]", "extra = [350, -230, 265]\n[bodies]", 1))
    assert cart.bodies["rocker-right"].points[-1] == "extra"
    assert cart.bodies["rocker-right"].twin_of is None
    assert cart.bodies["rocker-left"].points[-1] == "spring-hole-left"


def test_a_cross_link_is_mirrored_crosswise():
    text = WHOLE + '\n[bars.cross-left]\nends = ["arm-front-left", "tie-right"]\n'
    assert Project.from_text(text).bars["cross-right"].ends == ("arm-front-right", "tie-left")


def test_a_right_name_that_is_no_twin_stays_what_it_is_in_a_twin():
    text = WHOLE.replace("\n[bodies]", "post-right = [100, -300, 100]\n\n[bodies]").replace(
        '"head-top", "head-low", "panhard-frame"]', '"head-top", "head-low", "panhard-frame", "post-right"]'
    )
    cart = Project.from_text(text + '\n[bars.stay-left]\nends = ["tie-left", "post-right"]\n')
    assert cart.bars["stay-right"].ends == ("tie-right", "post-right")
    assert cart.points["post-right"].twin_of is None


def test_a_name_without_a_side_is_its_own_twin_though_its_stem_has_sides():
    text = WHOLE.replace("head-top", "tab")  # and there is tab-left
    cart = Project.from_text(text + '\n[bars.stay-left]\nends = ["tie-left", "tab"]\n')
    assert cart.bars["stay-right"].ends == ("tie-right", "tab")


def test_right_names_may_be_used_though_unwritten():
    cart = Project.from_text(WHOLE + '\n[bars.single]\nends = ["spring-eye-right", "tie-right"]\n')
    assert cart.bars["single"].ends == ("spring-eye-right", "tie-right")


def test_without_mirror_a_name_is_only_a_name():
    text = FLAT.replace("hub =", "hub-left =").replace('"hub"', '"hub-left"')
    assert list(Project.from_text(text).points) == ["pivot", "hub-left", "hole", "eye"]
    text = 'leverwright = 1\n[points]\na-left = [0, -5, 0]\n[bodies]\nchassis = ["a-left"]\n'
    assert list(Project.from_text(text).points) == ["a-left"]


def test_without_mirror_a_right_name_that_is_missing_asks_for_it():
    text = WHOLE.replace("mirror = true\n", "").replace("[wheels.front-right]\nload = 64\n", "")
    fault = Draft.from_text(text + '\n[bars.single]\nends = ["spring-eye-right", "tie-left"]\n').faults[0]
    assert fault.key == "bars.single.ends"
    assert "mirror = true" in fault.do


def test_a_fault_of_an_original_is_said_once_not_for_its_twin_too():
    draft = Draft.from_text(
        WHOLE.replace('"tab-left", "link-hole-left"]', '"tab-left", "link-hole-lef-left"]')
    )
    assert [fault.key for fault in draft.faults] == ["bars.link-left.ends"]
    draft = Draft.from_text(WHOLE.replace('["tab-left", "link-hole-left"]', '["hub-left", "tab-left"]'))
    assert [fault.key for fault in draft.faults] == ["bars.link-left.ends"]


def test_keys_that_exclude_each_other_are_said_once_and_for_an_override_where_it_stands():
    both = WHOLE.replace("twist = 4\n", 'twist = 4\nshock = "rubber"\n')
    assert [fault.key for fault in Draft.from_text(both).faults] == ["springs.twist-left.shock"]
    right = WHOLE + '\n[springs.twist-right]\nshock = "rubber"\n'
    assert [fault.key for fault in Draft.from_text(right).faults] == ["springs.twist-right.shock"]


def test_a_fault_that_only_the_twin_has_stands_at_what_is_written_for_it():
    text = WHOLE.replace("\n[bodies]", "link-hole-right = [400, -214, 100]\n\n[bodies]")
    fault = Draft.from_text(text).faults[0]
    assert (fault.key, "same place" in fault.found) == ("bars.link-left.ends", True)
    assert "'tab-right'" in fault.found


def test_a_misspelt_key_of_an_override_is_refused_where_it_stands():
    fault = Draft.from_text(WHOLE.replace("load = 64", "laod = 64")).faults[0]
    assert (fault.key, fault.line) == ("wheels.front-right.laod", 109)
    assert fault.do == "did you mean 'load'?"


def test_an_unfit_value_of_an_override_does_not_fall_back_to_the_original():
    draft = Draft.from_text(WHOLE.replace("load = 64", "load = -64"))
    assert [fault.key for fault in draft.faults] == ["wheels.front-right.load"]
    assert "front-right" not in draft.sketch.wheels
