"""The pair of vehicles of each finding: one that fires, one that just does not."""

from pathlib import Path

import pytest

from leverwright.findings import Finding, judge
from leverwright.project import Project
from leverwright.study import Study

HERE = Path(__file__).parent


def study_of(name: str, which: str) -> Study:
    return Study(Project.read(HERE / name / f"{which}.toml"))


def found(name: str, which: str) -> list[Finding]:
    return [finding for finding in judge(study_of(name, which)) if finding.id == name]


def check_fires(
    finding: Finding, severity: str, number: tuple[float, float] | None, words: tuple[str, ...]
) -> None:
    """It says what it must: `number` and its tolerance where it has one, and each of the words."""
    assert finding.severity == severity
    if number is not None:
        assert finding.number == pytest.approx(number[0], abs=number[1])
    for word in words:
        assert word in finding.sentence
    assert finding.why
    assert finding.source


def the_one(name: str) -> Finding:
    findings = found(name, "fires")
    assert len(findings) == 1, [f.sentence for f in findings]
    return findings[0]
