"""The reference engines are themselves held to closed forms and to each other.

No line of the product runs here: were a witness wrong, its comparisons would be worth nothing.
"""

from __future__ import annotations

import numpy as np
import pytest

from tests.reference.balance import leftovers
from tests.reference.differences import rate_matrix, ratio_slopes
from tests.reference.rigid_engine import RigidEngine
from tests.reference.root_by_pose import RootByPose
from tests.reference.vehicle import read

ALL = [
    "flat-train",
    "flat-four-bar",
    "trailing-arm",
    "wishbone-corner",
    "beam-axle",
    "swing-arm",
    "steered-corner",
    "coupled-corners",
]
TRAVELS = (-0.02, 0.0, 0.025)  # m, inside every shock's travel

# Row A8 of tests/published (provenance C: 40-digit arithmetic of the closed form): z mm, spring length mm,
# ratio, slope per mm, spring N, wheel N, wheel rate N/mm, link N (+ pushes), arm pivot N.
A8 = [
    (-50, 264.40027, 0.57444138, -0.00040431562, 100.79519, 57.900928, 5.8989391, 94.178424, 135.12589),
    (-25, 250.15350, 0.56559922, -0.00033188290, 357.23697, 202.05295, 5.6396838, 327.32534, 475.64004),
    (0, 236.12285, 0.55644652, -0.00043016235, 609.78871, 339.31481, 5.3110811, 547.75245, 800.47553),
    (25, 222.37208, 0.54231416, -0.00074467951, 857.30261, 464.92734, 4.6554679, 747.60292, 1095.7694),
    (50, 209.10503, 0.51626049, -0.00141919790, 1096.1094, 565.87800, 3.2418520, 905.29666, 1336.6251),
]  # fmt: skip


@pytest.mark.parametrize("row", A8, ids=lambda row: f"{row[0]} mm")
def test_the_rigid_engine_gives_row_a8(row: tuple[float, ...]) -> None:
    z, length, ratio, slope, spring, wheel, rate, link, pivot = row
    engine = RigidEngine(read("flat-train"))
    travel = {"wheel": z * 1e-3}
    pose = engine.pose(travel)
    # The row prints eight digits: half a unit of the last is 1e-8 relative.
    assert pose.lengths["spring"] * 1e3 == pytest.approx(length, rel=3e-8)
    assert pose.pushes["spring"] == pytest.approx(spring, rel=1e-7)
    assert pose.wheel_forces["wheel"] == pytest.approx(wheel, rel=3e-8)
    assert pose.tensions["link"] == pytest.approx(-link, rel=3e-8)
    assert np.linalg.norm(pose.joints["rocker-pivot"]) == pytest.approx(pivot, rel=1e-7)
    assert engine.ratios(travel)["spring"]["wheel"] == pytest.approx(ratio, rel=3e-8)
    assert rate_matrix(engine, travel)["wheel"]["wheel"] / 1e3 == pytest.approx(rate, rel=3e-8)
    found = ratio_slopes(engine, travel)["spring"]["wheel"]["wheel"]
    assert found / 1e3 == pytest.approx(slope, rel=3e-7)  # differences of a ratio good to 1e-10


@pytest.mark.parametrize("name", ALL)
def test_the_two_witnesses_put_every_point_in_the_same_place(name: str) -> None:
    vehicle = read(name)
    engine, by_root = RigidEngine(vehicle), RootByPose(vehicle)
    for z in TRAVELS:
        travel = dict.fromkeys(vehicle.wheels, z)
        one, other = engine.pose(travel).points, by_root.solve(travel)
        for point in vehicle.points:
            assert one[point] == pytest.approx(other[point], abs=1e-10), point  # m: 1e-7 mm


def test_the_two_witnesses_agree_with_the_rack_moved_and_the_axle_rolled() -> None:
    steered, axle = read("steered-corner"), read("beam-axle")
    for led in (-0.03, 0.02):
        travel = {"wheel": 0.01}
        one = RigidEngine(steered).pose(travel, {"steer": led}).points
        other = RootByPose(steered).solve(travel, {"steer": led})
        assert all(one[p] == pytest.approx(other[p], abs=1e-10) for p in steered.points)
    for travel in ({"left": 0.02, "right": -0.02}, {"left": -0.015, "right": 0.0}):
        one, other = RigidEngine(axle).pose(travel).points, RootByPose(axle).solve(travel)
        assert all(one[p] == pytest.approx(other[p], abs=1e-10) for p in axle.points)


@pytest.mark.parametrize("name", ALL)
def test_the_rigid_engines_forces_balance_on_every_body(name: str) -> None:
    vehicle = read(name)
    engine = RigidEngine(vehicle)
    for z in TRAVELS:
        pose = engine.pose(dict.fromkeys(vehicle.wheels, z))
        pulls = pose.tensions | {s: -push for s, push in pose.pushes.items()}
        for body, (force, moment) in leftovers(
            vehicle, pose.points, pulls, pose.joints, pose.wheel_forces
        ).items():
            assert force == pytest.approx(0, abs=1e-7), body  # N of some 1000 N
            assert moment == pytest.approx(0, abs=1e-7), body  # N·m


@pytest.mark.parametrize("name", ALL)
def test_the_static_ratio_is_the_difference_quotient_of_the_other_witness(name: str) -> None:
    vehicle = read(name)
    engine, by_root = RigidEngine(vehicle), RootByPose(vehicle)
    step = 1e-4  # m: truncation 1e-8 of the ratio, rounding 1e-12 / 1e-4
    for moved in vehicle.wheels:
        travel = dict.fromkeys(vehicle.wheels, 0.01)
        ratios = engine.ratios(travel)
        ends = []
        for n in (-2, -1, 1, 2):
            placed = by_root.solve(travel | {moved: 0.01 + n * step})
            ends.append({s: np.linalg.norm(placed[a] - placed[b]) for s, (a, b) in vehicle.springs.items()})
        for spring in vehicle.springs:
            far2, near2, near1, far1 = (float(e[spring]) for e in ends)
            quotient = -(8 * (near1 - near2) - (far1 - far2)) / (12 * step)
            assert ratios[spring][moved] == pytest.approx(quotient, rel=1e-7, abs=1e-8)
