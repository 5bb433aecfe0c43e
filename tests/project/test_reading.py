"""What a file says, in SI; the expected values are those of the text, converted by hand."""

import math
import subprocess
import sys
from typing import Any

import pytest

from leverwright.project import BumpStop, Draft, Goals, Project, ProjectError, edit
from tests.project.vehicle_texts import FLAT, WHOLE

ROUNDING = 1e-12


@pytest.fixture(scope="module")
def cart():
    return Project.from_text(WHOLE, "cart.toml")


def test_the_top_of_the_file(cart):
    assert (cart.name, cart.title, cart.pose, cart.pose_load_set) == (
        "cart.toml",
        "Garden cart",
        "on blocks",
        None,
    )
    assert (cart.error, cart.plane, cart.mirror) == (pytest.approx(0.001), None, True)
    assert cart.text == WHOLE


def test_a_pose_may_name_its_load_set():
    cart = Project.from_text(WHOLE.replace('"on blocks"', '{ standing = "usual" }'))
    assert (cart.pose, cart.pose_load_set) == ("standing", "usual")


def test_what_may_be_absent_is_none_or_empty():
    plain = Project.from_text(FLAT.replace('pose = "standing"\n', "").replace("unsprung = 9\n", ""))
    assert (plain.title, plain.pose, plain.error, plain.mirror) == ("", None, None, False)
    assert plain.goals == Goals(None, None, None, None, None, excitation_stated=False)
    wheel = plain.wheels["rear"]
    assert (wheel.unsprung, wheel.tyre, wheel.brake, wheel.axis) == (None, None, None, None)
    shock = plain.shocks["coil"]
    assert (shock.gas, shock.friction, shock.table, shock.stop) == (None, None, None, None)
    bar = Project.from_text(WHOLE).bars["panhard"]
    assert (bar.length, bar.adjust, bar.pitch, bar.twin_of) == (None, None, None, None)


def test_points_are_in_metres(cart):
    point = cart.points["pivot-rear-left"]
    assert point.at == pytest.approx((0.312, 0.210, 0.265), abs=ROUNDING)
    assert (point.name, point.error, point.errors, point.alone) == (
        "pivot-rear-left",
        None,
        (None,) * 3,
        False,
    )
    assert point.line == 9


def test_the_error_of_a_point_is_its_own_or_that_of_a_coordinate(cart):
    assert cart.points["link-hole-left"].error == pytest.approx(0.0005)
    assert cart.points["link-hole-left"].errors == pytest.approx((0.0005, 0.0005, 0.0005))
    assert cart.points["hub-left"].error is None
    assert cart.points["hub-left"].errors == (pytest.approx(0.002), None, None)


def test_a_coordinate_that_states_an_error_goes_before_that_of_its_point():
    text = WHOLE.replace("at = [398, 214, 318]", 'at = [398, "214 ± 3 mm", 318]')
    assert Project.from_text(text).points["link-hole-left"].errors == pytest.approx((0.0005, 0.003, 0.0005))


@pytest.mark.parametrize(("plane", "at"), [("xz", (0.350, 0.0, 0.210)), ("yz", (0.0, 0.350, 0.210))])
def test_a_flat_drawing_lies_in_its_plane(plane, at):
    flat = Project.from_text(FLAT.replace('"xz"', f'"{plane}"'))
    assert flat.points["hub"].at == pytest.approx(at, abs=ROUNDING)
    assert flat.plane == plane


def test_a_flat_drawing_has_flat_directions():
    text = FLAT + '[held.lead]\npoint = "free"\nalong = [3, 4]\nrange = [0, 5]\n'
    flat = Project.from_text(text.replace("[bodies]", "free = [0, 0]\n[bodies]"))
    assert flat.held["lead"].along == pytest.approx((0.6, 0.0, 0.8))
    text = text.replace('"xz"', '"yz"')
    assert Project.from_text(text.replace("[bodies]", "free = [0, 0]\n[bodies]")).held[
        "lead"
    ].along == pytest.approx((0, 0.6, 0.8))


def test_bars(cart):
    bar = cart.bars["link-left"]
    assert (bar.ends, bar.length.value, bar.pitch) == (
        ("tab-left", "link-hole-left"),
        pytest.approx(0.219),
        pytest.approx(0.00125),
    )
    assert bar.adjust == pytest.approx((-0.010, 0.015))


def test_shocks(cart):
    shock = cart.shocks["salvaged"]
    assert (shock.rate.value, shock.rate.error) == (pytest.approx(17500), pytest.approx(875))
    assert (shock.length_open.value, shock.length_closed.value) == (
        pytest.approx(0.318),
        pytest.approx(0.246),
    )
    assert (shock.preload.value, shock.gas.value, shock.friction.value) == (
        pytest.approx(0.004),
        pytest.approx(60),
        pytest.approx(25),
    )
    assert (shock.stop.touches.value, shock.stop.rate.value, shock.stop.table) == (
        pytest.approx(0.020),
        pytest.approx(120e3),
        None,
    )
    assert shock.table is None


