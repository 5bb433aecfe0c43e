"""Where travel ends, on linkages whose ends follow from a triangle."""

import numpy as np
import pytest

from leverwright import Project, Study
from leverwright.ride import points_of

TEXT = """leverwright = 1
title = "T"
pose = "on blocks"
plane = "xz"
[points]
pivot = [0, 200]
hub = [-400, 200]
tab = [-300, 200]
hole = [-300, 500]
rocker-pivot = [-240, 500]
spring-hole = [-240, 560]
eye = [0, 560]
[bodies]
chassis = ["pivot", "rocker-pivot", "eye"]
arm = ["pivot", "hub", "tab"]
rocker = ["rocker-pivot", "hole", "spring-hole"]
[bars.link]
ends = ["tab", "hole"]
EXTRA
[shocks.coil]
rate = 20
length_open = OPEN
length_closed = CLOSED
preload = 5
[springs.spring]
ends = ["spring-hole", "eye"]
shock = "coil"
[wheels.wheel]
body = "arm"
centre = "hub"
radius = 200
load = 40
unsprung = 5
"""


def study(opened: float = 265, closed: float = 200, extra: str = "") -> Study:
    text = TEXT.replace("OPEN", str(opened)).replace("CLOSED", str(closed)).replace("EXTRA", extra)
    return Study(Project.from_text(text))


def distance_arm_tab_to_rocker(angle: float) -> float:
    tab = np.array([-300 * np.cos(angle), 200 + 300 * np.sin(angle)])
    return float(np.linalg.norm(tab - np.array([-240.0, 500.0])))


def test_dead_centre_is_where_link_and_lever_are_in_line() -> None:
    stop = study(opened=400, closed=30).travels[0].track.bump  # type: ignore[union-attr]
    assert stop is not None
    assert stop.why == "dead centre"
    angle = np.arcsin(stop.travel * 1000 / 400)
    # Folded: the tab is link less lever arm from the rocker's pivot.
    assert distance_arm_tab_to_rocker(angle) == pytest.approx(300 - 60, abs=1e-4)


def test_the_shock_closed_ends_bump_at_its_length() -> None:
    travels = study().travels[0]
    assert travels is not None
    assert travels.range is not None
    assert travels.range.bump.why == "shock closed"
    assert travels.range.droop.why == "shock open"
    posed = study().heave[0].posed
    assert posed is not None
    assert posed.length[-1, 0] == pytest.approx(0.200, abs=1e-9)
    assert posed.length[0, 0] == pytest.approx(0.265, abs=1e-9)


def test_a_rigid_strap_ends_droop_before_the_shock() -> None:
    strap = '[straps.droop]\nends = ["spring-hole", "eye"]\nlength = 255\n'
    travels = study(extra=strap).travels[0]
    assert travels is not None
    assert travels.range is not None
    assert travels.range.droop.why == "strap taut"
    assert travels.range.droop.by == "droop"


def test_a_shock_whose_length_turns_back_stops_at_its_first_touch() -> None:
    """Near dead centre the spring lengthens again; the limit is met twice and the first counts."""
    free = study(opened=400, closed=150).heave[0].posed
    assert free is not None
    shortest = float(free.length[:, 0].min())
    limited = study(closed=round(1000 * shortest + 0.5, 2)).travels[0]
    assert limited is not None
    assert limited.range is not None
    assert limited.range.bump.why == "shock closed"
    first = free.travel[np.flatnonzero(free.length[:, 0] < shortest + 0.0005)[0]]
    assert limited.range.bump.travel <= first + 1e-9


def test_asked_ends_say_asked_only_when_they_come_first() -> None:
    cycle = study().cycle(asked=(-0.010, 0.500))[0]
    assert cycle.travels is not None
    assert cycle.travels.range is not None
    assert cycle.travels.range.droop.why == "asked"
    assert cycle.travels.range.bump.why == "shock closed"


def test_the_default_range_does_not_hang_on_the_number_of_poses() -> None:
    few, many = study().cycle(poses=3)[0], study().cycle(poses=41)[0]
    assert few.posed is not None
    assert many.posed is not None
    assert few.posed.travel[[0, -1]] == pytest.approx(many.posed.travel[[0, -1]], abs=1e-9)


def test_a_longer_link_keeps_the_wheel_at_its_height() -> None:
    longer = Study(
        Project.from_text(
            study().project.text.replace('ends = ["tab", "hole"]', 'ends = ["tab", "hole"]\nlength = 305')
        )
    )
    posed = longer.cycle(asked=(0.0, 0.010), poses=2)[0].posed
    assert posed is not None
    assert posed.travel[0] == 0.0
    assert posed.pose.wheel_height[0, 0] == pytest.approx(0.0, abs=1e-10)
    # The lever has turned instead: hole on a circle of 60 about its pivot, 305 from the tab.

    places = points_of(longer.travels[0].track, posed)  # type: ignore[union-attr]
    assert np.linalg.norm(places["hole"][0] - places["tab"][0]) == pytest.approx(0.305, abs=1e-9)
    assert np.linalg.norm(places["hole"][0] - places["rocker-pivot"][0]) == pytest.approx(0.060, abs=1e-9)
