"""The product against an independent multibody engine: seven mechanisms, flat and in space.

Places, ratios, slopes, bar forces, joint forces, ground forces and wheel rates; the engine's come
from its own statics in this very run, nothing is stored.
"""

from __future__ import annotations

import numpy as np
import pytest

from tests.reference.differences import rate_matrix, ratio_slopes
from tests.reference.product import Said, poses_of, study_of
from tests.reference.rigid_engine import RigidEngine
from tests.reference.vehicle import Vehicle, read, read_text

NEAR = 1e-9  # m, 1e-6 mm: the contract's meaningful figure
FORCE = 1e-6  # N, likewise; the engine's own Newton leaves some 1e-8 N
# Differences of static forces and ratios, fourth order over 2 mm: about eight digits.
DIFFERENCE = 1e-6

CASES = [
    ("flat-train", "heave"),
    ("flat-four-bar", "heave"),
    ("trailing-arm", "heave"),
    ("wishbone-corner", "heave"),
    ("beam-axle", "heave"),
    ("beam-axle", "roll"),
    ("beam-axle", "left"),
    ("swing-arm", "heave"),
    ("steered-corner", "heave"),
    ("coupled-corners", "heave"),
    ("coupled-corners", "roll"),
    ("coupled-corners", "left"),
]
ENDS, POSES = (-0.02, 0.025), 4


def engine_and_product(
    name: str, mode: str, led: dict[str, float] | None = None
) -> tuple[RigidEngine, Vehicle, list[Said]]:
    vehicle = read(name)
    return RigidEngine(vehicle), vehicle, poses_of(study_of(vehicle.text, led), ENDS, POSES, mode)


@pytest.mark.parametrize(("name", "mode"), CASES)
def test_travels_are_those_asked(name, mode):
    _, vehicle, said = engine_and_product(name, mode)
    share = {"heave": (1, 1), "roll": (1, -1), "left": (1, 0)}[mode]
    for pose, z in zip(said, np.linspace(*ENDS, POSES), strict=True):
        for wheel, part in zip(vehicle.wheels, share, strict=False):
            assert pose.travel[wheel] == pytest.approx(part * z, abs=NEAR)


@pytest.mark.parametrize(("name", "mode"), CASES)
def test_places_and_spring_lengths(name, mode):
    engine, vehicle, said = engine_and_product(name, mode)
    for pose in said:
        found = engine.pose(pose.travel)
        for point in vehicle.points:
            assert pose.points[point] == pytest.approx(found.points[point], abs=NEAR), point
        assert pose.lengths == pytest.approx(found.lengths, abs=NEAR)


@pytest.mark.parametrize(("name", "mode"), CASES)
def test_forces_of_springs_bars_joints_and_ground(name, mode):
    engine, _, said = engine_and_product(name, mode)
    for pose in said:
        found = engine.pose(pose.travel)
        assert pose.pushes == pytest.approx(found.pushes, abs=FORCE)
        assert pose.tensions == pytest.approx(found.tensions, abs=FORCE)
        assert pose.wheel_forces == pytest.approx(found.wheel_forces, abs=FORCE)
        assert pose.joints.keys() == found.joints.keys()
        for point, force in found.joints.items():
            assert pose.joints[point] == pytest.approx(force, abs=FORCE), point


@pytest.mark.parametrize(("name", "mode"), CASES)
def test_motion_ratio_is_the_ground_force_that_holds_a_push_of_one_newton(name, mode):
    engine, _, said = engine_and_product(name, mode)
    for pose in said:
        for spring, by_wheel in engine.ratios(pose.travel).items():
            assert pose.ratios[spring] == pytest.approx(by_wheel, rel=1e-8, abs=1e-9)


@pytest.mark.parametrize(("name", "mode"), CASES)
def test_slope_of_the_ratio(name, mode):
    engine, _, said = engine_and_product(name, mode)
    for pose in said[::3]:
        for spring, by_pair in ratio_slopes(engine, pose.travel).items():
            for wheel, slopes in by_pair.items():
                assert pose.slopes[spring][wheel] == pytest.approx(slopes, rel=DIFFERENCE, abs=1e-5)


@pytest.mark.parametrize(("name", "mode"), CASES)
def test_wheel_rate_is_the_change_of_the_static_ground_force(name, mode):
    engine, _, said = engine_and_product(name, mode)
    for pose in said[::3]:
        for wheel, rates in rate_matrix(engine, pose.travel).items():
            assert pose.rates[wheel] == pytest.approx(rates, rel=DIFFERENCE)


@pytest.mark.parametrize("led", [-0.03, 0.02])
def test_steered_corner_with_the_rack_moved(led):
    engine, vehicle, said = engine_and_product("steered-corner", "heave", {"steer": led})
    for pose in said:
        found = engine.pose(pose.travel, {"steer": led})
        for point in vehicle.points:
            assert pose.points[point] == pytest.approx(found.points[point], abs=NEAR), point
        assert pose.tensions == pytest.approx(found.tensions, abs=FORCE)
        assert pose.wheel_forces == pytest.approx(found.wheel_forces, abs=FORCE)
        ratios = engine.ratios(pose.travel, {"steer": led})
        assert pose.ratios["spring"] == pytest.approx(ratios["spring"], rel=1e-8)


