"""The cardboard trial: three lengths a spring, and a board on which they can be read."""

from math import dist
from types import SimpleNamespace

import pytest

from leverwright.make.choices import Choices
from leverwright.make.trial import trial_pdf
from leverwright.make.trial_readings import trial_of
from leverwright.study import Study
from tests.make.print_reader import read_print
from tests.make.vehicle_samples import flat, space


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
        assert dist(link, spring.board.pivot) == pytest.approx(0.100, abs=1e-9)
        assert dist(hole, spring.board.pivot) == pytest.approx(0.130, abs=1e-9)
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
    assert "No board" in text
    assert "on vehicle" in text


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
