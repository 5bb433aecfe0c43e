"""Does it lock or bind?"""

import numpy as np
import pytest

from tests.findings.vehicles import study_of, the_one


def test_dead_centre_near_takes_two_sigma_off_the_margin() -> None:
    finding = the_one("dead-centre-near")
    study = study_of("dead-centre-near", "fires")
    travels, answer = study.travels[0], study.answers["rear"].of["dead_centre_bump"]
    assert travels is not None
    assert travels.range is not None
    assert travels.track.bump is not None
    assert answer.error is not None
    gap = travels.track.bump.travel - travels.range.bump.travel
    assert finding.number == pytest.approx(gap - 2 * answer.error)
    assert finding.severity == "fix"
    assert "keep hands away" in finding.sentence


def test_a_poor_angle_is_measured_from_line() -> None:
    finding = the_one("angle-poor")
    assert finding.number is not None
    assert np.deg2rad(25) < finding.number < np.deg2rad(45)
    assert finding.severity == "fix"
    assert finding.points == ("link-hole", "tab")


def test_a_lever_that_reaches_dead_centre_can_snap_over() -> None:
    finding = the_one("wrong-branch")
    assert finding.severity == "stop"
    assert "snaps" in finding.sentence


def test_links_that_stretch_stop_the_wheel() -> None:
    finding = the_one("link-short")
    assert finding.severity == "stop"
    assert finding.travel is not None
    assert "stretched" in finding.sentence


def test_a_toe_link_out_of_line_steers_the_wheel_over_bumps() -> None:
    finding = the_one("wheel-wanders")
    assert finding.severity == "fix"
    assert "bump steer" in finding.sentence
    assert "limit 0.5 deg" in finding.sentence
    assert set(finding.wheels) == {"wheel-left", "wheel-right"}
