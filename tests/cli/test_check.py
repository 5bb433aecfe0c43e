"""`check` says what is so: of a vehicle's file, or of five numbers."""

import json
from pathlib import Path

import pytest

import leverwright.findings
from leverwright.findings import COMMON_PRACTICE, Finding
from leverwright.search.remedy import Effort, Remedy

EXAMPLES = Path(__file__).parents[2] / "examples"
RACER = str(EXAMPLES / "gravity-racer.toml")
ANSWERS = {
    *("standing_travel", "sag", "sag_percent", "bump_left", "motion_ratio", "heave_ratio", "wheel_rate"),
    *("heave_rate", "ride_frequency", "ride_frequency_without_tyre", "hop_frequency", "dead_centre_bump"),
    *("dead_centre_droop", "dead_centre_angle", "transmission_angle_least"),
}


def found(severity):
    return Finding(
        id="dead-centre-near",
        severity=severity,
        question="Does it lock or bind?",
        sentence="The lever comes within 4 mm of dead centre.",
        why="Travel left to dead centre, 2 sigma taken off.",
        source=COMMON_PRACTICE,
        points=("b", "a"),
        travel=0.043,
        remedies=(
            Remedy("Make link-left 7 mm shorter", Effort(20, "two spanners"), "4 mm left", "14 mm left", ()),
        ),
    )


@pytest.fixture
def judged(monkeypatch):
    """Let the judge find what a test wants."""

    def let(*findings):
        monkeypatch.setattr(leverwright.findings, "judge", lambda _study, **_: findings)
        monkeypatch.setattr(leverwright.findings, "with_remedies", lambda _study, found: found)

    return let


def test_the_gravity_racer_sits_as_the_story_says(leverwright, judged):
    # Figures of story S2, rounded there: ratio 1.60, wheel rate 56.3 N/mm, sag 4.8 mm (15 %), 5.83 Hz.
    judged()
    ended = leverwright("check", RACER, "--json")
    assert (ended.status, ended.notes) == (0, "")
    (wheel,) = ended.document["answers"]["wheels"].values()
    assert wheel.keys() == ANSWERS
    assert next(iter(wheel["motion_ratio"].values()))["value"] == pytest.approx(1.6, rel=0.005)
    assert wheel["wheel_rate"]["value"] == pytest.approx(56.3, rel=0.005)
    assert wheel["wheel_rate"]["unit"] == "N/mm"
    assert wheel["sag"]["value"] == pytest.approx(4.8, abs=0.05)
    assert wheel["sag_percent"]["value"] == pytest.approx(15, abs=0.5)
    assert wheel["ride_frequency_without_tyre"]["value"] == pytest.approx(5.83, abs=0.02)
    assert wheel["hop_frequency"]["value"] is None
    assert wheel["hop_frequency"]["because"]


def test_the_answers_are_said_in_words(leverwright, judged):
    judged()
    ended = leverwright("check", RACER)
    assert ended.status == 0
    assert "mm for 10 mm of wheel; 1 : 0." in " ".join(ended.out.split())
    assert " N/mm\n" in ended.out
    # What cannot be said stands under the rest, each reason once.
    assert "\n  Bounces a second, Wheel hops: cannot be said: tyre is not stated\n" in ended.out


def test_the_answers_are_said_in_inches(leverwright, judged):
    judged()
    ended = leverwright("check", RACER, "--units", "inch")
    assert "in for 1 in of wheel; 1 : 0." in " ".join(ended.out.split())
    assert " lbf/in\n" in ended.out
    assert " mm\n" not in ended.out


@pytest.mark.parametrize(("severity", "status"), [("stop", 1), ("fix", 0), ("watch", 0), ("good", 0)])
def test_status_is_1_exactly_when_something_says_stop(leverwright, judged, severity, status):
    judged(found("good"), found(severity))
    for words in ((), ("--json",), ("--units", "inch")):
        assert leverwright("check", RACER, *words).status == status


