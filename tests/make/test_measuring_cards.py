"""The measuring cards: what the page's cards ask, with blanks, for a vehicle whole or half made."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from leverwright.make import measuring_cards
from leverwright.make.pictures import _KINDS, _pictures, _ways, picture_names
from leverwright.project import Draft, Project
from tests.make.print_reader import read_print, viewer_preferences

EXAMPLES = Path(__file__).parents[2] / "examples"


def pages(vehicle, paper="A4"):
    return [" ".join(page.text.split()) for page in read_print(measuring_cards(vehicle, paper))]


def example(name):
    return Project.read(EXAMPLES / f"{name}.toml")


def test_every_wheel_mass_and_shock_of_the_file_has_its_blanks():
    found = pages(example("step-free-buggy"))
    scale, ride = found[0], next(page for page in found if page.startswith("Who rides"))
    for wheel in ("front-left", "front-right", "rear-left", "rear-right"):
        assert wheel in scale
    for mass in example("step-free-buggy").masses:
        assert mass in ride
    assert "________" in scale
    assert "FILL IN BY PENCIL" in scale


def test_each_shock_of_the_pile_has_a_card_and_one_is_left_blank():
    found = [page for page in pages(example("garden-cart")) if page.startswith("Squash a shock")]
    assert [page.split("page")[0].strip() for page in found] == [
        *(f"Squash a shock: {name}" for name in "ABCD"),
        "Squash a shock: ________",
    ]
    assert "318 mm" in found[0]  # eye to eye, as the file has it
    assert all(f"{mark} mm" in found[0] for mark in (0, 10, 20, 30, 40, 50))


def test_a_file_with_tapes_lists_them_with_what_they_read():
    tape = " ".join(page for page in pages(example("taped-milk-cart")) if page.startswith("Hold the tape"))
    assert "dot-a-left to link-hole-left" in tape
    assert "304.5" in tape
    assert "hub-left, above the floor" in tape


def test_a_file_without_tapes_is_told_six_between_four_dots_and_four_to_each_place():
    vehicle = example("gravity-racer")
    tape = " ".join(page for page in pages(vehicle) if page.startswith("Hold the tape"))
    dots, places = tape.split("four tapes to each place")
    rows = [dots.split(f"dot-{dot} ")[-1].count("________") for dot in "d"]
    assert rows == [1]  # its height alone: the other three have the distance to it
    assert dots.count("________") == 6 + 4
    for point in vehicle.points:
        assert point in places
    assert places.count("________") == 4 * len(vehicle.points) + 1  # and the wood's


def test_a_vehicle_of_nothing_yet_has_its_cards():
    found = pages(Draft.from_text("leverwright = 1\n", "cart.toml").sketch, "Letter")
    assert found[0].startswith("Stand it on the scale")
    assert any("frame with wheels" in page for page in found)
    assert any(page.startswith("Hold the tape here") for page in found)


def test_what_can_hurt_stands_on_the_card_of_its_task():
    found = pages(example("garden-cart"))
    words = {
        "Stand it": "never a jack alone",
        "Who rides": "never a permission",
        "Squash": "never held by hand",
        "Hold the tape": "nobody under it",
    }
    for start, caution in words.items():
        assert any(page.startswith(start) and caution in page for page in found), start


def test_the_cards_keep_their_size_when_printed():
    assert viewer_preferences(measuring_cards(example("garden-cart")))["/PrintScaling"] == "/None"


@pytest.mark.parametrize("name", picture_names())
def test_each_picture_is_of_known_strokes_within_its_field(name):
    for stroke in _pictures()[name]["strokes"]:
        assert stroke["is"] in _KINDS
        for way in _ways(stroke["d"]):
            assert len(way) > 1
            assert all(-1 <= x <= 321 and -1 <= y <= 153 for x, y in way)


def test_an_arc_is_half_a_circle():
    (way,) = _ways("M56 76a40 40 0 1 0 80 0a40 40 0 1 0 -80 0")
    assert way[-1] == pytest.approx((56, 76), abs=1e-9)
    assert all(math.dist(spot, (96, 76)) == pytest.approx(40) for spot in way)
