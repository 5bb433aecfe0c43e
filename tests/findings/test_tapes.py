"""Findings about tapes: the number of each, from the drawing that the readings were taken from, and its words."""

from __future__ import annotations

import pytest

from leverwright import Study
from leverwright.findings import judge
from leverwright.project import Project
from tests.findings.vehicles import HERE, the_one

BASE = HERE / "tapes-disagree" / "near_miss.toml"


def found(project: Project, name: str) -> list:
    return [finding for finding in judge(Study(project)) if finding.id == name]


def test_a_bad_tape_is_named_with_what_it_is_off_by() -> None:
    finding = the_one("tapes-disagree")
    assert finding.severity == "fix"
    assert finding.number == pytest.approx(0.012, abs=0.5e-3)  # readings are rounded to half a millimetre
    assert finding.sentence.startswith(
        "Tape a-c (dot-a and dot-c) reads 12 mm more than the others put there."
    )
    assert "without it" in finding.sentence


def test_readings_that_nothing_checks_are_counted() -> None:
    finding = the_one("tape-unchecked")
    assert (finding.severity, finding.number) == ("watch", 2.0)
    assert "a-spring-eye and b-spring-eye" in finding.sentence


def test_a_hole_on_one_tape_stops_and_its_answers_have_no_spread() -> None:
    finding = the_one("place-undetermined")
    assert finding.severity == "stop"
    assert finding.points == ("spring-eye",)
    assert "round dot-a" in finding.sentence
    study = Study(Project.read(HERE / "place-undetermined" / "fires.toml"))
    assert study.answers["front"].motion_ratio["shock"].error is None
    assert study.next_measurement[0].opens


def test_a_mirror_image_says_how_far_away_it_is() -> None:
    finding = the_one("mirror-image")
    assert finding.severity == "fix"
    # The eye is 29.8 mm off the line through dot-a and dot-b: (60, 230) to (30, 560), eye at (0, 560).
    assert finding.number == pytest.approx(2 * 29.88e-3, abs=1.5e-3)
    assert "dot-a and dot-b" in finding.sentence


def test_a_statement_of_the_wrong_side_is_told() -> None:
    text = (
        BASE.read_text(encoding="utf-8")
        + '[tape.wrong]\nside = "hub"\nof = ["dot-a", "dot-b"]\nis = "behind"\n'
    )
    (finding,) = found(Project.from_text(text), "tapes-disagree")
    assert "wrong says that hub is behind dot-a and dot-b" in finding.sentence


def test_readings_of_one_tape_that_lie_apart_are_told() -> None:
    text = BASE.read_text(encoding="utf-8").replace("reads = 316\n", "reads = [316, 316.5, 325]\n")
    assert text.count("325]") == 1
    findings = found(Project.from_text(text), "tapes-disagree")
    assert any("lie 9 mm apart" in finding.sentence for finding in findings)


def test_heights_that_are_missing_leave_it_unsaid_which_way_is_up() -> None:
    lines = BASE.read_text(encoding="utf-8").split("[tape.")
    text = "[tape.".join(part for part in lines if "-height]" not in part.split("\n")[0])
    (finding,) = found(Project.from_text(text), "place-undetermined")
    assert finding.severity == "stop"
    assert "which way is up" in finding.sentence
    assert "heights above the floor" in finding.sentence


def test_tapes_without_any_error_stated_give_places_and_no_spread() -> None:
    text = BASE.read_text(encoding="utf-8").replace("tape_error = 1.0\n", "")
    study = Study(Project.from_text(text))
    answer = study.answers["front"].motion_ratio["shock"]
    assert answer.value == pytest.approx(0.8, abs=0.03)  # arms 60 and 60, tab at 320 of 400
    assert answer.error is None


def resized(factor: float, most: int | None = None) -> str:
    """The near miss with its tapes between two places (of those the first few) typed in another unit."""
    parts = BASE.read_text(encoding="utf-8").split("[tape.")
    between = [k for k, part in enumerate(parts) if "between" in part and "reads" in part]
    for k in between[:most]:
        head, reads = parts[k].split("reads = ")
        value, _, rest = reads.partition("\n")
        parts[k] = f"{head}reads = {round(float(value) * factor, 3)}\n{rest}"
    return "[tape.".join(parts)


@pytest.mark.parametrize(
    ("factor", "said"),
    [
        (1 / 25.4, "25.4 times shorter than the sketch: are they in inches? Write the unit"),
        (1 / 10, "10 times shorter than the sketch: are they in cm? Write the unit"),
        (25.4, "25.4 times longer than the sketch: is the sketch in inches?"),
        (10.0, "10 times longer than the sketch: is the sketch in cm?"),
    ],
)
def test_tapes_all_typed_in_another_unit_are_one_finding(factor: float, said: str) -> None:
    findings = judge(Study(Project.from_text(resized(factor))))
    (finding,) = [f for f in findings if f.id == "tapes-disagree"]
    assert finding.severity == "stop"
    assert finding.sentence.startswith(f"All your tapes are {said}")
    # The sketch is rounded to a hand's width, so the median is near the factor and not on it.
    assert finding.number == pytest.approx(factor, rel=0.15)
    assert findings[0] == finding
    about = {"tape-unchecked", "place-undetermined", "mirror-image", "shock-does-not-fit"}
    assert not about & {f.id for f in findings}


def test_one_tape_with_its_unit_among_all_without_is_nearly_all() -> None:
    text = resized(1 / 25.4)
    head, _, rest = text.partition('[tape.a-c]\nbetween = ["dot-a", "dot-c"]\nreads = ')
    assert rest
    whole = head + '[tape.a-c]\nbetween = ["dot-a", "dot-c"]\nreads = 446\n' + rest.partition("\n")[2]
    (finding,) = found(Project.from_text(whole), "tapes-disagree")
    assert finding.sentence.startswith("Nearly all your tapes are 25.4 times shorter than the sketch")


def test_a_few_tapes_in_inches_are_slips_and_no_unit() -> None:
    findings = found(Project.from_text(resized(1 / 25.4, most=3)), "tapes-disagree")
    assert findings
    assert not any("times shorter" in finding.sentence for finding in findings)


def test_all_tapes_twice_as_long_are_no_unit_that_anybody_types() -> None:
    assert not any(
        "times longer" in f.sentence for f in found(Project.from_text(resized(2.0)), "tapes-disagree")
    )


def test_a_gap_beyond_any_vehicle_is_no_number() -> None:
    parts = BASE.read_text(encoding="utf-8").split("[tape.")
    at = next(k for k, part in enumerate(parts) if part.startswith("a-c]"))
    head, _, rest = parts[at].partition("reads = ")
    parts[at] = f"{head}reads = 45800\n" + rest.partition("\n")[2]
    (finding,) = found(Project.from_text("[tape.".join(parts)), "tapes-disagree")
    assert "reads over 10 m more than the others" in finding.sentence
    assert finding.number == pytest.approx(45.8 - 0.446, abs=0.02)  # a-c is near 446 mm, see the near miss
