"""The set-up card: a page for each load set with what each wheel should read, and blanks beside it."""

from __future__ import annotations

from pathlib import Path

from leverwright import Project, Study
from leverwright.make.setup_card import setup_pdf
from tests.make.print_reader import read_print

EXAMPLES = Path(__file__).parents[2] / "examples"


def pages(name, paper="A4", stops=()):
    study = Study(Project.read(EXAMPLES / f"{name}.toml"))
    return [" ".join(page.text.split()) for page in read_print(setup_pdf(study, paper, stops))]


def test_each_load_set_has_its_page_the_usual_one_first():
    found = pages("peat-trailer")
    assert len(found) == 4
    assert all("Set-up card" in page for page in found)
    usual, empty = found[0], found[1]
    assert "page 1 of 4" in usual
    assert "peat" in usual
    assert "250" in usual
    assert "as it is" in usual  # the collar stays
    assert "43.6" in empty  # (95 - 7.8) / 2 kg under each wheel
    assert "2 to 5" in empty  # mm of sag


def test_the_collar_trims_a_load_by_its_force_at_the_spring():
    """Rear: 126.6 - 98.5 kg is 275.7 N at the wheel; 28.6 N/mm at 0.70: 13.8 mm. Front: it has 4 mm to give."""
    boarding = pages("step-free-buggy")[2]
    assert boarding.count("+13.8") == 2
    assert boarding.count("-4.0 at most") == 2
    assert "front-left, front-right: further back the coil would hang loose" in boarding
    assert "____ turns" in boarding


def test_it_says_how_it_stands_what_the_coupling_carries_and_where_it_tips():
    usual = pages("peat-trailer")[0]
    assert "nose up by 2.2 deg" in usual
    assert "29.9 kg as it stands, 8.7 % of the whole" in usual
    # 33 deg, but the height is known to 0.72 m ± 0.032 only: the slope lies from 30.1 deg, and that is halved.
    assert (
        "It tips sideways at between 0.58 and 0.73 g or on a slope of between 30 and 36 deg: use 15 deg at most"
        in pages("step-free-buggy")[0]
    )


def test_what_is_not_known_is_a_blank_and_what_hurts_is_said():
    (only,) = pages("gravity-racer-equal", paper="Letter")
    assert "usual load" in only
    assert "22 to 27" in only  # mm of sag, 24 in story S2
    assert "_______" in only
    assert "qualified person" in only
    assert "never a permission" in only


def test_a_stop_is_said_on_every_page():
    assert all("IT LOCKS" in page.upper() for page in pages("peat-trailer", stops=("It locks.",)))
