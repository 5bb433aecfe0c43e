"""The drilling card: every hole from the datum, in order, and what repeats."""

import pytest

from leverwright.make.card import card_pdf
from leverwright.make.cautions import CAUTIONS, NOT_CHECKED
from leverwright.make.choices import Choices
from leverwright.make.plates import flat_parts
from tests.make.print_reader import read_print
from tests.make.vehicle_samples import flat, space


def _pages(project, choices=None, paper="A4"):
    return read_print(card_pdf(project, paper, choices or Choices()))


def _words(page):
    return " ".join(page.text.split())


def test_every_hole_has_both_distances_from_the_datum_and_its_drill():
    choices = Choices(hole=0.010, holes={"rocker-pivot": 0.022})
    words = _words(_pages(flat(), choices)[0])
    for hole in flat_parts(flat(), choices).parts[0].holes:
        assert f"{hole.along * 1000:.1f}" in words
        assert f"{hole.up * 1000:.1f}" in words
        assert hole.diameter is not None
        assert f"{hole.diameter * 1000:.1f}" in words
    assert "Ø 22.00 mm (hole 1): stock drill 22.0 mm, on size; in inches 55/64 in, 0.17 mm under." in words


def test_distances_stand_in_inches_too():
    words = _words(_pages(flat(), Choices(hole=0.010))[0])
    assert "25/32 in (0.2 mm over)" in words  # 20 mm is 25.2 / 32 in


def test_centre_distances_are_there_to_check():
    words = _words(_pages(flat())[0])
    for length in ("100.0", "130.0", "222.0"):
        assert f": {length} reads ____" in words


def test_the_order_of_work_is_pivot_pin_then_the_others_and_ream_after_welding():
    words = _words(_pages(flat())[0])
    steps = [
        "Prick-punch",
        "centre-punch",
        "Hole 1 first, the pivot: 3 mm pilot",
        "snug pin",
        "Then the others",
        "After welding, ream",
    ]
    places = [words.index(step) for step in steps]
    assert places == sorted(places)


def test_left_and_right_are_clamped_and_drilled_as_one():
    words = _words(_pages(space())[0])
    assert "Cut 2 (4 where the lever has two cheeks)" in words
    assert "Clamp the blanks for rocker-left and rocker-right together" in words


def test_settings_that_repeat_over_parts_are_listed_once():
    words = _words(_pages(flat(), Choices(hole=0.010))[1])
    assert "fence 20.0 25/32 in (0.2 mm over) rocker" in words
    assert "link 1, 2" in words


def test_links_stand_with_their_length_blank_and_threads():
    words = _words(_pages(space(), Choices(hole=0.010))[1])
    assert "link-left + link-right" in words
    assert "245.0" in words
    assert "285 × 40" in words
    assert "The link itself has threads, 235.0 mm to 260.0 mm" in words


def test_what_is_not_cut_from_plate_is_said_on_the_card():
    words = " ".join(_words(page) for page in _pages(flat()))
    assert "arm carries the wheel: it is built up, not cut from one plate." in words
    assert "arm-pivot to arm-tab: 240.0 mm" in words


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_every_page_says_what_is_not_checked_and_the_card_has_every_caution(paper):
    pages = _pages(space(), paper=paper)
    assert all(NOT_CHECKED in page.text for page in pages)
    assert all("NOT TO SCALE" in page.text for page in pages)
    words = " ".join(_words(page) for page in pages)
    for caution in CAUTIONS:
        assert caution in words


def test_no_drill_is_printed_where_no_size_is_stated():
    words = _words(_pages(flat())[0])
    assert "stock drill" not in words
    assert "No drill is printed where no hole size is stated" in words


def test_nothing_is_printed_beyond_the_margins():
    for page in _pages(space()):
        for spot in (spot for line in page.lines for spot in line):
            assert 12 - 1e-6 <= spot[0] <= 198 + 1e-6
            assert 12 <= spot[1] <= 285
