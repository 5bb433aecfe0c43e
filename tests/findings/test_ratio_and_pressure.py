"""Travels read by hand against the drawing's ratio of 0.8, and the tyre's pressure; worked out by hand."""

import pytest

from leverwright.findings import judge
from leverwright.project import Project
from leverwright.study import Study
from tests.findings.vehicles import study_of, the_one


def read(wheel: str, spring: str, more: str = "") -> list[str]:
    """Ids of what is found about the ratio when these travels were read."""
    text = study_of("ratio-upside-down", "near_miss").file.text
    text = text.replace("wheel_moved = [0, 20, 40]", f"wheel_moved = {wheel}")
    text = text.replace("spring_moved = [0, 16, 33]", f"spring_moved = {spring}")
    study = Study(Project.from_text(more + text))
    return [f.id for f in judge(study) if f.id.startswith("ratio-")]


def test_one_over_the_ratio_is_named_and_so_is_what_was_read() -> None:
    finding = the_one("ratio-upside-down")
    # The line through the start: (20 * 25 + 40 * 50) / (20² + 40²).
    assert finding.number == pytest.approx(1.25)
    assert "0.80" in finding.sentence
    assert "1.25" in finding.sentence
    assert finding.severity == "fix"
    assert finding.wheels == ("front",)


def test_one_travel_alone_asks_for_two() -> None:
    text = study_of("ratio-upside-down", "fires").file.text
    text = text.replace("[0, 20, 40]", "[0, 40]").replace("[0, 25, 50]", "[0, 50]")
    (finding,) = judge(Study(Project.from_text(text)), "ratio-upside-down")
    assert "read two" in finding.sentence


def test_readings_between_the_two_accuse_only_when_they_are_surely_not_the_drawings() -> None:
    assert read("[0, 20, 40]", "[0, 22, 43]") == ["ratio-upside-down"]  # 1.08, six sigma from 0.80
    assert read("[0, 20, 40]", "[0, 19, 38]") == []  # 0.95: not the drawing's, and not its inverse either
    assert read("[0, 2, 4]", "[0, 2.5, 5]") == ["ratio-undecided"]  # 1.25, but good to 0.7 only


def test_readings_that_are_surely_neither_ratio_are_told_and_no_longer_stroke_is_asked_for() -> None:
    text = study_of("ratio-upside-down", "near_miss").file.text
    far = text.replace("spring_moved = [0, 16, 33]", "spring_moved = [0, 2, 4]")
    (finding,) = judge(Study(Project.from_text(far)), "ratio-undecided")
    assert finding.severity == "fix"
    assert finding.number == pytest.approx(0.1)
    assert "do not agree" in finding.sentence
    assert "at least" not in finding.sentence
    assert (
        read("[0, 20, 40]", "[0, 12, 24]") == []
    )  # 0.60, a quarter less: a ratio may fall so over the travel


def test_it_says_how_far_to_move() -> None:
    """A reading of 1 mm counts 1.345 mm at 0.9 read; 2 x 1.345 of 10 % of 0.8 is 33.6 mm."""
    finding = the_one("ratio-undecided")
    assert "Move the wheel by 34 mm at least" in finding.sentence
    assert "between 0.36 and 1.44" in finding.sentence


def test_with_a_coarse_tape_the_lever_is_measured_instead() -> None:
    text = study_of("ratio-undecided", "fires").file.text
    text = text.replace("[0, 5]", '["0 ± 3 mm", "5 ± 3 mm"]')
    (finding,) = judge(Study(Project.from_text(text)), "ratio-undecided")
    assert "measure the lever instead" in finding.sentence


def test_pressure_is_asked_for_beside_a_weighed_load_too() -> None:
    assert "beside a tyre rate:" in the_one("pressure-unrecorded").sentence
    text = study_of("pressure-unrecorded", "near_miss").file.text
    text = text.replace("load = 48\n", "").replace("tyre = 90\n", "").replace('pressure = "1.8 bar"\n', "")
    weighed = text + "\n[weighed.front]\nreads = [48, 48.5]\n"
    (finding,) = judge(Study(Project.from_text(weighed)), "pressure-unrecorded")
    assert "beside a weighed load:" in finding.sentence
    typed = text.replace("radius = 250", "radius = 250\nload = 48")
    assert judge(Study(Project.from_text(typed)), "pressure-unrecorded") == ()