def test_a_finding_is_said_with_its_cure(leverwright, judged):
    judged(found("fix"))
    rows = leverwright("check", RACER).out.splitlines()
    at = rows.index("Does it lock or bind?")
    assert rows[at + 1 :][:5] == [
        "  FIX: The lever comes within 4 mm of dead centre.",
        "      Why: Travel left to dead centre, 2 sigma taken off. Source: common practice [dead-centre-near]",
        "      - Make link-left 7 mm shorter: 20 min, two spanners",
        "          now 4 mm left",
        "          then 14 mm left",
    ]


@pytest.mark.parametrize(
    ("severities", "said"),
    [
        ([], "Nothing to stop, fix or watch. Not checked by this version: strength, clearance, welds."),
        (["fix", "stop", "fix"], "1 stop, 2 fix. Not checked by this version: strength, clearance, welds."),
        (["good", "watch"], "1 watch, 1 good. Not checked by this version: strength, clearance, welds."),
    ],
)
def test_it_ends_with_the_count_and_what_is_not_checked(leverwright, judged, severities, said):
    judged(*map(found, severities))
    closing = " ".join(leverwright("check", RACER).out.split("\n\n")[-1].split())
    assert closing == f"{said} No number here is permission to ride."


def test_the_next_thing_to_do_is_named_with_what_it_takes(leverwright, judged):
    judged(found("watch"), found("fix"))
    assert "\nNext: Make link-left 7 mm shorter (20 min, two spanners)\n" in leverwright("check", RACER).out
    judged()
    assert (
        "\nNext: Print the cardboard trial and try it (20 min, card, scissors"
        in leverwright("check", RACER).out
    )


def test_a_cure_of_two_findings_is_told_in_full_once(leverwright, judged):
    judged(found("fix"), found("watch"))
    out = leverwright("check", RACER).out
    assert out.count("now 4 mm left") == 1
    assert out.count("- Make link-left 7 mm shorter: as above") == 1


def test_a_finding_is_said_in_inches(leverwright, judged):
    judged(found("fix"))
    out = " ".join(leverwright("check", RACER, "--units", "inch").out.split())
    assert "within 5/32 in of dead centre" in out  # 3.97 mm
    assert "Make link-left 9/32 in shorter" in out  # 7.14 mm


def test_a_finding_in_the_document_has_the_form_of_the_contract(leverwright, judged):
    judged(found("watch"))
    (finding,) = leverwright("check", RACER, "--json").document["findings"]
    assert finding == {
        "id": "dead-centre-near",
        "severity": "watch",
        "question": "Does it lock or bind?",
        "sentence": "The lever comes within 4 mm of dead centre.",
        "where": {"points": ["a", "b"], "travel_mm": 43.0},
        "why": "Travel left to dead centre, 2 sigma taken off.",
        "remedies": [
            {
                "do": "Make link-left 7 mm shorter",
                "effort": "20 min, two spanners",
                "before": "4 mm left",
                "after": "14 mm left",
            }
        ],
        "source": "common practice",
    }


def test_the_question_stands_once_over_its_findings(leverwright, judged):
    judged(found("fix"), found("watch"))
    assert leverwright("check", RACER).out.count("Does it lock or bind?") == 1


def test_wheels_that_sit_alike_stand_together(leverwright, judged):
    judged()
    assert leverwright("new", "wishbone", "--out", "corners.toml").status == 0
    ended = leverwright("check", "corners.toml")
    assert "\nwheel-left, wheel-right\n" in ended.out
    assert ended.out.count("Sits down") == 1


def test_springs_of_one_wheel_are_told_apart(leverwright, judged):
    judged()
    assert leverwright("new", "beam-axle", "--out", "axle.toml").status == 0
    ended = leverwright("check", "axle.toml")
    assert "(spring-left)" in ended.out
    assert "(spring-right)" in ended.out


@pytest.mark.parametrize("example", sorted(EXAMPLES.glob("*.toml")), ids=lambda path: path.stem)
def test_every_example_is_checked_and_cycled(leverwright, example):
    document = leverwright("check", str(example), "--json").document
    stops = [finding for finding in document["findings"] if finding["severity"] == "stop"]
    ended = leverwright("check", str(example), "--units", "inch")
    assert ended.status == (1 if stops else 0)
    assert ended.out.startswith(document["title"])
    assert leverwright("cycle", str(example)).status == 0