def test_where_the_coils_touch():
    shock = Project.from_text(FLAT.replace("preload = 0", 'preload = 0\ncoils_touch = "255 mm"')).shocks[
        "coil"
    ]
    assert shock.coils_touch.value == pytest.approx(0.255)
    assert Project.from_text(FLAT).shocks["coil"].coils_touch is None


def test_a_body_may_be_a_table_of_its_points():
    text = FLAT.replace('arm = ["pivot", "hub", "hole"]', 'arm.points = ["pivot", "hub", "hole"]')
    assert Project.from_text(text).bodies["arm"].points == ("pivot", "hub", "hole")
    assert Project.from_text(text).bodies["arm"].line == 13
    other = edit.apply(text, [{"op": "set", "key": ["bodies", "arm"], "value": ["pivot", "hub"]}])
    assert 'arm.points = ["pivot", "hub"]' in other
    other = edit.apply(text, [{"op": "rename", "table": "points", "from": "hole", "to": "bore"}])
    assert Project.from_text(other).bodies["arm"].points == ("pivot", "hub", "bore")


def test_a_shock_by_its_table(cart):
    shock = cart.shocks["rubber"]
    assert shock.rate is None
    assert shock.preload.value == pytest.approx(-0.003)
    assert shock.table == ((0.0, 84.0, 62.0), (pytest.approx(0.020), 450.0, 410.0))
    assert isinstance(shock.stop, BumpStop)
    assert shock.stop.rate is None
    first, second = shock.stop.table or ()
    assert first == (0.0, 0.0)
    assert second == pytest.approx((0.010, 900.0))


def test_springs(cart):
    spring = cart.springs["spring-left"]
    assert (spring.ends, spring.shock) == (("spring-hole-left", "spring-eye-left"), "salvaged")
    assert (spring.hinge, spring.rate, spring.twist) == (None, None, None)
    torsion = cart.springs["twist-left"]
    assert (torsion.ends, torsion.shock, torsion.hinge) == (None, None, ("arm-left", "chassis"))
    assert torsion.rate.value == pytest.approx(12 * 180 / math.pi)
    assert torsion.twist.value == pytest.approx(4 * math.pi / 180)


def test_straps(cart):
    strap = cart.straps["droop-left"]
    assert (strap.ends, strap.length.value, strap.rate.value) == (
        ("strap-top-left", "strap-low-left"),
        pytest.approx(0.34),
        pytest.approx(800e3),
    )
    rigid = Project.from_text(WHOLE.replace("rate = 800\n", "")).straps["droop-left"]
    assert rigid.rate is None


def test_what_is_held(cart):
    rack = cart.held["rack-left"]
    assert (rack.point, rack.along, rack.bodies, rack.range) == (
        "rack-left",
        (0.0, 1.0, 0.0),
        None,
        pytest.approx((-0.04, 0.03)),
    )
    bars = cart.held["bars"]
    assert (bars.point, bars.along, bars.bodies) == (None, None, ("handlebar", "chassis"))
    assert bars.range == pytest.approx((-35 * math.pi / 180, 35 * math.pi / 180))


def test_goals(cart):
    goals = cart.goals
    assert (goals.sag, goals.frequency) == (pytest.approx((0.30, 0.40)), (1.5, 2.2))
    assert (goals.travel_bump, goals.travel_droop) == (pytest.approx(0.060), pytest.approx(0.030))
    assert goals.excitation == pytest.approx((1 / 0.6, 1 / 0.6))
    assert goals.excitation_stated


def test_an_excitation_by_its_band():
    goals = Project.from_text(WHOLE.replace('{ speed = "1 m/s", every = "600 mm" }', "{ hz = [2, 2] }")).goals
    assert (goals.excitation, goals.excitation_stated) == ((2.0, 2.0), True)


def test_wheels(cart):
    wheel = cart.wheels["front-left"]
    assert (wheel.body, wheel.centre, wheel.axis, wheel.brake) == (
        "arm-left",
        "hub-left",
        ("hub-left", "spindle-left"),
        "arm-left",
    )
    assert (wheel.radius.value, wheel.load.value) == (pytest.approx(0.2032), 62.0)
    assert (wheel.unsprung.value, wheel.tyre.value) == (11.0, pytest.approx(90e3))


def test_things_stand_in_the_order_of_the_file(cart):
    assert list(cart.bodies) == [
        "chassis",
        "rocker-left",
        "rocker-right",
        "arm-left",
        "arm-right",
        "handlebar",
        "beam",
    ]
    assert list(cart.bars) == ["link-left", "link-right", "tie-left", "tie-right", "panhard"]


def test_nothing_of_a_project_can_be_changed(cart):
    with pytest.raises(TypeError):
        cart.points["new"] = cart.points["tab-left"]
    with pytest.raises(AttributeError):
        cart.title = "other"


