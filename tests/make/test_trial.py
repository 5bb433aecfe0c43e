"""The cardboard trial: three lengths a spring, and a board on which they can be read."""

from math import dist
from types import SimpleNamespace

import pytest

from leverwright.make.choices import Choices
from leverwright.make.trial import trial_pdf
from leverwright.make.trial_readings import trial_of
from leverwright.project import Project
from leverwright.project.archetypes import write_archetype
from leverwright.study import Study
from tests.make.print_reader import read_print
from tests.make.vehicle_samples import flat, space

# A trailing arm that turns about y carries a rocker whose own line lies 20 deg off y.
TIPPED = """
leverwright = 1
title = "Arm with a slanting rocker (invented)"
pose = "on blocks"

[points]
arm-in = { at = [0, 200, 150], alone = true }
arm-out = { at = [0, 300, 150], alone = true }
hub = { at = [-480, 350, 150], alone = true }
slant-in = { at = [-167.1, 203.0, 150], alone = true }
slant-out = { at = [-132.9, 297.0, 150], alone = true }
link-hole = { at = [-103.0, 232.9, 150], alone = true }
spring-hole = { at = [-206.4, 270.5, 150], alone = true }
link-eye = { at = [-103.0, 232.9, 270], alone = true }
spring-eye = { at = [-206.4, 270.5, 450], alone = true }

[bodies]
chassis = ["arm-in", "arm-out", "link-eye", "spring-eye"]
arm = ["arm-in", "arm-out", "slant-in", "slant-out", "hub"]
rocker = ["slant-in", "slant-out", "link-hole", "spring-hole"]

[bars.link]
ends = ["link-hole", "link-eye"]

[shocks.found]
rate = 20
length_open = 318
length_closed = 246
preload = 4

[springs.spring]
ends = ["spring-hole", "spring-eye"]
shock = "found"

[wheels.wheel]
body = "arm"
centre = "hub"
radius = 150
load = 62
unsprung = 11
"""


def test_the_readings_are_the_spring_lengths_of_the_cycle():
    study = Study(flat())
    (spring,) = trial_of(study).springs
    lengths = {reading.place: reading.length for reading in spring.readings}
    # The shock ends the travel both ways: closed 246 mm in bump, open 318 mm in droop.
    assert lengths["bump"] == pytest.approx(0.246, abs=1e-5)
    assert lengths["droop"] == pytest.approx(0.318, abs=1e-5)
    assert lengths["droop"] > lengths["ride"] > lengths["bump"]
    travels = {reading.place: reading.travel for reading in spring.readings}
    assert travels["ride"] == pytest.approx(study.standing[0].heights[0], abs=1e-9)
    assert travels["bump"] > travels["ride"] > travels["droop"]


def test_in_a_flat_drawing_the_board_reads_like_the_spring():
    (spring,) = trial_of(Study(flat())).springs
    assert spring.board is not None
    for read, reading in zip(spring.board.reads, spring.readings, strict=True):
        assert read == pytest.approx(reading.length, abs=1e-9)
    for link, hole in zip(spring.board.link_at, spring.board.spring_at, strict=True):
        assert dist(link, spring.board.pivot_at[1]) == pytest.approx(0.100, abs=1e-9)
        assert dist(hole, spring.board.pivot_at[1]) == pytest.approx(0.130, abs=1e-9)
        assert dist(hole, link) == pytest.approx((0.180**2 + 0.130**2) ** 0.5, abs=1e-9)


def test_left_and_right_that_read_alike_stand_together():
    (springs,) = trial_of(Study(space())).springs
    assert springs.names == ("spring-left", "spring-right")


def test_an_eye_out_of_the_levers_plane_is_said_and_the_board_reads_the_shadow():
    project = space(old="spring-eye-left = [380, 330, 600]", new="spring-eye-left = [420, 330, 600]")
    (spring,) = trial_of(Study(project)).springs
    assert spring.board.off_plane == pytest.approx(0.040, abs=1e-9)
    for read, reading in zip(spring.board.reads, spring.readings, strict=True):
        assert read**2 + 0.040**2 == pytest.approx(reading.length**2, rel=1e-9)
    text = " ".join(read_print(trial_pdf(Study(project), "A4", Choices()))[0].text.split())
    assert "The eye stands 40.0 mm out of the lever's plane" in text


def test_the_board_on_the_paper_has_its_pins_where_the_vehicle_has_them():
    pages = read_print(trial_pdf(Study(flat()), "A4", Choices()))
    boards = [page for page in pages if "Trial board" in page.text]
    pins = [
        middle for page in boards for middle, radius in page.circles if radius == pytest.approx(2.2, abs=1e-3)
    ]
    marks = [
        [middle for middle, radius in page.circles if radius == pytest.approx(1.4, abs=1e-3)]
        for page in boards
    ]
    pivot_page = next(k for k, page in enumerate(boards) if "BUMP" in page.text)
    assert pins
    assert marks[pivot_page]
    distances = [dist(pin, mark) for pin in pins for mark in marks[pivot_page]]
    assert sum(abs(d - 100.0) < 0.01 for d in distances) >= 3


def test_the_card_prints_all_three_lengths_and_blanks():
    text = " ".join(read_print(trial_pdf(Study(flat()), "Letter", Choices()))[0].text.split())
    assert "246.0" in text
    assert "318.0" in text
    assert "within 2 mm" in text
    assert text.count("__________") >= 3


