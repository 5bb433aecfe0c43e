"""A handlebar held at an angle: the witness turns its end by Rodrigues and steers by a led point.

Held, the handlebar is as good as a place for the tie rod's end: the rigid engine gets the same
vehicle with that end as a point led to where the stem's turn puts it. + turns anticlockwise seen from
above, about the stem's direction that points up.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from tests.reference.product import poses_of, study_of
from tests.reference.rigid_engine import RigidEngine
from tests.reference.root_by_pose import turn_about
from tests.reference.vehicle import Array, read, read_text


def end_turned(angle: float) -> Array:
    """Where the bar's end goes [m] from its set-up place."""
    points = read("handlebar-corner").points
    up = points["stem-top"] - points["stem-low"]
    arm = points["bar-end"] - points["stem-low"]
    return turn_about(up / np.linalg.norm(up), angle) @ arm - arm


def led_instead(way: Array) -> str:
    """The same text with the handlebar gone and its end led along `way`."""
    text = read("handlebar-corner").text
    along = (way / np.linalg.norm(way)).tolist()
    text = text.replace('handlebar = ["stem-top", "stem-low", "bar-end"]\n', "")
    text = text.replace('"stem-top", "stem-low", ', "")
    text = text.replace("stem-top = [0, 0, 700]\nstem-low = [60, 0, 300]\n", "")
    old = 'bodies = ["handlebar", "chassis"]\nrange = [-35, 35]'
    assert old in text
    return text.replace(old, f'point = "bar-end"\nalong = {along}\nrange = [-200, 200]')


@pytest.mark.parametrize("degree", [-25.0, -10.0, 10.0, 25.0])
def test_poses_forces_and_toe_with_the_handlebar_turned(degree):
    way = end_turned(math.radians(degree))
    engine = RigidEngine(read_text(led_instead(way)))
    led = {"bars": float(np.linalg.norm(way))}
    study = study_of(read("handlebar-corner").text, {"bars": math.radians(degree)})
    for pose in poses_of(study, (-0.02, 0.02), 3):
        found = engine.pose(pose.travel, led)
        for point, at in found.points.items():
            assert pose.points[point] == pytest.approx(at, abs=1e-9), point
        assert pose.tensions == pytest.approx(found.tensions, abs=1e-6)
        assert pose.wheel_forces == pytest.approx(found.wheel_forces, abs=1e-6)
        ratios = engine.ratios(pose.travel, led)
        assert pose.ratios["spring"] == pytest.approx(ratios["spring"], rel=1e-8)


def test_the_sign_of_a_held_angle_hangs_on_no_order():
    text = read("handlebar-corner").text
    other = text.replace('["stem-top", "stem-low", "bar-end"]', '["stem-low", "bar-end", "stem-top"]')
    held = {"bars": math.radians(20)}
    one, two = (poses_of(study_of(t, held), (-0.01, 0.01), 2)[0] for t in (text, other))
    assert one.points["bar-end"] == pytest.approx(two.points["bar-end"], abs=1e-12)
