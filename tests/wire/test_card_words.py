"""What the job cards say of measurements, on the example vehicles of the stories."""

import re
from pathlib import Path

import pytest

from leverwright import Project, Study
from leverwright.wire.card_words import cards_of
from leverwright.wire.cards import Cards

EXAMPLES = Path(__file__).parents[2] / "examples"


def cards(name: str, *changes: tuple[str, str]) -> Cards:
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return cards_of(Study(Project.from_text(text, f"{name}.toml")))


def test_a_vehicle_that_measures_nothing_has_nothing_to_say():
    said = cards("gravity-racer")
    assert (said.weigh, said.ride, said.squash, said.pile, said.tape, said.next_tapes) == (
        [],
        {},
        {},
        [],
        [],
        [],
    )


def test_the_pile_of_story_s1_says_the_pair_first_and_what_is_out():
    said = cards("garden-cart")
    assert said.pile[0].verdict == "good"
    assert said.pile[0].metric.startswith("Use A and B.")
    assert any("Tighten the collar of A by 7.4 mm" in line.metric for line in said.pile)
    assert [line.verdict for line in said.pile if line.metric.startswith("C is out")] == ["stop"]
    assert said.squash["C"][0].verdict == "stop"
    assert said.squash["A"][0].metric.startswith("Rate between 17.8")


def test_every_load_set_of_the_trike_says_where_it_tips():
    # Story S3: 0.36 g with the cargo low, 0.21 g empty, 0.315 g with it high.
    ride = cards("market-trike").ride
    tips = {
        name: next(line.metric for line in lines if "Tips at" in line.metric) for name, lines in ride.items()
    }
    assert "0.36 g" in tips["usual"]
    assert "12.6 km/h" in tips["empty"]
    assert "0.31 g" in tips["high"]


def test_the_trailer_says_what_its_coupling_carries():
    # Story S4: 29.9 kg pitched, 8.7 %; with the cargo at .05 m it is 4.4 % level and sways.
    ride = cards("peat-trailer").ride
    (usual,) = [line for line in ride["usual"] if "coupling" in line.metric]
    (behind,) = [line for line in ride["behind"] if "coupling" in line.metric]
    assert (usual.verdict, "8.7 %" in usual.metric) == ("good", True)
    assert (behind.verdict, "4.4 %" in behind.metric) == ("fix", True)
    assert "lb" in usual.inch


def test_the_scale_says_each_wheel_and_that_nothing_checks_it():
    said = cards("swamp-buggy-weighed", ("raised = 38\n", ""))
    # Story S6: (67.2 - 5.1) / .4 = 155 kg
    (rear,) = [line.metric for line in said.weigh if line.metric.startswith("rear-left carries between")]
    low, high = (float(number) for number in re.findall(r"\d+", rear))
    assert 0.5 * (low + high) == pytest.approx(155, abs=1.5)
    assert said.weigh[-1].verdict == "watch"
    tyres = [line.metric for line in said.weigh if "tyre" in line.metric]
    assert tyres == [f"The tyre of {end}-left gives between 36 and 68 N/mm." for end in ("front", "rear")]
    closed = cards("step-free-buggy", ("[scale]", "[scale]\nknown = { mass = 20, reads = 20 }"))
    assert any(line.verdict == "good" and "right within" in line.metric for line in closed.weigh)


@pytest.mark.parametrize(
    ("tape", "read", "bad"), [("dot-a-to-b", "283.5", "292.5"), ("dot-c-to-d", "320.5", "311.5")]
)
def test_a_bad_tape_is_named_with_how_far_it_is_off(tape, read, bad):
    agreed = cards("taped-milk-cart")
    assert agreed.tape[0].verdict == "good"
    assert agreed.tape[0].metric.startswith("All ")
    head = f'[tape.{tape}]\nbetween = ["dot-{tape[4]}-left", "dot-{tape[-1]}-left"]\nreads = '
    said = cards("taped-milk-cart", (head + read, head + bad))
    assert said.tape[0].verdict == "fix"
    assert said.tape[0].metric.startswith(f"{tape} reads ")
    assert said.tapes[tape].verdict == "fix"


def test_the_next_tape_is_named_by_its_two_ends():
    nearest = cards("taped-milk-cart").next_tapes[0]
    assert nearest.kind == "between"
    assert nearest.metric.startswith(" to ".join(nearest.points))
    assert "%" in nearest.metric