REWRITTEN = {
    "CRLF": lambda text: text.replace("\n", "\r\n"),
    "a byte order mark": lambda text: "\ufeff" + text,
    "single quotes": lambda text: text.replace('"', "'"),
    "quoted keys": lambda text: text.replace("pivot-front-left =", '"pivot-front-left" =').replace(
        "[bars.link-left]", "[bars.'link-left']"
    ),
    "dotted keys": lambda text: text.replace(
        "[wheels.front-right]\nload = 64", "[wheels]\nfront-right.load = 64"
    ),
    "no last line end": lambda text: text.rstrip("\n"),
    "other units": lambda text: text.replace("length_open = 318", 'length_open = "0.318 m"').replace(
        "tyre = 90", 'tyre = "90 kN/m"'
    ),
    "escaped names": lambda text: text.replace(
        '"head-top", "head-low"]\nbeam', '"head\\u002dtop", "head-low"]\nbeam'
    ),
    "blank lines and comments": lambda text: text.replace("\n[", '\n\n# a remark with " and [ in it\n\n['),
}


@pytest.mark.parametrize("rewrite", REWRITTEN.values(), ids=REWRITTEN.keys())
def test_the_same_vehicle_written_otherwise_is_the_same(rewrite, cart):
    text = rewrite(WHOLE)
    assert text != WHOLE
    other = Project.from_text(text)
    for table in ("points", "bodies", "bars", "shocks", "springs", "straps", "held", "wheels"):
        assert list(getattr(other, table)) == list(getattr(cart, table))
    assert [point.at for point in other.points.values()] == [point.at for point in cart.points.values()]
    assert other.bodies["handlebar"].points == ("head-top", "head-low")
    assert other.shocks["salvaged"].length_open.value == pytest.approx(0.318)
    assert other.wheels["front-left"].tyre.value == pytest.approx(90e3)
    assert other.wheels["front-right"].load.value == 64
    assert other.goals == cart.goals


def test_the_tables_of_the_file_itself():
    written: Any = Project.from_text("\ufeff" + WHOLE).written
    assert list(written["wheels"]) == ["front-left", "front-right"]
    assert written["wheels"]["front-left"]["radius"] == "8 in"


def test_a_project_read_from_a_file_is_that_of_its_text(tmp_path, cart):
    path = tmp_path / "cart.toml"
    path.write_text(WHOLE, encoding="utf-8", newline="")
    read = Project.read(path)
    assert read.text == WHOLE
    assert read.name == str(path)
    assert read.wheels == cart.wheels


def test_reading_loads_no_numerics():
    code = (
        "import sys, leverwright.project as p; p.Draft.from_text('')\n"
        "sys.exit('numpy' in sys.modules or 'tomlkit' in sys.modules)"
    )
    found = subprocess.run([sys.executable, "-c", code], check=False)
    assert found.returncode == 0


def test_lists_of_a_table_stand_where_toml_lets_them_stand():
    lines = Project.from_text(WHOLE.replace("at = [398, 214, 318]", "at = [\n398,\n214,\n318]")).points
    assert lines["link-hole-left"].at == pytest.approx((0.398, 0.214, 0.318))
    assert lines["spring-hole-left"].line == 14


def test_a_draft_without_faults_holds_its_project(cart):
    draft = Draft.from_text(WHOLE, "cart.toml")
    assert draft.faults == ()
    assert draft.project == cart
    assert draft.notices == cart.notices
    assert draft.sketch.wheels == cart.wheels


def test_a_half_made_vehicle_is_drawn_as_far_as_it_goes():
    draft = Draft.from_text(WHOLE.replace("load = 62\n", "").replace("[398, 250, 265]", '["x", 250, 265]'))
    assert draft.project is None
    assert [fault.key for fault in draft.faults] == ["points.spring-hole-left", "wheels.front-left.load"]
    assert "pivot-front-left" in draft.sketch.points
    assert "spring-hole-left" not in draft.sketch.points
    assert draft.sketch.springs["spring-left"].ends == ("spring-hole-left", "spring-eye-left")
    assert list(draft.sketch.wheels) == ["front-right"]


def test_nothing_at_all_is_a_draft_too():
    draft = Draft.from_text("")
    assert [fault.key for fault in draft.faults] == ["leverwright", "points", "bodies"]
    assert {fault.line for fault in draft.faults} == {1}
    assert not draft.sketch.points
    assert draft.project is None


def test_a_text_that_is_no_toml_is_a_draft_with_one_fault():
    draft = Draft.from_text("leverwright = 1\n[points\n")
    assert [(fault.line, fault.key) for fault in draft.faults] == [(2, "points")]
    assert not draft.sketch.points


def test_a_project_error_carries_its_fault():
    with pytest.raises(ProjectError) as refused:
        Project.from_text("", "nothing.toml")
    assert str(refused.value) == refused.value.fault.sentence
