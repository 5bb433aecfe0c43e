"""The next thing to do is one short line; a figure that is no number is null with a reason."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from leverwright import Study
from leverwright.findings import Finding
from leverwright.project import Draft
from leverwright.ride.answers import Answer
from leverwright.search.remedy import Effort, Remedy
from leverwright.wire.answering import _answer, _said
from leverwright.wire.working import Judged, next_step, values_of, workspace_of

FOUND = Path(__file__).parents[1] / "findings"
WHOLE = Draft.from_text("", "cart.toml")


def finding(severity, remedies=()):
    return Finding(
        "dead-centre-near",
        severity,
        "Does it lock or bind?",
        "A long sentence. " * 20,
        "why",
        "source",
        remedies=remedies,
    )


def without_faults():
    return Draft(WHOLE.name, "", (), (), WHOLE.sketch, None)


def test_what_is_missing_comes_first():
    step = next_step(WHOLE, (finding("stop"),))
    assert step.question is None
    assert 0 < len(step.do) <= 70


def test_a_stop_comes_before_a_fix_and_its_first_remedy_is_named():
    swap = Remedy("Swap the arms of rocker", Effort(20, "spanner"), "5 mm", "26 mm", ())
    found = (finding("fix"), finding("stop", (swap,)))
    step = next_step(without_faults(), found)
    assert (step.do, step.takes, step.question) == (
        "Swap the arms of rocker",
        "20 min, spanner",
        "Does it lock or bind?",
    )


@pytest.mark.parametrize(
    ("sentence", "foot"),
    [
        (
            "It bounces 1.41 Hz on wheel front, which is slow: it wallows and sinks far. A ratio would do.",
            "Read why: It bounces 1.41 Hz on wheel front, which is slow",
        ),
        (
            "rocker has its link hole 120 mm and its spring hole 32 mm from the pivot on wheel rear.",
            "Read why: rocker has its link hole 120 mm and its spring hole 32 mm …",
        ),
        ("Nothing holds it.", "Read why: Nothing holds it"),
    ],
)
def test_without_a_remedy_the_foot_opens_the_findings_own_sentence(sentence, foot):
    step = next_step(without_faults(), (replace(finding("fix"), sentence=sentence),))
    assert step.do == foot
    assert len(step.do) <= 70


def test_when_nothing_is_wrong_it_is_made():
    assert next_step(without_faults(), (finding("good"), finding("watch"))).question == "Can it be made?"


def test_a_figure_that_is_no_number_is_null_with_a_reason():
    for value in (None, math.nan, math.inf):
        told = _answer("sag", Answer(value, "length"))
        assert (told.value, told.error) == (None, None)
        assert told.because
        assert "cannot be said" in _said("sag", None, Answer(value, "length", because="no load")).metric
    assert _answer("sag", Answer(0.03, "length", math.nan)).because


def test_figures_come_in_the_units_of_the_contract():
    """By hand: 0.03 m is 30 mm, 0.35 is 35 %, pi/180 N m/rad a degree is 1 over it, rad/m is 0.0573 deg/mm."""
    assert _answer("sag", Answer(0.03, "length", 0.001)).value == 30.0
    assert math.isclose(_answer("sag_percent", Answer(0.35, "percent")).value, 35.0)
    assert math.isclose(_answer("roll_rate", Answer(180 / math.pi, "torsion")).value, 1.0)
    twist = _answer("motion_ratio", Answer(1.0, "ratio", per_metre=True))
    assert (twist.unit, round(twist.value, 5)) == ("deg/mm", 0.0573)


def test_values_of_a_file_are_json_whatever_stands_in_it():
    text = f"a = nan\nb = -inf\nc = 1979-05-27T07:32:00Z\nd = {2**60}\ne = [[1, 2.5, true], {{ f = 'x' }}]\n"
    assert values_of(text, "x") == {
        "a": "nan", "b": "-inf", "c": "1979-05-27 07:32:00+00:00", "d": str(2**60), "e": [[1, 2.5, True], {"f": "x"}],
    }  # fmt: skip
    assert values_of("a = ", "x") == {}


def test_points_are_drawn_where_the_tapes_put_them_and_told_from_measured_ones():
    text = (FOUND / "tapes-disagree" / "near_miss.toml").read_text(encoding="utf-8")
    draft = Draft.from_text(text)
    study = Study(draft.project)
    drawn = workspace_of(draft, Judged(study, None), {}).drawing
    assert drawn.points["hub"].at[0] == pytest.approx(1000 * study.project.points["hub"].at[0])
    assert drawn.points["hub"].at[0] != 1000 * draft.sketch.points["hub"].at[0]
    assert drawn.points["hub"].sketched is True
    assert drawn.points["hub"].error_mm == pytest.approx(1.5, abs=1.4)
    ends = [study.project.points[point].at for point in ("arm-tab", "link-hole")]
    assert drawn.bars["link"].drawn_mm == pytest.approx(1000 * math.dist(*ends))
    assert (
        workspace_of(draft, None, {}).drawing.points["hub"].at[0] == 1000 * draft.sketch.points["hub"].at[0]
    )
