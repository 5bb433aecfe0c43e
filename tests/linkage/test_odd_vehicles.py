"""Shapes that nobody would build on purpose: an answer or a reason, never an exception or a figure in silence."""

import numpy as np
import pytest

from leverwright import Project, Study
from leverwright.findings import judge, with_remedies
from tests.linkage.test_ends import study


def changed(old: str, new: str) -> Study:
    text = study().project.text
    assert old in text
    return Study(Project.from_text(text.replace(old, new)))


def test_travel_asked_wholly_beyond_the_shock_ends_at_the_shock() -> None:
    limit = study().travels[0].range.bump  # type: ignore[union-attr]
    for asked in ((0.100, 0.120), (0.300, None)):
        cycle = study().cycle(asked=asked)[0]
        assert cycle.travels is not None
        assert cycle.travels.range is not None
        assert cycle.travels.range.droop == cycle.travels.range.bump
        assert cycle.travels.range.bump.why == "shock closed"
        assert cycle.posed is not None
        assert cycle.posed.travel == pytest.approx(limit.travel, abs=1e-9)


def test_travel_asked_upside_down_is_refused() -> None:
    with pytest.raises(ValueError, match="above the last"):
        study().cycle(asked=(0.020, 0.010))


def test_a_spring_hole_on_the_pivot_moves_nothing_and_says_so() -> None:
    still = changed("spring-hole = [-240, 560]", "spring-hole = [-240.5, 500]")
    assert all(check.holds for check in still.back_check)
    found = with_remedies(still, judge(still))
    assert found
    assert all(
        np.isfinite(answer.value) for answer in still.answers["wheel"].of.values() if answer.value is not None
    )


def test_bodies_that_share_points_in_a_ring_are_one() -> None:
    ring = changed(
        'rocker = ["rocker-pivot", "hole", "spring-hole"]',
        'rocker = ["rocker-pivot", "hole", "spring-hole"]\nplate = ["hole", "spring-hole", "rocker-pivot"]',
    )
    assert ring.assemblies[0].assembly.freedom.count == 1
    assert ring.heave[0].posed is not None


def test_a_wheel_on_the_chassis_stays_listed_and_says_why() -> None:
    fixed = changed('arm = ["pivot", "hub", "tab"]', 'arm = ["pivot", "hub", "tab", "eye"]')
    assert "wheel" in fixed.answers
    assert fixed.answers["wheel"].of["sag"].value is None
    assert fixed.answers["wheel"].of["sag"].because
    assert any(found.severity == "stop" for found in judge(fixed))
