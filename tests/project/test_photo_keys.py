"""What else a photograph may state: the picture's size, a second rectangle, edges that are straight in truth."""

import pytest

from leverwright.project import Draft
from tests.project.measured_texts import MEASURED


def photo(text=MEASURED):
    draft = Draft.from_text(text, "cart.toml")
    assert draft.project is not None, draft.faults[0].sentence
    return draft.project.photos["side"]


def without(*keys):
    kept = [line for line in MEASURED.splitlines() if not line.startswith(tuple(f"{key} =" for key in keys))]
    return "\n".join(kept) + "\n"


EVERYTHING = ("size", "second_corners", "second_rectangle", "straight")


def test_size_second_rectangle_and_edges_are_read_in_pixels_and_metres():
    read = photo()
    assert read.size == (640.0, 480.0)
    corners, rectangle = read.second
    assert corners[1] == (420.0, 85.0)
    assert rectangle == (0.1, 0.09)
    assert read.straight == (((10.0, 20.0), (300.0, 22.0), (620.0, 27.0)),)


def test_none_of_them_need_be_there():
    read = photo(without(*EVERYTHING))
    assert (read.size, read.second, read.straight) == (None, None, ())


@pytest.mark.parametrize("missing", ["second_corners", "second_rectangle"])
def test_half_of_a_second_rectangle_is_refused(missing):
    draft = Draft.from_text(without(missing), "cart.toml")
    assert draft.project is None
    assert draft.faults[0].key == f"photos.side.{missing}"


BAD = [
    ("size = [640, 480]", "size = [640]"),
    ("size = [640, 480]", "size = [0, 480]"),
    ("size = [640, 480]", 'size = "640 x 480"'),
    ("straight = [[[10, 20], [300, 22], [620, 27]]]", "straight = [[[10, 20], [300, 22]]]"),
    ("straight = [[[10, 20], [300, 22], [620, 27]]]", "straight = []"),
    ("straight = [[[10, 20], [300, 22], [620, 27]]]", "straight = [[10, 20, 30]]"),
    ("second_rectangle = [100, 90]", "second_rectangle = [100, -90]"),
]


@pytest.mark.parametrize(("good", "bad"), BAD)
def test_a_value_that_cannot_be_is_refused_at_its_key(good, bad):
    assert good in MEASURED
    draft = Draft.from_text(MEASURED.replace(good, bad), "cart.toml")
    assert draft.project is None
    assert draft.faults[0].key.startswith(f"photos.side.{bad.split(' ')[0]}")