def altered(name: str, old: str, new: str) -> Vehicle:
    text = read(name).text
    assert text.count(old) == 1
    return read_text(text.replace(old, new))


@pytest.mark.parametrize("change", [-8.0, 6.0])
def test_wishbone_corner_with_its_push_link_set_to_another_length(change):
    """Travel 0 stays the hub's height as measured; only the rocker stands elsewhere."""
    measured = read("wishbone-corner").bar_length["push"] * 1e3
    vehicle = altered(
        "wishbone-corner",
        'ends = ["tab", "rocker-hole"]',
        f'ends = ["tab", "rocker-hole"]\nlength = {measured + change:.4f}',
    )
    engine = RigidEngine(vehicle)
    for pose in poses_of(study_of(vehicle.text), (-0.01, 0.01), 3):
        found = engine.pose(pose.travel)
        for point in vehicle.points:
            assert pose.points[point] == pytest.approx(found.points[point], abs=NEAR), point
        assert pose.tensions == pytest.approx(found.tensions, abs=FORCE)
        assert pose.ratios["spring"] == pytest.approx(engine.ratios(pose.travel)["spring"], rel=1e-8)


def test_beam_axle_with_one_arm_lengthened():
    """The axle turns about the vertical a little: both wheels keep their heights, everything else moves."""
    measured = read("beam-axle").bar_length["arm-l"] * 1e3
    vehicle = altered(
        "beam-axle",
        'arm-l = { ends = ["axle-low-l", "low-l"] }',
        f'arm-l = {{ ends = ["axle-low-l", "low-l"], length = {measured + 7:.4f} }}',
    )
    engine = RigidEngine(vehicle)
    for pose in poses_of(study_of(vehicle.text), (-0.01, 0.01), 3):
        found = engine.pose(pose.travel)
        for point in vehicle.points:
            assert pose.points[point] == pytest.approx(found.points[point], abs=NEAR), point
        assert pose.tensions == pytest.approx(found.tensions, abs=FORCE)


FREE_POINT = """
leverwright = 1
[points]
arm-front = [0, 20, 0]
arm-rear = [0, 120, 5]
hub = [-400, 200, 0]
hole = [-300, 150, 20]
knot = [-280, 140, 250]
hook = [-100, 130, 260]
side = [-260, -40, 240]
eye = [-240, 150, 480]
[bodies]
chassis = ["arm-front", "arm-rear", "hook", "side", "eye"]
arm = ["arm-front", "arm-rear", "hub", "hole"]
[bars]
rise = { ends = ["hole", "knot"] }
back = { ends = ["hook", "knot"] }
across = { ends = ["side", "knot"] }
[shocks.coil]
rate = 20
length_open = 262
length_closed = 150
preload = 0
[springs.spring]
ends = ["knot", "eye"]
shock = "coil"
[wheels.wheel]
body = "arm"
centre = "hub"
radius = 200
load = 50
"""


def test_three_bars_and_a_spring_that_meet_in_the_air():
    """A point on no body: three unknowns, held by three bars."""
    vehicle = read_text(FREE_POINT)
    engine = RigidEngine(vehicle)
    for pose in poses_of(study_of(FREE_POINT), (-0.02, 0.02), 3):
        found = engine.pose(pose.travel)
        for point in vehicle.points:
            assert pose.points[point] == pytest.approx(found.points[point], abs=NEAR), point
        assert pose.tensions == pytest.approx(found.tensions, abs=FORCE)
        assert pose.wheel_forces == pytest.approx(found.wheel_forces, abs=FORCE)
        assert pose.ratios["spring"] == pytest.approx(engine.ratios(pose.travel)["spring"], rel=1e-8)


@pytest.mark.parametrize("hinge", [("arm", "chassis"), ("chassis", "arm"), ("rocker", "chassis")])
@pytest.mark.parametrize("twist", [-3, 4])
def test_trailing_arm_with_a_spring_on_a_hinge_too(hinge, twist):
    """A torsion bar beside the coil; whichever body is named first, + twist already resists bump."""
    table = (
        f'[springs.bar]\nhinge = ["{hinge[0]}", "{hinge[1]}"]\nrate = 9\ntwist = {twist}\n\n[wheels.wheel]'
    )
    vehicle = altered("trailing-arm", "[wheels.wheel]", table)
    engine = RigidEngine(vehicle)
    study = study_of(vehicle.text)
    for pose in poses_of(study, ENDS, POSES):
        found = engine.pose(pose.travel)
        assert pose.wheel_forces == pytest.approx(found.wheel_forces, abs=FORCE)
        assert pose.tensions == pytest.approx(found.tensions, abs=FORCE)
        for point, force in found.joints.items():
            assert pose.joints[point] == pytest.approx(force, abs=FORCE), point
        assert pose.rates["wheel"] == pytest.approx(rate_matrix(engine, pose.travel)["wheel"], rel=DIFFERENCE)
