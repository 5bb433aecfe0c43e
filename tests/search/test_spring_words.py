"""What is known of a shock, in sentences: each thing that a reader of the numbers must know is said."""

from pathlib import Path

import pytest

from leverwright import Project, Study
from leverwright.search.spring_words import fit_words

CART = Path(__file__).parents[2] / "examples" / "garden-cart.toml"


def words(name, *edits, units="metric"):
    text = CART.read_text(encoding="utf-8")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    return " ".join(fit_words(Study(Project.from_text(text)).measured.springs[name], units))


IN_D, OUT_D = "in  = [9.0, 25.5, 42.0, 58.0, 74.5]", "out = [5.0, 21.0, 37.5, 54.0, 74.5]"
SLOPPY = "out = [5, 23, 35.5, 56, 74.5]\nerror = 0.2\nmark_error = 0.1"
IN_A, OUT_A = "in  = [10.5, 29.5, 47.5, 66.0, 84.5]", "out = [6.5, 24.5, 43.0, 61.5, 84.5]"


@pytest.mark.parametrize(
    ("name", "edits", "said"),
    [
        ("A", (), "friction 22 N either way"),
        ("A", (), "How the start force splits into preload and gas is not known; called preload it is 4.6 mm"),
        ("A", (), "by a qualified person"),
        ("A", (), "17.4 N/mm, 3.5 % less than the bench: they agree"),
        ("A", (), "wire over paint, 0.2 mm more 20.1 N/mm, outside for mean diameter 12.1 N/mm, both flat end coils"),
        ("B", (), "134 N is gas, which no collar turns back, and 4.6 mm of coil is preload. Never cut, heat"),
        ("C", (), "it came back 3 mm of 30 mm in 10 s: it is seized. Do not use it."),
        ("A", ((IN_A, "in  = [10.5, 29.5, 57.5, 66.0, 84.5]"),), "going in at mark 3 is left out: it says 564 N"),
        (
            "A",
            ((IN_A, "in = [10.5, 29.5, 47.5, 66.0, 125]"), (OUT_A, "out = [6.5, 24.5, 43.0, 61.5, 125]")),
            "Between 30 mm and 40 mm of squash it goes hard",
        ),
        ("A", ((IN_A, "in = [0, 29.5, 47.5, 66.0, 84.5]"),), "lay on its own end"),
        ("A", ((OUT_A, ""),), "Nothing was read coming out, so friction is not known"),
        ("A", (("diameter = 6,", "diameter = 7,"),), "they do not agree, and the bench alone is taken"),
        ("D", (("rod = \"straight\"\n\n# mm squashed", "rod = \"bent\"\n\n# mm squashed"),), "The rod is bent"),
        ("D", ((IN_D, "in = [9, 27.5, 40, 60, 74.5]"), (OUT_D, SLOPPY)), "The readings scatter"),
    ],
)  # fmt: skip
def test_it_is_said(name, edits, said):
    assert said in words(name, *edits)


def test_a_spring_that_stiffens_is_told_with_both_rates():
    marks = [0, 10, 20, 30, 40]
    push = [8 + 1.6 * m * (1 + m / 60) for m in marks]
    rows = [str([round(2 * (kg + side)) / 2 for kg in push]) for side in (2, -2)]
    said = words("A", (IN_A, f"in = {rows[0]}"), (OUT_A, f"out = {rows[1]}"))
    assert "It grows stiffer: " in said
    assert "at the last mark" in said


def test_inches_and_pounds():
    said = words("B", units="inch")
    assert "lbf/in" in said
    assert "lbf is gas" in said
    assert " N/mm" not in said


def test_a_seized_shock_that_reads_the_same_everywhere_is_given_no_rate_and_no_preload():
    said = words("C")
    assert said == "Let go, it came back 3 mm of 30 mm in 10 s: it is seized. Do not use it."
