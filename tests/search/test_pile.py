"""Advice on the pile of the garden cart: the story's good answer, in sentences."""

from pathlib import Path

import pytest

from leverwright import Project, Study
from leverwright.findings import judge, with_remedies
from leverwright.search import applied
from leverwright.search.pile import pile_of

CART = Path(__file__).parents[2] / "examples" / "garden-cart.toml"


def advice(*edits, units="metric"):
    text = CART.read_text(encoding="utf-8")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    return pile_of(Study(Project.from_text(text), units=units))


def test_the_good_answer_of_the_story():
    """C out; A and B; B 9.4 mm high at both loads by 134 N of gas; A tightened 7.4 mm, B not backed off its 4.6 mm;
    both stand at 10.4 and 37.5 mm, 14 and 50 %, 3.12 and 2.17 Hz.
    """
    said = " ".join(advice().sentences)
    for words in (
        "Use A and B.",
        "rates 0.4 % apart",
        "B stands 9.4 mm higher under every load. That is the 134 N of gas in B.",
        "Tighten the collar of A by 7.4 mm.",
        "Do not turn back B instead: its coil has only 4.6 mm of preload and would go loose.",
        "the coil of A, squashed whole, still has 7.4 mm before its coils touch",
        "37 mm, 50 % of the travel, at 2.17 Hz (usual)",
        "10 mm, 14 % of the travel, at 3.12 Hz (empty)",
        "C is out: Let go, it came back 3 mm of 30 mm in 10 s",
    ):
        assert words in said


def test_a_and_d_cannot_be_trimmed_for_both_loads():
    found = {each.pair.names: each for each in advice().pairs}[("A", "D")]
    loaded, empty = found.pair.sag
    assert (loaded[1] - loaded[0]) * 1e3 == pytest.approx(7.0, abs=0.2)
    assert (empty[1] - empty[0]) * 1e3 == pytest.approx(3.6, abs=0.2)
    assert "No collar trims that for every load" in found.sentences[0]


def test_each_shock_is_told_with_the_ratio_it_wants():
    shocks = {each.name: each for each in advice().shocks}
    assert [each.verdict for each in shocks.values()] == ["use", "use", "reject", "use"]
    ((_, want),) = shocks["A"].wants
    assert want.ratio[1] == pytest.approx(1.315, abs=0.005)
    assert "it wants a ratio of 1.31" in " ".join(shocks["A"].sentences)


def test_where_no_two_belong_together_it_says_what_to_look_for():
    """Without B the pair is gone: 0.8 and about 75 mm of wheel under 62 kg ask for 60 mm and 1.9 to 2.5 kN."""
    found = advice(('oil = "none"', 'oil = "running"'))
    assert found.best is None
    said = " ".join(found.sentences)
    assert "No two shocks of the pile belong together." in said
    assert "look for a shock with 60 mm of stroke or more that 1900 N to 2533 N squash whole" in said


def test_a_shock_without_lengths_or_readings_is_to_be_measured():
    found = advice(("[bench.C]", "[pile.E]\n\n[bench.C]"))
    assert {each.name: each.verdict for each in found.shocks}["E"] == "measure"
    assert "Not known yet: E." in " ".join(found.sentences)


def test_the_pile_is_told_in_inches_and_pounds():
    assert "lbf" in " ".join(advice(units="inch").sentences)


def test_a_vehicle_without_a_pile_gets_no_advice():
    assert pile_of(Study(Project.read(CART.with_name("orchard-cart.toml")))) is None


def remedies_of(name, *edits):
    text = CART.read_text(encoding="utf-8")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    study = Study(Project.from_text(text))
    found = with_remedies(study, judge(study))
    return study, next(f for f in found if f.id == name).remedies


def test_the_remedy_tightens_the_weaker_collar_with_a_spanner():
    study, remedies = remedies_of("sides-differ")
    assert "Turn the collar of spring-left 7.4 mm tighter, to 12 mm" in remedies[0].do
    after = judge(Study(applied(study.project, remedies[0].ops)))
    assert "sides-differ" not in {f.id for f in after}


def test_the_remedy_for_a_wrong_partner_is_another_shock_of_the_pile():
    """D beside B differ by 12 %; a twin of B lies in the pile."""
    twin = (
        "[bench.C]",
        "[pile.E]\nlength_open = 318\nlength_closed = 258\nrate = 18.1\npreload = 4.6\ngas = 134\n\n[bench.C]",
    )
    study, remedies = remedies_of(
        "sides-differ", ('[shocks.left]\npile = "A"', '[shocks.left]\npile = "D"'), twin
    )
    (remedy,) = [each for each in remedies if "Fit E of the pile for spring-left" in each.do]
    after = Study(applied(study.project, remedy.ops))
    assert after.file.shocks["left"].pile == "E"
    assert "sides-differ" not in {f.id for f in judge(after)}
