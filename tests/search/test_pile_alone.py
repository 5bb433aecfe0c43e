"""Shocks in hand and no vehicle drawn: which two belong together, by rate and start force."""

from pathlib import Path

from leverwright.project import Draft
from leverwright.search.pile import pile_alone
from leverwright.wire.card_words import cards_of_shocks
from leverwright.wire.measure_document import shocks_document

CART = Path(__file__).parents[2] / "examples" / "garden-cart.toml"


def shocks_only():
    """The garden cart's pile and bench, and nothing of the cart."""
    text = CART.read_text(encoding="utf-8")
    return 'leverwright = 1\ntitle = "In hand"\n' + text[text.index("[pile.A]") : text.index("[shocks.left]")]


def test_the_pair_and_its_trim_are_told_without_a_vehicle():
    said = " ".join(pile_alone(Draft.from_text(shocks_only()).sketch).sentences)
    for words in (
        "Use A and B. A and B pair: rates 0.4 % apart. B starts to move 134 N later.",
        "Tighten the collar of A by 7.4 mm.",
        "only 4.6 mm of preload",
        "C is out",
    ):
        assert words in said


def test_a_and_d_do_not_pair_with_or_without_a_vehicle():
    pairs = {each.pair.names: each for each in pile_alone(Draft.from_text(shocks_only()).sketch).pairs}
    assert pairs["A", "D"].pair.verdict == "no"
    assert "No collar trims rates" in pairs["A", "D"].sentences[0]


def test_the_card_of_a_shock_speaks_while_the_vehicle_is_half_made():
    cards = cards_of_shocks(Draft.from_text(shocks_only()).sketch)
    assert "starts to move at" in cards.squash["A"][0].metric
    assert cards.squash["C"][0].verdict == "stop"
    assert cards.pile[0].metric.startswith("Use A and B.")


def test_the_document_holds_the_shocks_and_no_vehicle():
    document = shocks_document(Draft.from_text(shocks_only()).sketch)
    assert set(document.springs) == {"A", "B", "C", "D"}
    assert document.pile.best == ["A", "B"]
    assert document.load_sets == {}


def test_a_wire_that_cannot_be_wound_is_the_drafts_fault_and_no_crash():
    text = shocks_only().replace("outside = 52", "outside = 5")
    draft = Draft.from_text(text)
    assert any("wire" in fault.key for fault in draft.faults if fault.key)
    assert shocks_document(draft.sketch).springs["A"].wire is None
