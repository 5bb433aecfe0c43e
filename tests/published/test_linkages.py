"""PUBLISHED rows A1 to A8: linkages through project texts, product answers against printed ones.

Provenance: R read in the place named, M recalled from memory of it and recomputed, C computed.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from tests.published.four_bars import BEVAN, NORTON, NORTON_CROSSED, FourBar
from tests.published.trains import BELL_CRANK, ROCKER_TRAIN, TRAILING_ARM
from tests.reference.product import Said, poses_of, stops_of, study_of, transmission_of

INCH = 0.0254  # m, exact
UNIT = {"mm": 1e-3, "in": INCH}


def one_pose(text: str, travel: float) -> Said:
    """The product's answers with the wheel at `travel` [m]."""
    return poses_of(study_of(text), (min(travel, 0.0), max(travel, 0.0)), 2)[1 if travel > 0 else 0]


def crank_at(bar: FourBar, angle: float, set_up: float = 0.0) -> Said:
    """A four-bar measured with its crank at `set_up` [rad], moved until the crank stands at `angle` [rad]."""
    rise = bar.crank * UNIT[bar.unit] * (math.sin(angle) - math.sin(set_up))
    return one_pose(bar.text(set_up), rise)


def direction(pose: Said, start: str, end: str) -> float:
    """Angle [rad] of the line from one point to another, anticlockwise from x."""
    dx, dz = pose.points[end] - pose.points[start]
    return math.atan2(dz, dx)


@pytest.mark.parametrize(
    ("bar", "coupler", "rocker"), [(NORTON, 20.2979, 57.3249), (NORTON_CROSSED, -60.9780, -98.0050)]
)
def test_norton_example_4_1(bar, coupler, rocker):
    """A1, Norton, Design of Machinery, Ex. 4-1: both branches, crank at 40 deg (M; tolerance 1e-3 deg).

    The set-up pose has the crank on the ground line; the wheel then leads it to 40 deg.
    """
    pose = crank_at(bar, math.radians(40))
    assert math.degrees(direction(pose, "crank-end", "rocker-end")) == pytest.approx(coupler, abs=1e-3)
    assert math.degrees(direction(pose, "rocker-pivot", "rocker-end")) == pytest.approx(rocker, abs=1e-3)


def turn_rates(bar: FourBar, angle: float, speed: float) -> tuple[float, float, float, float]:
    """Speeds [rad/s] and accelerations [rad/s²] of coupler and rocker for a crank at steady `speed` [rad/s].

    Hinge springs watch the angles; signs of their ratios are those of bump, so each is led back to
    anticlockwise by two poses a little apart.
    """
    near = crank_at(bar, angle)
    far = crank_at(bar, angle + 1e-4)
    arm = bar.crank * UNIT[bar.unit]
    rise, rise2 = arm * math.cos(angle) * speed, -arm * math.sin(angle) * speed**2
    turned = {
        "rocker-twist": direction(far, "rocker-pivot", "rocker-end")
        - direction(near, "rocker-pivot", "rocker-end"),
        "coupler-twist": direction(far, "crank-end", "rocker-end")
        - direction(near, "crank-end", "rocker-end")
        - 1e-4,
    }
    speeds, accelerations = {}, {}
    for name, by in turned.items():
        ratio, slope = near.ratios[name]["wheel"], near.slopes[name]["wheel"]["wheel"]
        sign = math.copysign(1.0, by) * math.copysign(1.0, ratio)
        speeds[name] = sign * ratio * rise
        accelerations[name] = sign * (slope * rise**2 + ratio * rise2)
    return (
        speeds["coupler-twist"] + speed,
        speeds["rocker-twist"],
        accelerations["coupler-twist"],
        accelerations["rocker-twist"],
    )


def test_norton_example_6_7():
    """A2, Norton Ex. 6-7: crank 25 rad/s, open branch (M; 1e-4)."""
    coupler, rocker, _, _ = turn_rates(NORTON, math.radians(40), 25.0)
    assert coupler == pytest.approx(-4.1209, abs=1e-4)
    assert rocker == pytest.approx(6.9980, abs=1e-4)


