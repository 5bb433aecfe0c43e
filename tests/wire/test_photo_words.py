"""What the page is told of a photograph."""

import numpy as np
import pytest

from leverwright.project import Draft
from leverwright.wire.photo_words import photo_reading
from tests.measure.test_photograph import BOARD, Camera
from tests.measure.test_photograph_in_network import (
    CAMERA,
    TRUE,
    VEHICLE,
    beam,
    in_rectangle,
    photo_text,
    picks,
)


def said(found, tapes="", **more):
    text = VEHICLE.replace("{photo}", photo_text(found, **more)).replace("{tapes}", tapes)
    return photo_reading(Draft.from_text(text, "cart.toml").sketch).photos["side"]


def test_distances_are_said_as_ranges_that_hold_the_truth_in_both_units():
    photo = said(picks())
    assert photo.refused is False
    assert photo.sentence.startswith("5 points are placed within ")
    for each in photo.distances:
        a, b = (np.array(TRUE[end]) for end in each.ends)
        low, high = (float(word) for word in each.said.split() if word.replace(".", "").isdigit())
        assert low <= 1000 * np.hypot(*(a - b)) <= high
        assert each.said.startswith("between ")
        assert each.said_inch.endswith(" in")
    assert "mm" not in photo.sentence_inch


def test_a_first_place_is_laid_on_the_points_that_are_known():
    photo = said(picks() | beam())
    x, y, z = photo.rough["hub-left"]
    assert (x, y, z) == (pytest.approx(-380, abs=1), 320, pytest.approx(205, abs=1))
    assert photo.sketched == ["hub-left", "tab-left", "link-hole-left", "spring-hole-left"]


def test_without_a_known_point_the_rectangle_stands_on_the_floor():
    alone = {name: at for name, at in picks().items() if name != "arm-pivot-out-left"}
    rough = said(alone).rough
    a, b = (np.array(rough[name])[[0, 2]] for name in ("hub-left", "spring-hole-left"))
    assert np.hypot(*(a - b)) == pytest.approx(1000 * np.hypot(0.2, 0.34), abs=1)
    assert a[0] < b[0]  # seen from the left, forward is to the left of the picture
    assert a[1] < b[1]


def test_each_step_says_what_is_next():
    one = dict(list(picks().items())[:1])
    assert "Pick a second" in said(one).sentence
    assert said({}).sentence.startswith("The rectangle is clear")


def test_a_refusal_is_one_sentence_that_says_what_to_do():
    corners = [[round(float(u)), round(float(v))] for u, v in CAMERA.sees(BOARD)[[0, 3, 2, 1]]]
    photo = said(picks(), corners=corners)
    assert photo.refused
    assert photo.sentence == (
        "Nothing is taken from this photograph: corners that go round anticlockwise. "
        "Needed: clockwise from the top left; pick them in that order."
    )


def notes(**more):
    return " ".join(said(picks(), **more).notes)


def test_what_limits_it_is_said_with_its_number():
    assert "The camera stood between" in notes()
    assert "% long" in notes()
    text = photo_text(picks()).replace("lens = 0\n", "")
    whole = VEHICLE.replace("{photo}", text).replace("{tapes}", "")
    unknown = " ".join(photo_reading(Draft.from_text(whole, "cart.toml").sketch).photos["side"].notes)
    assert "is not known: that alone may shift a pick by" in unknown
    whole = whole.replace("size = [4000, 3000]\n", "")
    unsized = " ".join(photo_reading(Draft.from_text(whole, "cart.toml").sketch).photos["side"].notes)
    assert "the picture's size is not stated" in unsized
    assert "tape it from lens to rectangle" in unsized
    assert "1.7 % long" in unsized  # 50 mm at 3 m


def test_rectangles_that_do_not_fit_together_are_told():
    second = [
        [round(float(u) + shift, 2), round(float(v), 2)]
        for (u, v), shift in zip(CAMERA.sees(BOARD * 0.5), (60, 0, 0, 0), strict=True)
    ]
    assert "miss each other" in notes(second_corners=second, second_rectangle=[300, 200])


def test_a_lens_that_is_told_is_said():
    camera = Camera(away=1.3, lens=0.04, foot=(0.3, 0.2))
    found = {name: camera.sees([in_rectangle(*at)])[0] for name, at in TRUE.items()}
    corners = [[round(float(u), 3), round(float(v), 3)] for u, v in camera.sees(BOARD)]
    second = [[round(float(u), 3), round(float(v), 3)] for u, v in camera.sees(BOARD * 0.7 + [0.2, 0.5])]
    text = photo_text(found, corners=corners, second_corners=second, second_rectangle=[420, 280], error=0.3)
    whole = VEHICLE.replace("{photo}", text.replace("lens = 0\n", "")).replace("{tapes}", "")
    photo = photo_reading(Draft.from_text(whole, "cart.toml").sketch).photos["side"]
    assert any("taken out" in note for note in photo.notes)
    assert any("Three metres are better" in note for note in photo.notes)


def test_a_draft_that_names_points_not_there_is_read_all_the_same():
    photo = said(picks() | {"nowhere": np.array([2000.0, 1500.0])})
    assert "nowhere" in photo.rough
    assert "nowhere" not in photo.sketched


def test_a_point_off_the_plane_is_left_out_where_nothing_tells_the_camera():
    inside = CAMERA.sees([in_rectangle(0.0, 0.21)])[0]
    text = photo_text(picks() | {"arm-pivot-in-left": inside}).replace("size = [4000, 3000]\n", "")
    whole = VEHICLE.replace("{photo}", text).replace("{tapes}", "")
    photo = photo_reading(Draft.from_text(whole, "cart.toml").sketch).photos["side"]
    assert photo.notes[0].startswith("Not used: arm-pivot-in-left.")
    assert not any("arm-pivot-in-left" in each.ends for each in photo.distances)
    assert "arm-pivot-in-left" in photo.rough
    told = photo_reading(
        Draft.from_text(whole.replace("error = 1\n", "error = 1\nsize = [4000, 3000]\n"), "").sketch
    )
    assert any("arm-pivot-in-left" in each.ends for each in told.photos["side"].distances)
