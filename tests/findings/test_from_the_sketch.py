"""Places that nothing measures give no sharp figures: the vehicles are those of the findings about tapes."""

from __future__ import annotations

import re

from leverwright import Study
from leverwright.project import Project
from leverwright.wire.answering import answers_of, quick_answers, said_answers
from tests.findings.vehicles import HERE

HELD = (HERE / "place-undetermined" / "near_miss.toml").read_text(encoding="utf-8")
HUNG = (HERE / "place-undetermined" / "fires.toml").read_text(encoding="utf-8")
SKETCHED = HUNG.replace('[tape.a-spring-eye]\nbetween = ["dot-a", "spring-eye"]\nreads = 335.5\n', "")


def test_a_sketched_place_is_named_beside_every_figure_that_hangs_on_it() -> None:
    study = Study(Project.from_text(SKETCHED))
    answers = answers_of(study).wheels["front"]
    for told in (answers.sag, answers.wheel_rate, answers.motion_ratio["shock"], answers.dead_centre_bump):
        assert told.value is not None
        assert told.error is None
        assert told.because == "from the sketch: spring-eye is not measured"
    said = [row for row in said_answers(study).wheels["front"] if not row.metric.startswith("cannot")]
    assert len(said) > 5
    for row in said:
        assert re.match(r"about [+-]?[\d.]+ ?\S* \(from the sketch", row.metric)
        assert row.inch.startswith("about ")
        assert "Here: from the sketch: spring-eye is not measured." in row.why


def test_a_place_on_one_tape_is_not_held() -> None:
    because = Study(Project.from_text(HUNG)).answers["front"].of["sag"].because
    assert because == "from the sketch: spring-eye is not held by what is measured"


def test_it_is_said_while_a_hole_is_dragged() -> None:
    _, said = quick_answers(Study(Project.from_text(SKETCHED), quick=True))
    assert any(row.metric.startswith("about ") for row in said.wheels["front"])


def test_held_places_are_said_as_sharply_as_they_are() -> None:
    study = Study(Project.from_text(HELD))
    assert study.answers["front"].of["sag"].because is None
    assert study.answers["front"].of["sag"].error is not None
    assert not any("sketch" in row.metric + row.why for row in said_answers(study).wheels["front"])


def test_without_heights_it_is_said_that_up_is_not_measured() -> None:
    parts = HELD.split("[tape.")
    text = "[tape.".join(part for part in parts if "-height]" not in part.split("\n")[0])
    because = Study(Project.from_text(text)).answers["front"].of["sag"].because
    assert because == "from the sketch: which way is up is not measured"


def test_a_mark_on_the_frame_that_nothing_measures_makes_no_answer_rough() -> None:
    text = HELD.replace("[points]\n", "[points]\nspare = { sketch = [400, 700] }\n", 1)
    text = text.replace('chassis = ["arm-pivot",', 'chassis = ["spare", "arm-pivot",', 1)
    study = Study(Project.from_text(text))
    assert any(loose.motion == "anywhere" for loose in study.measured.tapes.network.loose)
    assert study.answers["front"].of["sag"].because is None