def test_the_document_is_the_same_whatever_units_are_asked(leverwright, judged):
    judged(found("fix"))
    metric, inch = (leverwright("check", RACER, "--json", "--units", units) for units in ("mm", "inch"))
    assert metric == inch


def five(**numbers):
    return [word for name, value in numbers.items() for word in (f"--{name.replace('_', '-')}", value)]


# Story S2: arms 45 and 90 make a lever four times too stiff; equal arms of 60 sit right.
S2 = {"link_arm": "45", "spring_arm": "90", "load": "42 kg", "rate": "22", "moves": "5 mm"}


def test_five_numbers_tell_what_is_to_blame(leverwright):
    ended = leverwright("check", *five(**S2))
    assert (ended.status, ended.notes) == (0, "")
    said = " ".join(ended.out.split())
    assert "It is too stiff" in said
    assert "The ratio is to blame" in said
    assert "swap the arms: link on 90 mm, spring on 45 mm: 5 mm ->" in said
    assert "Why: " in said


def test_five_numbers_as_a_document(leverwright):
    document = leverwright("check", *five(**S2), "--json").document
    assert document["leverwright"] == 1
    assert document["blame"] == "ratio"
    assert document["ratio"]["value"] == pytest.approx(2.0, rel=1e-12)
    assert document["ratio"]["unit"] == "1"
    # 42 kg * 9.80665 / (22 N/mm * 2^2), no preload
    assert document["moves_expected"]["value"] == pytest.approx(42 * 9.80665 / 88, rel=1e-9)


def test_five_numbers_in_inches_give_the_same_verdict(leverwright):
    inch = {"link_arm": "1.7716535433 in", "spring_arm": "3.5433070866in", "load": "92.594149 lb"}
    metric = leverwright("check", *five(**{**S2, "rate": "unknown"}), "--json").document
    ended = leverwright("check", *five(**inch, rate="?", moves="5 mm"), "--units", "inch", "--json")
    assert ended.document["blame"] == metric["blame"]
    assert ended.document["ratio"]["value"] == pytest.approx(metric["ratio"]["value"], rel=1e-9)
    assert " in " in ended.document["verdict"]


def test_without_the_rate_what_cannot_be_told_is_said(leverwright):
    document = leverwright("check", *five(**{**S2, "rate": "unknown"}), "--json").document
    assert document["moves_expected"]["value"] is None
    assert document["moves_expected"]["because"]
    assert any("rate" in sentence for sentence in document["unsaid"])
    out = leverwright("check", *five(link_arm="45", spring_arm="90", load="42")).out
    assert "Motion ratio: between 1.9" in out


def test_a_link_that_moves_less_than_the_wheel_counts(leverwright):
    # 0.8 of the wheel at the link, then 90 / 45: 1.60, as in the story
    document = leverwright("check", *five(**S2), "--link-moves", "0.8", "--json").document
    assert document["ratio"]["value"] == pytest.approx(1.6, rel=1e-12)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "neither a file nor five numbers were given"),
        (five(link_arm="45"), "--spring-arm, --load not given"),
        (five(**{**S2, "load": "42 mm"}), "--load: '42 mm' is a length, not a mass"),
        (five(**{**S2, "rate": "22,5"}), "--rate: '22,5' has a comma"),
        (five(**{**S2, "link_arm": "0"}), "--link-arm: "),
        (five(**{**S2, "link_arm": "-45"}), "--link-arm: "),
        (five(**{**S2, "moves": "9 m"}), "--moves: "),
        ([*five(**S2), "--link-moves", "0"], "--link-moves: "),
        ([*five(**S2), "--link-moves", "1 : 2"], "--link-moves: '1 : 2' can be read both ways round"),
        (["cart.toml", *five(load="42")], "--load: a file was named and a number given beside it"),
        (["cart.toml", "--link-moves", "1"], "--link-moves: a file was named and a number given beside it"),
    ],
)
def test_numbers_that_cannot_be_used_are_refused(leverwright, words, said):
    ended = leverwright("check", *words)
    assert ended.status == 2
    assert said in ended.said
    assert json.loads(leverwright("check", *words, "--json").out)["error"]["file"] == "command line"
