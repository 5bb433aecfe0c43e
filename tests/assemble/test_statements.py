"""Each kind of statement of a tape table, and what is said when it is missing."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

from leverwright import Project, Study
from leverwright.findings import judge

TEXT = (Path(__file__).parents[2] / "examples" / "taped-milk-cart.toml").read_text(encoding="utf-8")
HEAD, *TAPES = re.split(r"(?m)^(?=\[tape\.)", TEXT)


def without(*words: str) -> str:
    """The cart without the tapes whose names hold one of the words."""
    return HEAD + "\n".join(t for t in TAPES if not any(w in t.split("\n")[0] for w in words))


def loose(study: Study) -> dict[str, set[str]]:
    assert study.measured.tapes is not None
    found = study.measured.tapes.network
    return {each.motion: {found.network.names[p] for p in each.points} for each in found.loose}


def opened(study: Study) -> list[tuple[str, set[str]]]:
    """Readings that would place something."""
    assert study.measured.tapes is not None
    names = study.measured.tapes.network.network.names
    return [(r.kind, {names[p] for p in r.points}) for r in study.next_measurement if r.opens]


def sentences(study: Study) -> str:
    return " ".join(f.sentence for f in judge(study) if f.id == "place-undetermined")


def test_without_heights_it_could_be_tipped_and_a_height_is_asked_for() -> None:
    study = Study(Project.from_text(without("-height")))
    assert set(loose(study)) == {"pitch"}  # tapes across say what is level sideways
    assert opened(study)[0][0] == "height"
    assert "nose up" in sentences(study)
    assert "heights above the floor" in sentences(study)


def test_without_tapes_across_nothing_says_where_the_centre_plane_is() -> None:
    study = Study(Project.from_text(without("-across")))
    assert set(loose(study)) == {"sideways", "yaw"}  # heights say what is level
    assert {kind for kind, _ in opened(study)} == {"offset"}
    assert "across to its twin" in sentences(study)
    assert not any(f.severity == "stop" for f in judge(study) if f.id == "place-undetermined")


def test_a_hole_on_two_tapes_swings_and_a_third_is_asked_for() -> None:
    study = Study(Project.from_text(without("dot-c-to-arm-tab", "dot-d-to-arm-tab")))
    assert loose(study) == {"swing": {"arm-tab-left"}}
    ((kind, points), *_) = opened(study)
    assert kind == "between"
    assert "arm-tab-left" in points
    assert "can swing about the line through dot-a-left and dot-b-left" in sentences(study)


def test_a_hole_on_no_tape_is_asked_to_be_taped_from_three_places() -> None:
    study = Study(Project.from_text(without("to-arm-tab")))
    assert loose(study) == {"anywhere": {"arm-tab-left"}}
    assert len(opened(study)) == 3
    assert "Nothing measures where arm-tab-left is" in sentences(study)


def test_two_holes_that_hang_on_each_other_move_together() -> None:
    more = '[tape.arm]\nbetween = ["arm-tab-left", "spindle-left"]\nreads = 291\n'
    text = without("to-arm-tab", "c-to-spindle", "d-to-spindle", "spindle-across") + more
    found = loose(Study(Project.from_text(text)))
    assert set().union(*found.values()) == {"arm-tab-left", "spindle-left"}


def test_a_place_along_a_line_level_plumb_ahead_and_offset() -> None:
    """A tab on the line between two dots, 100 mm from the first; readings of the other kinds as drawn."""
    kinds = """
[tape.tab-on-line]
along = ["dot-a-left", "dot-d-left"]
point = "arm-tab-left"
reads = 100
[tape.tab-offset]
offset = "spring-eye-left"
reads = "200 ± 0.1 mm"
[tape.eye-ahead]
ahead = ["dot-a-left", "spring-eye-left"]
reads = "110 ± 0.1 mm"
[tape.pivots]
level = ["rocker-pivot-in-left", "rocker-pivot-out-left"]
error = 0.1
[tape.pivot-over]
plumb = ["rocker-pivot-in-left", "spring-hole-left"]
error = 0.1
"""
    text = without("to-arm-tab", "to-spring-hole") + kinds
    study = Study(Project.from_text(text))
    at = {name: np.array(point.at) for name, point in study.project.points.items()}
    tab, a, d = at["arm-tab-left"], at["dot-a-left"], at["dot-d-left"]
    way = (d - a) / np.linalg.norm(d - a)
    assert tab == pytest.approx(a + 0.1 * way, abs=1e-6)
    assert at["spring-eye-left"][1] == pytest.approx(0.2, abs=0.1e-3)
    assert at["spring-eye-left"][0] - a[0] == pytest.approx(0.110, abs=0.1e-3)
    assert at["rocker-pivot-in-left"][2] == pytest.approx(at["rocker-pivot-out-left"][2], abs=0.2e-3)
    apart = at["rocker-pivot-in-left"] - at["spring-hole-left"]
    assert apart[:2] == pytest.approx([0.0, 0.0], abs=0.2e-3)
    assert loose(study) == {"one way": {"spring-hole-left"}}  # up and down the plumb line
    assert "can move up and down" in sentences(study)


def test_coordinates_beside_tapes_hold_the_vehicle_where_they_say() -> None:
    text = re.sub(r"(?m)^dot-a-left .*$", "dot-a-left = { at = [1040, 182, 312], error = 0.5 }", TEXT)
    study = Study(Project.from_text(text))
    assert study.measured.tapes is not None
    assert study.measured.tapes.network.datum == ()
    point = study.project.points["dot-a-left"]
    assert point.at[0] == pytest.approx(1.040, abs=1e-6)
    assert point.errors[0] == pytest.approx(0.5e-3, rel=1e-3)
    hub = study.project.points["hub-left"]
    assert hub.at[0] == pytest.approx(1.0 - 0.420, abs=5e-3)
    assert "sag" in study.answers["rear-left"].of


def test_taped_places_that_no_tape_joins_to_coordinates_could_lie_anywhere_to_them() -> None:
    text = re.sub(
        r"(?m)^spring-eye-left .*$", "spring-eye-left = { at = [150, 200, 570], error = 1.0 }", TEXT
    )
    text = re.sub(r"\[tape\.dot-.-to-spring-eye\]\n.*\n.*\n", "", text)
    study = Study(Project.from_text(text))
    assert set(loose(study)) == {"ahead", "up"}
    assert "those given by coordinates" in sentences(study)
    assert any(f.severity == "stop" for f in judge(study) if f.id == "place-undetermined")
