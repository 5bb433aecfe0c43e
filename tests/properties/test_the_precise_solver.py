"""The forty-digit solver against what it must give, without a line of the product."""

from __future__ import annotations

import mpmath
import pytest

from tests.properties.precise import DIGITS, PreciseLinkage
from tests.reference.differences import ratio_slopes
from tests.reference.rigid_engine import RigidEngine
from tests.reference.root_by_pose import RootByPose
from tests.reference.vehicle import read


def test_row_a8_to_all_its_digits():
    """The planar train of tests/published (A8) at +25 mm: ratio 0.54231416, slope −0.00074467951 per mm (C)."""
    vehicle = read("flat-train")
    near = RootByPose(vehicle).solve({"wheel": 0.025})
    linkage = PreciseLinkage(vehicle)
    assert linkage.ratio({"wheel": 0.025}, "wheel", near)["spring"] == pytest.approx(0.54231416, rel=1e-8)
    slope = linkage.slope({"wheel": 0.025}, ("wheel", "wheel"), near)["spring"]
    assert slope / 1e3 == pytest.approx(-0.00074467951, rel=1e-8)


@pytest.mark.parametrize(
    "name", ["wishbone-corner", "beam-axle", "swing-arm", "trailing-arm", "flat-four-bar"]
)
def test_ratio_and_slope_of_the_rigid_engine(name):
    vehicle = read(name)
    travel = dict.fromkeys(vehicle.wheels, 0.01)
    near = RootByPose(vehicle).solve(travel)
    engine, linkage = RigidEngine(vehicle), PreciseLinkage(vehicle)
    ratios, slopes = engine.ratios(travel), ratio_slopes(engine, travel)
    for one in vehicle.wheels:
        for spring, ratio in linkage.ratio(travel, one, near).items():
            assert ratios[spring][one] == pytest.approx(ratio, rel=1e-9, abs=1e-10)
        for other in vehicle.wheels:
            for spring, slope in linkage.slope(travel, (one, other), near).items():
                # The engine's differences keep about eight digits of a slope of some 1/m.
                assert slopes[spring][one][other] == pytest.approx(slope, rel=1e-6, abs=1e-6)


def test_forty_digits_close_the_measured_pose_exactly():
    vehicle = read("wishbone-corner")
    found = PreciseLinkage(vehicle).solve({"wheel": 0.0}, vehicle.points)
    with mpmath.workdps(DIGITS):
        assert all(
            abs(c - mpmath.mpf(str(round(float(m) * 1e3, 6))) / 1000) < mpmath.mpf(10) ** -30
            for name, at in found.items()
            for c, m in zip(at, vehicle.points[name], strict=True)
        )
