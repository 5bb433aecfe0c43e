"""Remedies: they cure, they cause nothing worse, and the edit that they carry does what was tried."""

import numpy as np
import pytest

from leverwright.findings import Finding, judge, with_remedies
from leverwright.search import applied, candidates, tried
from leverwright.study import Study
from tests.findings.vehicles import study_of

DANGER = {"stop": 3, "fix": 2, "watch": 1, "good": 0}
CURED = (
    "too-stiff",
    "arms-reversed",
    "wrong-way",
    "dead-centre-near",
    "angle-poor",
    "on-preload",
    "sag-outside",
)


def cured(name: str) -> tuple[Study, Finding]:
    study = study_of(name, "fires")
    found = with_remedies(study, judge(study))
    return study, next(finding for finding in found if finding.id == name)


@pytest.mark.parametrize("name", CURED)
def test_every_remedy_cures_and_causes_nothing_worse(name: str) -> None:
    study, finding = cured(name)
    assert finding.remedies, f"no remedy for {name}"
    before = {f.id: DANGER[f.severity] for f in judge(study)}
    for remedy in finding.remedies:
        after = judge(Study(applied(study.project, remedy.ops)))
        assert name not in {f.id for f in after}, remedy.do
        worse = [f.id for f in after if DANGER[f.severity] > max(before.get(f.id, 0), 1)]
        assert worse == [], remedy.do
        assert remedy.before != remedy.after


@pytest.mark.parametrize("name", CURED)
def test_remedies_come_cheapest_first(name: str) -> None:
    _, finding = cured(name)
    minutes = [remedy.effort.minutes for remedy in finding.remedies]
    assert minutes == sorted(minutes)


@pytest.mark.parametrize("name", CURED)
def test_what_was_tried_is_what_the_edit_writes(name: str) -> None:
    study, finding = cured(name)
    for remedy in finding.remedies:
        quick, written = tried(study.project, remedy.ops), applied(study.project, remedy.ops)
        for point, place in written.points.items():
            assert quick.points[point].at == pytest.approx(place.at, abs=1e-12)
        assert {n: b.length for n, b in quick.bars.items()} == {n: b.length for n, b in written.bars.items()}
        assert {n: s.preload for n, s in quick.shocks.items()} == {
            n: s.preload for n, s in written.shocks.items()
        }


def test_a_pivot_is_tried_along_the_link_with_its_holes_where_they_are() -> None:
    study = study_of("angle-poor", "fires")
    moved = [c for c in candidates(study, "angle-poor", ("rear",)) if c.do.startswith("Move the pivot")]
    assert len(moved) == 4
    old = {name: np.array(point.at) for name, point in study.project.points.items()}
    link = old["link-hole"] - old["tab"]
    for candidate in moved:
        new = {name: np.array(p.at) for name, p in tried(study.project, candidate.ops).points.items()}
        step = new["rocker-pivot"] - old["rocker-pivot"]
        assert np.linalg.norm(step) == pytest.approx(
            float(candidate.do.split(" mm")[0].split()[-1]) / 1000, abs=1e-4
        )
        assert abs(np.cross(step, link)).max() < 1e-4 * np.linalg.norm(
            link
        )  # the file's tenth of a millimetre
        assert all(np.array_equal(new[n], old[n]) for n in ("link-hole", "spring-hole", "tab", "spring-eye"))