def test_without_a_load_to_stand_under_ride_is_the_set_up_pose_and_that_is_said():
    project = flat(old="unsprung = 11\n", new="")
    trial = trial_of(Study(project))
    assert not trial.standing
    ride = next(reading for reading in trial.springs[0].readings if reading.place == "ride")
    assert ride.travel == pytest.approx(0.0, abs=1e-9)
    assert ride.length == pytest.approx((0.030**2 + 0.290**2) ** 0.5, abs=1e-9)
    text = " ".join(read_print(trial_pdf(Study(project), "A4", Choices()))[0].text.split())
    assert "Ride is the set-up pose" in text


def test_a_linkage_that_cannot_move_with_its_spring_says_so_and_prints_no_length():
    # The lever's circle comes no nearer to the spring's eye than 372 - 130 = 242 mm: this shock never fits.
    project = flat(
        old="length_open = 318",
        new="length_open = 120",
        also="length_closed = 246",
        too="length_closed = 100",
    )
    trial = trial_of(Study(project))
    assert trial.springs == ()
    assert trial.missing == (
        "spring: the linkage cannot move with this spring fitted, so there is nothing to try.",
    )
    text = " ".join(read_print(trial_pdf(Study(project), "A4", Choices()))[0].text.split())
    assert "there is nothing to try" in text
    assert "eye to eye" not in text


def test_figures_that_fail_the_back_check_are_not_printed():
    study = Study(flat())
    study.__dict__["back_check"] = (SimpleNamespace(holds=False),)
    trial = trial_of(study)
    assert trial.springs == ()
    assert trial.missing == ("spring: its figures do not pass the back-check, so none is printed.",)


def test_a_spring_on_a_hinge_has_no_length_to_read():
    project = flat(
        old='[springs.spring]\nends = ["spring-hole", "spring-eye"]\nshock = "found"',
        new='[springs.spring]\nhinge = ["rocker", "chassis"]\nrate = "12 N·m/deg"\ntwist = 4',
    )
    pages = read_print(trial_pdf(Study(project), "A4", Choices()))
    assert len(pages) == 1
    assert "no spring between two points: there is no length to read" in pages[0].text


def test_a_spring_without_a_flat_lever_is_read_on_the_vehicle():
    project = space(old="spring-hole-left = [380,", new="spring-hole-left = [356,")
    (spring,) = trial_of(Study(project)).springs
    assert spring.board is None
    text = " ".join(read_print(trial_pdf(Study(project), "A4", Choices()))[0].text.split())
    assert "No board: the spring acts on no lever that is one flat plate with a link hole." in text
    assert "on vehicle" in text


def test_a_lever_that_the_arm_carries_has_a_pivot_mark_for_each_place():
    """A swing arm's rocker: its pivot is on a circle of 141 mm about the arm's pivot, link and eye stay."""
    study = Study(Project.from_text(write_archetype("swing-arm", {})))
    (spring,) = trial_of(study).springs
    board = spring.board
    assert board is not None
    assert board.pivot_moves
    assert not board.eye_moves
    arm_pivot = (-0.141, 0.0)  # as first drawn, 141 mm ahead and level; seen from the right, ahead is left
    for pivot, link, hole, read, reading in zip(
        board.pivot_at, board.link_at, board.spring_at, board.reads, spring.readings, strict=True
    ):
        assert dist(pivot, arm_pivot) == pytest.approx(0.141, abs=2e-4)  # it stands 0.1 mm off level
        assert dist(pivot, link) == pytest.approx(0.047, abs=1e-9)
        assert dist(pivot, hole) == pytest.approx(0.095, abs=1e-9)
        assert read == pytest.approx(reading.length, abs=1e-9)
    pages = [" ".join(page.text.split()) for page in read_print(trial_pdf(study, "A4", Choices()))]
    assert "pin the lever's PIVOT and its LINK hole on the marks of that name" in pages[0]
    assert "pin the lever at its PIVOT" not in pages[0]
    for place in ("BUMP", "RIDE", "DROOP"):
        assert any(f"PIN at {place}: pivot" in page for page in pages[1:])


def test_a_lever_tipped_out_of_its_plane_has_no_board_and_the_sheet_says_why():
    """The rocker's pivot line turned 20 deg to that of the arm that carries it: the arm tips the plate."""
    tipped = Study(Project.from_text(TIPPED))
    (spring,) = trial_of(tipped).springs
    assert spring.board is None
    assert (
        spring.no_board == "arm carries the pivot of rocker and tips it out of its plane as the wheel moves"
    )


def test_a_flat_drawing_can_be_set_out_whole_on_a_board():
    marks = {mark.words: mark for mark in trial_of(Study(flat())).side}
    assert [name for name, mark in marks.items() if mark.pin] == ["arm-pivot", "rocker-pivot", "spring-eye"]
    pivot, rocker, eye = (marks[name].at for name in ("arm-pivot", "rocker-pivot", "spring-eye"))
    assert (rocker[0] - pivot[0], rocker[1] - pivot[1]) == pytest.approx((-0.300, 0.250), abs=1e-9)
    assert (eye[0] - pivot[0], eye[1] - pivot[1]) == pytest.approx((-0.450, -0.090), abs=1e-9)
    for place in ("bump", "ride", "droop"):
        assert dist(marks[f"hub at {place}"].at, pivot) == pytest.approx(0.400, abs=1e-9)  # the arm's length
    assert min(mark.at[0] for mark in marks.values()) == 0
    assert min(mark.at[1] for mark in marks.values()) == 0
    text = " ".join(read_print(trial_pdf(Study(flat()), "A4", Choices()))[0].text.split())
    assert "arm-pivot to hub 400.0" in text


def test_a_vehicle_in_space_has_no_board_of_a_whole_side():
    assert trial_of(Study(space())).side == ()
