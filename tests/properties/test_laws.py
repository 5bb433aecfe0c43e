"""Laws that hold for every linkage, over drawn ones: work, balance, derivatives, likeness.

The same vehicle gives the same answer, equal to 1e-6.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leverwright import Project
from tests.properties import drawn
from tests.properties.drawn import File, as_text, mechanisms
from tests.properties.precise import PreciseLinkage
from tests.reference.balance import leftovers
from tests.reference.product import Said, poses_of, study_of
from tests.reference.root_by_pose import RootByPose
from tests.reference.vehicle import read_text

ENDS = (drawn.SWING[0], drawn.SWING[-1])
SAME = 1e-6  # what is promised
FEW = settings(max_examples=8)
SOME = settings(max_examples=20)


def answers(file: File, mode: str = "heave", poses: int = 5) -> list[Said]:
    return poses_of(study_of(as_text(file)), ENDS, poses, mode)


@SOME
@given(mechanisms())
def test_every_point_is_where_a_general_root_finder_puts_it(file):
    by_root = RootByPose(read_text(as_text(file)))
    for pose in answers(file):
        found = by_root.solve(pose.travel)
        for point, at in found.items():
            assert pose.points[point] == pytest.approx(at, abs=1e-9), point  # 1e-6 mm


@SOME
@given(mechanisms())
def test_work_at_the_wheels_equals_work_in_the_springs(file):
    """Work is summed over a fine sweep by Boole's rule, at either end: no ratio enters."""
    poses = answers(file, poses=41)
    at_wheels = sum(
        _boole([p.wheel_forces[w] for p in poses], [p.travel[w] for p in poses]) for w in poses[0].travel
    )
    in_springs = sum(_boole_over_length(poses, spring) for spring in poses[0].lengths)
    assert at_wheels == pytest.approx(in_springs, rel=SAME)


