"""A half-made vehicle is drawn as far as it goes; a loose or stuck one says what is loose or stuck."""

from __future__ import annotations

from leverwright import Project, Study
from leverwright.project import Draft
from leverwright.wire.cycling import cycle_document
from leverwright.wire.draw import drawing_of
from leverwright.wire.sweeping import sweep_of
from tests.server.running import VEHICLE

FLAT = """\
leverwright = 1
title = "flat, invented"
plane = "xz"
[points]
pivot = [0, 300]
hub = [-300, 200]
eye = [-250, 500]
[bodies]
chassis = ["pivot", "eye"]
arm = ["pivot", "hub"]
[shocks.one]
rate = 20
length_open = 320
length_closed = 240
preload = 0
[springs.spring]
ends = ["hub", "eye"]
shock = "one"
[wheels.rear]
body = "arm"
centre = "hub"
radius = 200
load = 50
unsprung = 5
"""


def test_what_leads_nowhere_is_left_out_of_the_drawing():
    text = VEHICLE.replace('ends = ["tab-left", "link-hole-left"]', 'ends = ["tab-left", "gone-left"]')
    text = text.replace('centre = "hub-left"', 'centre = "gone-left"').replace(
        'shock = "salvaged"', 'shock = "gone"'
    )
    draft = Draft.from_text(text, "cart.toml")
    drawing = drawing_of(draft.sketch)
    assert draft.faults
    assert drawing.bars == {}
    assert drawing.wheels == {}
    assert all(spring.shock is None for spring in drawing.springs.values())
    assert drawing.points["hub-right"].at == (-380.0, -330.0, 205.0)


def test_a_flat_drawing_has_its_missing_axis_at_0_and_two_numbers_when_printed():
    study = Study(Project.from_text(FLAT))
    assert drawing_of(study.project).points["hub"].at == (-300.0, 0.0, 200.0)
    pose = cycle_document(study, study.cycle()).assemblies[0].poses[0]
    assert len(pose.points_mm["hub"]) == 2
    assert pose.wheels["rear"].camber_deg is None
    assembly = sweep_of(study, "heave").assemblies[0]
    assert assembly.points_mm["hub"][1::3] == [0.0] * 41
    assert assembly.wheels_at["rear"].camber_deg is None
    assert assembly.standing_mm is not None


def test_what_does_not_roll_is_left_out_with_a_sentence():
    study = Study(Project.from_text(FLAT))
    document = cycle_document(study, study.cycle("roll"))
    assert document.assemblies == []
    assert "rear" in document.left_out[0]
    assert sweep_of(study, "roll").left_out == document.left_out


def test_the_other_wheel_stands_still_and_says_so():
    study = Study(Project.from_text(VEHICLE))
    left, right = cycle_document(study, study.cycle("rear-left")).assemblies
    assert left.poses
    assert right.poses == []
    assert right.bind[0].sentence == "rear-right stands still while rear-left moves: they are not joined."
    assert right.stops.bump is None


def test_a_motion_that_nothing_holds_is_told_with_a_step_to_draw():
    """Without the link the rocker swings by itself."""
    text = VEHICLE.replace(
        '[bars.link-left]\nends = ["tab-left", "link-hole-left"]\nadjust = [-10, 15]\n', ""
    )
    study = Study(Project.from_text(text))
    loose = [play for assembly in sweep_of(study, "heave").assemblies for play in assembly.play]
    rocker = next(play for play in loose if "rocker-left" in play.bodies)
    assert "rocker-left" in rocker.sentence
    most = max(sum(part * part for part in step) ** 0.5 for step in rocker.motion_mm.values())
    assert abs(most - 20.0) < 1e-9


def test_a_bar_of_another_length_shows_both_lengths():
    text = VEHICLE.replace("adjust = [-10, 15]", "adjust = [-10, 15]\nlength = 240")
    bar = drawing_of(Project.from_text(text)).bars["link-left"]
    assert bar.length_mm == 240.0
    assert abs(bar.drawn_mm - (45**2 + 235**2) ** 0.5) < 1e-9  # by hand: 45 mm along, 235 mm up
    assert bar.adjust_mm == (-10.0, 15.0)