def test_bevan_chapter_3_example_5():
    """A3, Bevan, Theory of Machines, ch. 3 ex. 5 p. 98: crank 100 rpm at 60 deg (R companion; 1e-3 of exact).

    The book's 50.9 and 24.7 rad/s² were scaled off a drawing; the exact values are the row's.
    """
    speed = 100 * 2 * math.pi / 60
    coupler, rocker, coupler2, rocker2 = turn_rates(BEVAN, math.radians(60), speed)
    assert abs(rocker) == pytest.approx(3.966, rel=1e-3)
    assert abs(coupler) == pytest.approx(2.073, rel=1e-3)
    assert abs(rocker2) == pytest.approx(50.60, rel=1e-3)
    assert abs(coupler2) == pytest.approx(25.63, rel=1e-3)
    # The row's speed of the rocker's end, 4.5 in from its pivot.
    assert abs(rocker) * 4.5 / 12 == pytest.approx(1.487, rel=1e-3)


@pytest.mark.parametrize(("set_up", "degree"), [(0.0, 26.384), (math.pi, 86.417)])
def test_transmission_angle_extremes(set_up, degree):
    """A4, law of cosines on A1's lengths: crank along the ground line, to and from the rocker (C; 1e-3 deg)."""
    found = transmission_of(study_of(NORTON.text(set_up, springs=False)), 0.0)
    assert math.degrees(found) == pytest.approx(degree, abs=1e-3)


def test_jindal_example_6_1():
    """A5, Jindal, Machine Design, ex. 6-1 p. 171: bell-crank and spring (R inputs, C; 0.1 %)."""
    pose = one_pose(BELL_CRANK, 0.0)
    assert pose.pushes["spring"] == pytest.approx(5000, rel=1e-3)
    assert pose.wheel_forces["wheel"] == pytest.approx(2000, rel=1e-3)
    assert np.linalg.norm(pose.joints["pivot"]) == pytest.approx(5385.2, rel=1e-3)


def test_inclined_spring_on_a_level_trailing_arm():
    """A6 (C SymPy; 1e-5): the definition of the ratio both ways, and the geometric term.

    One figure of the row contradicts the rest: it prints 0.00037055 per mm for the slope, while its own
    geometric term and spring force give 0.10207 / 275.445 = 0.000370564 to 0.000370582. Forty digits of
    the closed form give 0.000370579413, which stands here at the row's tolerance instead.
    """
    pose = one_pose(TRAILING_ARM, 0.0)
    ratio, push = pose.ratios["spring"]["wheel"], pose.pushes["spring"]
    slope = pose.slopes["spring"]["wheel"]["wheel"]
    assert pose.lengths["spring"] * 1e3 == pytest.approx(316.2278, rel=1e-5)
    assert ratio == pytest.approx(0.592927, rel=1e-5)
    assert 1 / ratio == pytest.approx(1.68655, rel=1e-5)
    assert ratio == pytest.approx(0.625 * 300 / math.hypot(100, 300), rel=1e-12)  # the row's own check
    assert slope / 1e3 == pytest.approx(0.000370579413, rel=1e-5)
    assert push == pytest.approx(275.445, rel=1e-5)
    assert pose.wheel_forces["wheel"] == pytest.approx(163.319, rel=1e-5)
    spring_part = 20.0 * ratio**2
    assert spring_part == pytest.approx(7.03125, rel=1e-5)
    rate = pose.rates["wheel"]["wheel"] / 1e3
    assert rate == pytest.approx(7.13332, rel=1e-5)
    assert rate - spring_part == pytest.approx(0.10207, abs=5e-6)  # five digits printed


def test_inclined_spring_with_the_arm_raised():
    """A7 (C; 1e-5): A6 with the arm up 0.1 rad, the wheel 39.9334 mm up."""
    pose = one_pose(TRAILING_ARM, 0.4 * math.sin(0.1))
    ratio = pose.ratios["spring"]["wheel"]
    rate = pose.rates["wheel"]["wheel"] / 1e3
    assert ratio == pytest.approx(0.60942, rel=1e-5)
    assert 20.0 * ratio**2 == pytest.approx(7.42798, rel=1e-5)
    assert rate == pytest.approx(7.77298, rel=1e-5)
    assert rate - 20.0 * ratio**2 == pytest.approx(0.34501, abs=5e-6)  # five digits printed


