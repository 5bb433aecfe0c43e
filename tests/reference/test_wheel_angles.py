"""Camber and toe printed by `cycle` against the spin axis that the rigid engine poses.

ISO 8855 meanings (M), per side: camber positive when the wheel's top leans outward, toe positive when
its front points inward. Outward is the way the axis points; the wheel's plane is square to it.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from leverwright.wire.cycling import cycle_document
from tests.reference.product import study_of
from tests.reference.rigid_engine import RigidEngine
from tests.reference.vehicle import Array, read

UP, FORWARD = np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0])


def angles(outward: Array) -> tuple[float, float]:
    """Camber and toe [deg] from the wheel's own upright and forward directions, by where they lean."""
    outward = outward / np.linalg.norm(outward)
    side = math.copysign(1.0, outward[1])
    top = UP - (UP @ outward) * outward  # from hub to the rim's highest place
    heading = side * np.cross(outward, UP)  # horizontal, in the wheel's plane
    level_outward = np.array([outward[0], outward[1], 0.0]) / np.hypot(outward[0], outward[1])
    camber = math.atan2(float(top @ level_outward), float(top @ UP))
    inward = -side * np.array([0.0, 1.0, 0.0])
    toe = math.atan2(float(heading @ inward), float(heading @ FORWARD))
    return math.degrees(camber), math.degrees(toe)


@pytest.mark.parametrize(
    ("name", "mode"), [("wishbone-corner", "heave"), ("beam-axle", "roll"), ("trailing-arm", "heave")]
)
def test_camber_and_toe_over_the_travel(name, mode):
    vehicle = read(name)
    engine = RigidEngine(vehicle)
    study = study_of(vehicle.text)
    (assembly,) = cycle_document(study, study.cycle(mode, (-0.02, 0.02), 5)).assemblies
    for pose in assembly.poses:
        points = engine.pose({w: z * 1e-3 for w, z in pose.travel_mm.items()}).points
        for wheel, (inner, outer) in vehicle.axes.items():
            camber, toe = angles(points[outer] - points[inner])
            assert pose.wheels[wheel].camber_deg == pytest.approx(camber, abs=1e-7)
            assert pose.wheels[wheel].toe_deg == pytest.approx(toe, abs=1e-7)


def test_signs_on_either_side():
    """Arithmetic: a left wheel whose axis points 3 deg down leans its top outward; pointing ahead it toes in."""
    down, ahead = math.tan(math.radians(3)), math.tan(math.radians(2))
    for side in (1.0, -1.0):
        assert angles(np.array([0.0, side, -down]))[0] == pytest.approx(3.0)
        assert angles(np.array([ahead, side, 0.0]))[1] == pytest.approx(2.0)
