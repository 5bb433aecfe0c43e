"""Does it move? Numbers that a reader can check by hand on the invented vehicles of each pair."""

import pytest

from leverwright.findings import judge, with_remedies
from leverwright.linkage import kinematics
from leverwright.project import Project
from leverwright.study import Study
from tests.findings.vehicles import study_of, the_one

G = 9.80665


def test_too_stiff_names_the_movement_and_what_it_would_take() -> None:
    finding = the_one("too-stiff")
    study = study_of("too-stiff", "fires")
    rate = study.answers["rear"].of["heave_rate"].value
    assert rate is not None
    # Half of a 75 kg person on this wheel of a pair: movement = weight / rate.
    assert finding.number == pytest.approx(37.5 * G / rate, rel=1e-9)
    assert finding.severity == "fix"
    assert "75 kg" in finding.sentence
    assert "spring is to blame first" in finding.sentence


def test_arms_reversed_shows_drawn_swapped_and_equal() -> None:
    finding = the_one("arms-reversed")
    assert finding.severity == "fix"
    assert "45 mm" in finding.sentence
    assert "90 mm" in finding.sentence
    # The geometric mean of 45 and 90 is 63.6: made round to a millimetre.
    assert "make both 64 mm" in finding.sentence
    assert "overshoots" in finding.sentence


def between() -> Study:
    """The same lever where equal arms (38 %) are too soft and the arms as drawn (15 %) too stiff."""
    text = study_of("arms-reversed", "fires").project.text
    return Study(Project.from_text(text + "\n[goals]\nsag = [20, 24]\n", name="between.toml"))


def test_arms_between_drawn_and_equal_are_given_as_numbers_that_work() -> None:
    (finding,) = judge(between(), "arms-reversed")
    assert "link hole 50 mm and spring hole 81 mm from the pivot give 21 %" in finding.sentence
    # Holes moved by hand along their arms: 45 to 50 level, 90 to 81 along (-15.6, 88.6).
    text = between().project.text
    text = text.replace("link-hole = [-285, 500]", "link-hole = [-290, 500]")
    text = text.replace("spring-hole = [-255.6, 588.6]", "spring-hole = [-254.0, 579.8]")
    moved = Study(Project.from_text(text, name="moved.toml"))
    assert moved.answers["rear"].of["sag_percent"].value == pytest.approx(0.21, abs=0.02)  # holes to 1 mm


def test_a_finding_that_no_tried_change_cures_says_so() -> None:
    study = study_of("frequency-outside", "fires")  # 0.2 Hz too quick: two changes of the lever are tried
    told = {finding.id: finding for finding in with_remedies(study, judge(study))}
    finding = told["frequency-outside"]
    assert (finding.severity, finding.remedies) == ("fix", ())
    assert "None of the 2 single changes tried here cures it" in finding.why
    assert all("tried here" not in f.why for f in told.values() if f.remedies or f.severity == "watch")
    cured = study_of("arms-reversed", "fires")
    assert all("tried here" not in f.why for f in with_remedies(cured, judge(cured)) if f.remedies)


def test_wrong_way_says_that_the_spring_lengthens() -> None:
    finding = the_one("wrong-way")
    assert finding.severity == "stop"
    # Arm 300 of 400 and equal lever arms: 0.75 in size, and the spring goes the other way.
    assert finding.number == pytest.approx(-0.75, rel=0.03)
    assert "gets longer when the wheel goes up" in finding.sentence


def test_the_geometric_term_is_shown_with_both_rates() -> None:
    finding = the_one("geometric-term")
    study = study_of("geometric-term", "fires")
    springs = study.figures[0].springs
    assert springs is not None
    part, whole = springs.spring_part[0, 0, 0], springs.wheel_rate[0, 0, 0]
    assert finding.number == pytest.approx(part / whole - 1.0)
    # The part left out is spring force times the change of ratio, by definition.
    ratio_slope = study.figures[0].posed.rates.d2s_dz2[0, 0, 0, 0]  # type: ignore[union-attr]
    assert whole - part == pytest.approx(springs.push[0, 0] * ratio_slope, rel=1e-9)


def test_a_falling_ratio_is_told_in_percent() -> None:
    finding = the_one("ratio-falls")
    assert finding.severity == "fix"
    assert finding.number is not None
    assert finding.number < -0.10
    assert f"{-100 * finding.number:.0f} %" in finding.sentence


def test_a_rising_ratio_is_only_watched() -> None:
    finding = the_one("ratio-rises")
    assert finding.severity == "watch"
    assert finding.number is not None
    assert finding.number > 0.60


def test_stroke_short_says_how_much_more_stroke() -> None:
    finding = the_one("stroke-short")
    study = study_of("stroke-short", "fires")
    travels = study.travels[0]
    assert travels is not None
    assert travels.range is not None
    assert travels.range.bump.why == "shock closed"
    assert finding.number == pytest.approx(travels.range.bump.travel - 0.055)


def test_damper_before_stop_needs_five_millimetres() -> None:
    assert the_one("damper-before-stop").number == pytest.approx(0.003)


def test_coils_touch_counts_what_is_left_of_the_stroke() -> None:
    # Closed at 200, coils touch at 196: 4 mm left of the 6.5 that a tenth of 65 mm of stroke asks.
    finding = the_one("coils-touch")
    assert finding.number == pytest.approx(0.004)
    assert finding.severity == "fix"


def test_a_rigid_axle_cannot_roll_and_its_twist_is_told() -> None:
    finding = the_one("cannot-roll")
    assert finding.severity == "stop"
    # 30 mm up and 30 mm down over a track of 900 mm: 60/900 rad = 3.8 deg.
    assert "3.8 deg" in finding.sentence
    assert "MPa" in finding.sentence


def test_an_axle_without_locator_is_not_held_sideways() -> None:
    finding = the_one("not-held")
    assert finding.severity == "stop"
    assert "drift sideways" in finding.sentence
    assert "lateral locator" in finding.sentence


def test_a_link_with_a_joint_in_its_middle_goes_nowhere() -> None:
    finding = the_one("link-not-rigid")
    assert finding.severity == "stop"
    assert finding.points == ("middle",)


def test_a_second_bar_holds_the_arm_fast() -> None:
    finding = the_one("cannot-move")
    assert finding.severity == "stop"
    assert finding.wheels == ("rear",)


def test_a_disturbed_solver_is_caught_and_its_answers_withheld(monkeypatch: pytest.MonkeyPatch) -> None:
    """One entry of the Jacobian off by a thousandth."""
    evaluate = kinematics.evaluate

    def disturbed(basis, state):  # type: ignore[no-untyped-def]
        pose = evaluate(basis, state)
        pose.residual_dq[:, 0, 0] *= 1.001
        return pose

    for module in ("closing", "path", "track", "sweep", "freedom", "sensitivity"):
        monkeypatch.setattr(f"leverwright.linkage.{module}.evaluate", disturbed, raising=False)
    study = Study(study_of("too-stiff", "near_miss").project)
    assert not study.back_check[0].holds
    assert [f.id for f in judge(study) if f.severity == "stop"][:1] == ["back-check"]
    assert study.answers["rear"].of["sag"].value is None
    assert "withheld" in (study.answers["rear"].of["sag"].because or "")