# A8 (C: 40-digit arithmetic of the closed form, derivatives numeric). z mm, spring length mm, MR, dMR/dz per mm,
# transmission angle deg, spring N, wheel N, k·MR², geometric term, wheel rate N/mm, link N (+ pushes), pivot N.
A8 = [
    (-50, 264.40027, 0.57444138, -0.00040431562, 104.57044, 100.79519, 57.900928,
     5.9396921, -0.04075307, 5.8989391, 94.178424, 135.12589),
    (-25, 250.15350, 0.56559922, -0.00033188290, 95.275394, 357.23697, 202.05295,
     5.7582446, -0.11856084, 5.6396838, 327.32534, 475.64004),
    (0, 236.12285, 0.55644652, -0.00043016235, 86.370780, 609.78871, 339.31481,
     5.5733892, -0.26230814, 5.3110811, 547.75245, 800.47553),
    (25, 222.37208, 0.54231416, -0.00074467951, 77.632533, 857.30261, 464.92734,
     5.2938836, -0.63841569, 4.6554679, 747.60292, 1095.7694),
    (50, 209.10503, 0.51626049, -0.00141919790, 68.858197, 1096.1094, 565.87800,
     4.7974481, -1.55559620, 3.2418520, 905.29666, 1336.6251),
]  # fmt: skip


@pytest.mark.parametrize("row", A8, ids=[f"{row[0]} mm" for row in A8])
def test_rocker_train(row):
    """A8, every column at 1e-6 relative, the printed figures' own last digit where that is coarser."""
    z, length, ratio, slope, angle, spring, wheel, spring_part, geometric, rate, link, pivot = row
    study = study_of(ROCKER_TRAIN)
    pose = one_pose(ROCKER_TRAIN, z * 1e-3)
    found = pose.ratios["spring"]["wheel"]
    found_rate = pose.rates["wheel"]["wheel"] / 1e3
    assert pose.lengths["spring"] * 1e3 == pytest.approx(length, rel=1e-6)
    assert found == pytest.approx(ratio, rel=1e-6)
    assert pose.slopes["spring"]["wheel"]["wheel"] / 1e3 == pytest.approx(slope, rel=1e-6)
    assert math.degrees(transmission_of(study, z * 1e-3)) == pytest.approx(angle, rel=1e-6)
    assert pose.pushes["spring"] == pytest.approx(spring, rel=1e-6)
    assert pose.wheel_forces["wheel"] == pytest.approx(wheel, rel=1e-6)
    assert 18 * found**2 == pytest.approx(spring_part, rel=1e-6)
    assert found_rate - 18 * found**2 == pytest.approx(geometric, rel=1e-6)
    assert found_rate == pytest.approx(rate, rel=1e-6)
    assert pose.tensions["link"] == pytest.approx(-link, rel=1e-6)
    assert np.linalg.norm(pose.joints["rocker-pivot"]) == pytest.approx(pivot, rel=1e-6)


def test_rocker_train_fixed_lengths_and_dead_centres():
    """A8: link 313.249102, rocker arm 97.082439; dead at −158.767 (stretched) and +170.233 (folded)."""
    pose = one_pose(ROCKER_TRAIN, 0.05)
    link = np.linalg.norm(pose.points["arm-hole"] - pose.points["rocker-hole"])
    arm = np.linalg.norm(pose.points["rocker-pivot"] - pose.points["rocker-hole"])
    assert link * 1e3 == pytest.approx(313.249102, abs=5e-7)
    assert arm * 1e3 == pytest.approx(97.082439, abs=5e-7)
    # With a shock that is never in the way the linkage itself ends the travel. 0.5 µm: the last printed digit.
    free = ROCKER_TRAIN.replace("length_open = 270", "length_open = 900").replace(
        "length_closed = 200", "length_closed = 1"
    )
    droop, droop_why, bump, bump_why = stops_of(study_of(free))
    assert (droop_why, bump_why) == ("dead centre", "dead centre")
    assert droop * 1e3 == pytest.approx(-158.767, abs=5e-4)
    assert bump * 1e3 == pytest.approx(170.233, abs=5e-4)
