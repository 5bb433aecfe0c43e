"""Every finding has a vehicle that fires it and a near miss that does not, and says what it must."""

import pytest

from leverwright.findings import QUESTIONS, judge
from leverwright.findings.finding import rules
from tests.findings.vehicles import HERE, found, study_of

PAIRS = sorted(folder.name for folder in HERE.iterdir() if (folder / "fires.toml").exists())
# Not judged from a file: the print's check bar is typed in, and the back-check needs a broken solver.
WITHOUT_FILES = {"print-scaled", "back-check"}


@pytest.mark.parametrize("name", PAIRS)
def test_it_fires_where_it_should(name: str) -> None:
    findings = found(name, "fires")
    assert findings
    for finding in findings:
        assert finding.question in QUESTIONS
        assert finding.severity in ("stop", "fix", "watch", "good")
        assert finding.sentence.endswith(".")
        assert finding.why.endswith(".")
        assert finding.source
        assert list(finding.points) == sorted(finding.points)


@pytest.mark.parametrize("name", PAIRS)
def test_it_does_not_fire_where_it_just_should_not(name: str) -> None:
    assert found(name, "near_miss") == []


@pytest.mark.parametrize("name", PAIRS)
def test_a_near_miss_is_a_sound_vehicle(name: str) -> None:
    assert [f.id for f in judge(study_of(name, "near_miss")) if f.severity == "stop"] == []


@pytest.mark.parametrize("name", PAIRS)
def test_both_vehicles_say_that_they_are_invented(name: str) -> None:
    for which in ("fires", "near_miss"):
        assert "invented" in (HERE / name / f"{which}.toml").read_text(encoding="utf-8")


def test_every_finding_has_its_pair() -> None:
    assert {entry.id for entry in rules()} - WITHOUT_FILES <= set(PAIRS)


def test_every_pair_belongs_to_a_finding() -> None:
    assert set(PAIRS) <= {entry.id for entry in rules()}


def test_findings_are_sorted_by_question_and_then_by_danger() -> None:
    danger = {"stop": 0, "fix": 1, "watch": 2, "good": 3}
    for name in PAIRS:
        order = [(QUESTIONS.index(f.question), danger[f.severity]) for f in judge(study_of(name, "fires"))]
        assert order == sorted(order)
