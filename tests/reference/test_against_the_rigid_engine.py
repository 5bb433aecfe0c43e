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
from tests.reference.vehicle import Vehicle, read

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