def _boole(value: list[float], place: list[float]) -> float:
    """Integral over equal steps, sixth order: truncation far below 1e-6 on 41 poses over 40 mm."""
    step = (place[-1] - place[0]) / (len(place) - 1)
    weights = np.tile([14, 32, 12, 32], len(place) // 4)
    weights[0] = 7
    total = float(np.dot(weights, value[:-1])) + 7 * value[-1]
    return 2 * step / 45 * total


def _boole_over_length(poses: list[Said], spring: str) -> float:
    """Work [J] into a spring, whose law here is a straight line: mean push times shortening, exactly."""
    work = 0.0
    for one, other in pairwise(poses):
        work += (
            (one.pushes[spring] + other.pushes[spring]) / 2 * (one.lengths[spring] - other.lengths[spring])
        )
    return work


@SOME
@given(mechanisms())
def test_forces_on_every_body_balance(file):
    vehicle = read_text(as_text(file))
    for pose in answers(file):
        pulls = pose.tensions | {s: -push for s, push in pose.pushes.items()}
        left = leftovers(vehicle, pose.points, pulls, pose.joints, pose.wheel_forces)
        largest = max(abs(f) for f in (*pulls.values(), 1.0))
        for body, (force, moment) in left.items():
            assert np.abs(force).max() < SAME * largest, body
            assert np.abs(moment).max() < SAME * largest, body  # N·m, of arms below 1 m


@FEW
@given(mechanisms(), st.data())
def test_ratio_is_the_difference_quotient_in_forty_digits(file, data):
    vehicle = read_text(as_text(file))
    pose = answers(file)[data.draw(st.integers(0, 4))]
    linkage = PreciseLinkage(vehicle)
    for wheel in vehicle.wheels:
        for spring, ratio in linkage.ratio(pose.travel, wheel, pose.points).items():
            assert pose.ratios[spring][wheel] == pytest.approx(ratio, rel=1e-9, abs=1e-10)


@FEW
@given(mechanisms(), st.data())
def test_slope_is_the_second_difference_in_forty_digits(file, data):
    vehicle = read_text(as_text(file))
    pose = answers(file)[data.draw(st.integers(0, 4))]
    linkage = PreciseLinkage(vehicle)
    for one in vehicle.wheels:
        for other in vehicle.wheels:
            for spring, slope in linkage.slope(pose.travel, (one, other), pose.points).items():
                assert pose.slopes[spring][one][other] == pytest.approx(slope, rel=1e-8, abs=1e-8)


@FEW
@given(mechanisms())
def test_wheel_rate_is_the_change_of_the_wheel_force(file):
    """By a second, shifted sweep: differences of the ground forces, eight digits at most."""
    step = 2e-5  # m: truncation 1e-8, rounding 1e-10 / 1e-5
    study = study_of(as_text(file))
    for wheel in study.project.wheels:
        low, middle, high = poses_of(study, (-step, step), 3, wheel)
        for other in study.project.wheels:
            quotient = (high.wheel_forces[other] - low.wheel_forces[other]) / (2 * step)
            assert middle.rates[other][wheel] == pytest.approx(quotient, rel=SAME, abs=1e-3)  # 1e-6 N/mm


def same(one: list[Said], other: list[Said], joints: bool = True) -> None:
    """Every figure that does not depend on where the origin is."""
    for a, b in zip(one, other, strict=True):
        assert a.travel == pytest.approx(b.travel, abs=1e-9)
        for name in ("lengths", "pushes", "tensions", "wheel_forces"):
            assert getattr(a, name) == pytest.approx(getattr(b, name), rel=SAME, abs=1e-7), name
        for spring, by_wheel in a.ratios.items():
            assert by_wheel == pytest.approx(b.ratios[spring], rel=SAME, abs=1e-9)
            for wheel, slopes in a.slopes[spring].items():
                assert slopes == pytest.approx(b.slopes[spring][wheel], rel=SAME, abs=1e-7)
        for wheel, rates in a.rates.items():
            assert rates == pytest.approx(b.rates[wheel], rel=SAME, abs=1e-4)
        if joints:
            for point, force in a.joints.items():
                size = [float(np.linalg.norm(f)) for f in (force, b.joints[point])]
                assert size[0] == pytest.approx(size[1], rel=SAME, abs=1e-5), point


@SOME
@given(mechanisms())
def test_the_mirrored_vehicle_has_the_same_answers(file):
    same(answers(file), answers(drawn.mirrored(file)))


@SOME
@given(mechanisms())
def test_the_origin_does_not_matter(file):
    moved = answers(drawn.origin_moved(file))
    here = answers(file)
    same(here, moved)
    by = [5, 0.3] if "plane" in file else [5, 0.7, 0.3]
    for one, other in zip(here, moved, strict=True):
        for point, at in one.points.items():
            assert other.points[point] - by == pytest.approx(at, abs=1e-9), point


@SOME
@given(mechanisms().filter(lambda file: "plane" not in file), st.integers(-180, 180))
def test_a_turn_about_the_vertical_does_not_matter(file, degree):
    same(answers(file), answers(drawn.turned_about_z(file, degree)))


@SOME
@given(mechanisms())
def test_units_do_not_matter(file):
    same(answers(file), answers(drawn.in_other_units(file)))


@SOME
@given(mechanisms())
def test_ends_of_bars_and_springs_may_be_swapped(file):
    same(answers(file), answers(drawn.bars_swapped(file)))


@SOME
@given(mechanisms())
def test_order_of_tables_and_points_does_not_matter(file):
    """Joint forces apart: which body is first in the file is part of what they say."""
    same(answers(file), answers(drawn.tables_reversed(file)), joints=False)


@SOME
@given(mechanisms())
def test_a_project_saved_and_read_is_the_same(tmp_path_factory, file):
    path = tmp_path_factory.mktemp("saved") / "vehicle.toml"
    text = as_text(file)
    project = Project.from_text(text, name="vehicle.toml")
    project.save(path, None)
    again = Project.read(path)
    assert again.text == text
    assert again.points == project.points
    assert (again.bodies, again.bars, again.springs) == (project.bodies, project.bars, project.springs)
    same(answers(file), poses_of(study_of(again.text), ENDS, 5))


@FEW
@given(drawn.wishbone_corners())
def test_a_side_doubled_by_name_has_the_same_answers_on_both_sides(file):
    """`mirror = true`: the left wheel answers as the single corner does, the right one as the left."""
    alone = answers(file)
    study = study_of(as_text(drawn.sided(file)))
    assert len(study.assemblies) == 2
    for assembly, side in ((0, "left"), (1, "right")):
        doubled = poses_of(study, ENDS, 5, assembly=assembly)
        for one, other in zip(alone, doubled, strict=True):
            assert other.ratios[f"spring-{side}"][f"wheel-{side}"] == pytest.approx(
                one.ratios["spring"]["wheel"], rel=SAME
            )
            assert other.tensions[f"push-{side}"] == pytest.approx(one.tensions["push"], rel=SAME)
            assert other.wheel_forces[f"wheel-{side}"] == pytest.approx(one.wheel_forces["wheel"], rel=SAME)
            mirror = np.array([1.0, 1.0 if side == "left" else -1.0, 1.0])
            for point, at in one.points.items():
                assert other.points[f"{point}-{side}"] == pytest.approx(at * mirror, abs=1e-9)
