"""Remedies of what load sets show: each is carried out in the file, read again, and judged under every load set."""

from __future__ import annotations

from pathlib import Path

import pytest

from leverwright import Project, Study
from leverwright.findings import judge, with_remedies
from leverwright.search.edits import applied

FOLDER = Path(__file__).parents[2]


def remedied(path, name):
    study = Study(Project.read(FOLDER / path))
    found = [f for f in judge(study) if f.id == name]
    return study, with_remedies(study, tuple(found))


def test_peat_piled_behind_is_moved_131_mm_for_a_tenth():
    """(34.5 kg x 1.70 m - 95 kg x 0.14 m) / 250 kg = 181 mm ahead of the axle, from 50."""
    study, (finding,) = remedied("examples/peat-trailer.toml", "coupling-share")
    first = finding.remedies[0]
    assert first.do == "Move peat-behind 131 mm towards the coupling"
    assert "2.9 % with 'behind'" in first.before
    assert "8.7 % with 'behind'" in first.after
    changed = Study(applied(study.file, first.ops))
    assert changed.file.masses["peat-behind"].at[0] == pytest.approx(0.181, abs=0.0006)
    assert [f for f in judge(changed) if f.id == "coupling-share"] == []


def test_a_remedy_for_the_lightest_load_is_judged_under_that_load():
    study, found = remedied("examples/step-free-buggy.toml", "sag-outside")
    remedies = [remedy for finding in found for remedy in finding.remedies]
    assert remedies
    for remedy in remedies:
        changed = Study(applied(study.file, remedy.ops))
        assert set(changed.sets) == set(study.sets)
        assert [f.sentence for f in judge(changed) if f.id == "sag-outside"] == []


def test_a_trailer_that_is_right_is_not_told_to_move_anything():
    assert remedied("tests/findings/coupling-share/near_miss.toml", "coupling-share")[1] == ()
