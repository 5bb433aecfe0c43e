"""Findings about springs whose numbers were measured: fitness, squash, wire beside bench, pairs, preload."""

from pathlib import Path

import pytest

from leverwright import Project, Study
from leverwright.findings import judge
from tests.findings.vehicles import check_fires, the_one

CART = Path(__file__).parents[2] / "examples" / "garden-cart.toml"
G = 9.80665

# id, severity, number in SI by arithmetic on the file, its tolerance, words of the sentence
FIRES = [
    ("shock-unfit", "stop", 3e-3, 1e-9, ("coil", "3 mm of 30 mm in 10 s", "seized")),
    ("bench-stroke-short", "fix", 24e-3, 1e-9, ("coil", "24 mm", "40 mm", "never hold it by hand")),
    ("wire-and-bench-differ", "fix", 29.0 / 22.0 - 1, 0.01, ("22 N/mm", "29 N/mm", "over paint", "25 N/mm")),
    ("bench-reading-odd", "watch", 10 * G, 0.3 * G, ("in at mark 3", "left out")),
    ("sag-by-preload", "fix", 300 / 515.0, 0.01, ("58 %", "3.", "empty", "height, not stiffness")),
]


@pytest.mark.parametrize(
    ("name", "severity", "number", "tolerance", "words"), FIRES, ids=[row[0] for row in FIRES]
)
def test_it_fires_with_its_number_and_says_what_was_read(name, severity, number, tolerance, words):
    check_fires(the_one(name), severity, (number, tolerance), words)


def cart(*edits):
    text = CART.read_text(encoding="utf-8")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    return [f for f in judge(Study(Project.from_text(text))) if f.id == "sides-differ"]


RIGHT = '[shocks.right]\npile = "B"'


def test_a_and_b_as_they_came_push_a_fifth_apart_and_the_weaker_is_tightened():
    """B's start force is 134 N more: by (218.0 − 83.6) / 18.05 = 7.4 mm, and not the other way round."""
    (finding,) = cart()
    assert finding.severity == "fix"
    for word in ("spring-left by 7.4 mm", "Do not turn back spring-right", "4.6 mm"):
        assert word in finding.sentence


def test_once_tightened_the_sides_agree():
    assert cart(('[shocks.left]\npile = "A"', '[shocks.left]\npile = "A"\npreload = 12.05')) == []


def test_a_and_d_are_twelve_percent_apart_which_no_collar_trims():
    (finding,) = cart((RIGHT, '[shocks.right]\npile = "D"'))
    assert finding.severity == "stop"
    assert finding.number == pytest.approx(0.118, abs=0.002)
    assert "not rates" in finding.sentence


def test_rates_seven_percent_apart_are_to_be_mended():
    (finding,) = cart((RIGHT, RIGHT + "\nrate = 19.3"))
    assert finding.severity == "fix"
    assert finding.number == pytest.approx(0.067, abs=0.003)


def test_a_shock_that_is_only_in_the_pile_stops_nobody():
    """C is seized, and on no wheel."""
    found = [f for f in judge(Study(Project.read(CART))) if f.id == "shock-unfit"]
    assert [(f.severity, f.sentence[:1]) for f in found] == [("watch", "C")]


def test_tightening_that_leaves_the_lightest_load_its_sag_is_no_wrong_spring():
    """Story: 14 % empty and 50 % loaded once A is tightened, though 28 % of its push is preload then."""
    text = CART.read_text(encoding="utf-8").replace('pile = "A"', 'pile = "A"\npreload = 12.05')
    found = judge(Study(Project.from_text(text)))
    assert [f.id for f in found if f.id == "sag-by-preload"] == []
    without_sets = text.replace("[loads.empty]\nscale = { rear-left = 38, rear-right = 38 }", "")
    (finding,) = [f for f in judge(Study(Project.from_text(without_sets))) if f.id == "sag-by-preload"]
    assert finding.severity == "watch"
    assert "Free-sag test" in finding.sentence
    assert "gas in left" in finding.sentence
