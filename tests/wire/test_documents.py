"""The documents of real vehicles: as the contract says, and page and terminal in agreement."""

from __future__ import annotations

import json
import math
from pathlib import Path

import jsonschema
import pytest

from leverwright import Project, Study
from leverwright.findings import judge, with_remedies
from leverwright.project import Draft
from leverwright.project.archetypes import write_archetype
from leverwright.quantity import in_inches
from leverwright.wire.answering import answers_of, quick_answers, said_answers
from leverwright.wire.cycling import cycle_document
from leverwright.wire.judging import check_document, shown_findings
from leverwright.wire.schema import generated
from leverwright.wire.strict import compact, printed
from leverwright.wire.sweeping import modes_of, sweep_of
from leverwright.wire.working import Judged, kept_workspace, next_step, workspace_of

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
_SCHEMA = {name: json.loads(generated()[f"docs/reference/schema/{name}.json"]) for name in ("check", "cycle")}


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def study(request):
    return Study(Project.read(request.param))


def test_check_is_whole_and_as_its_schema_says(study):
    document = json.loads(printed(check_document(study, judge(study))))
    jsonschema.validate(document, _SCHEMA["check"])
    assert list(document) == ["leverwright", "title", "answers", "findings"]
    assert list(document["answers"]["wheels"]) == list(study.project.wheels)
    for finding in document["findings"]:
        assert finding["where"]["points"] == sorted(finding["where"]["points"])
        assert set(finding["where"]["points"]) <= set(study.project.points)
    for wheel in document["answers"]["wheels"].values():
        for answer in (*wheel["motion_ratio"].values(), *(a for a in wheel.values() if "unit" in a)):
            assert (answer["value"] is not None and answer["error"] is not None) or answer["because"]


def test_cycle_is_whole_and_as_its_schema_says(study):
    for mode in ("heave", "roll", *study.project.wheels):
        cycles = study.cycle(mode)
        document = json.loads(printed(cycle_document(study, cycles)))
        jsonschema.validate(document, _SCHEMA["cycle"])
        assert len(document["assemblies"]) + len(document.get("left_out", ())) == len(cycles)
        flat = 2 if study.project.plane else 3
        for assembly in document["assemblies"]:
            assert len(assembly["poses"]) in (0, 41)
            for pose in assembly["poses"]:
                assert set(pose["travel_mm"]) == set(pose["wheels"]) == set(assembly["wheels"])
                assert all(len(place) == flat for place in pose["points_mm"].values())
                assert set(pose["bars_n"]) <= set(study.project.bars)
                assert not set(pose["springs"]) & set(study.project.straps)


def test_the_sweep_of_the_page_is_the_cycle_of_the_terminal(study):
    cycle = cycle_document(study, study.cycle())
    sweep = sweep_of(study, "heave")
    for one, other in zip(cycle.assemblies, sweep.assemblies, strict=True):
        assert one.wheels == other.wheels
        for at, pose in enumerate(one.poses):
            for wheel, travel in pose.travel_mm.items():
                assert travel == pytest.approx(other.travel_mm[wheel][at], abs=1e-6)  # rounded to 1e-6
            for name, spring in pose.springs.items():
                if spring.length_mm is not None:
                    assert spring.length_mm == pytest.approx(other.springs[name].length_mm[at], abs=1e-6)
                    assert spring.force_n == pytest.approx(other.springs[name].force_n[at], abs=1e-6)
            for name, place in pose.points_mm.items():
                if name in other.points_mm and len(place) == 3:
                    assert place == pytest.approx(other.points_mm[name][3 * at : 3 * at + 3], abs=1e-6)


def test_points_that_stand_still_are_not_sent(study):
    chassis = set(study.project.bodies["chassis"].points)
    for assembly in sweep_of(study, "heave").assemblies:
        assert not set(assembly.points_mm) & chassis


def test_bars_keep_their_length_in_what_is_printed(study):
    """Measured again from the printed places: proves that names and places belong together."""
    for assembly in cycle_document(study, study.cycle()).assemblies:
        for pose in assembly.poses[:: max(1, len(assembly.poses) // 5)]:
            for name in pose.bars_n:
                bar = study.project.bars[name]
                if all(end in pose.points_mm for end in bar.ends):
                    places = [study.project.points[end].at for end in bar.ends]
                    length = math.dist(*places) if bar.length is None else bar.length.value
                    assert math.dist(*(pose.points_mm[end] for end in bar.ends)) == pytest.approx(
                        1000 * length, abs=1e-6
                    )


def test_the_page_says_the_answers_of_the_terminal(study):
    answers, said = answers_of(study), said_answers(study)
    quick, quick_said = quick_answers(study)
    for wheel, told in answers.wheels.items():
        assert told.sag.value == quick.wheels[wheel].sag.value
        assert quick.wheels[wheel].sag.error is None
        keys = [each.key for each in said.wheels[wheel]]
        assert "sag" in keys
        assert keys == sorted(keys, key=keys.index)
        assert {each.key for each in quick_said.wheels[wheel]} <= {*keys, "heave_ratio", "heave_rate"}
        for each in said.wheels[wheel]:
            assert each.metric
            assert each.inch
            assert "nan" not in (each.metric + each.inch).lower().split()


def test_one_wheel_alone_is_told_once_and_two_on_one_axle_twice():
    def labels(kind):
        written = Study(Project.from_text(write_archetype(kind, {}), name=kind))
        return [said.label for said in next(iter(said_answers(written).wheels.values()))]

    alone, axle = labels("trailing-arm"), labels("beam-axle")
    assert alone.count("Spring per wheel") == alone.count("Wheel rate") == 1
    assert not [label for label in alone if "together" in label]
    assert {"Spring per wheel, together", "Wheel rate, together", "Wheel rate"} <= set(axle)


def test_the_workspace_is_one_strict_document(study):
    text = study.project.text
    draft = Draft.from_text(text, "cart.toml")
    found = judge(study)
    sweeps = {mode: sweep_of(study, mode) for mode in modes_of(study)}
    shown = kept_workspace(workspace_of(draft, Judged(study, found), sweeps), text, "r", (True, False))
    workspace = json.loads(compact(shown))
    assert (workspace["can_undo"], workspace["can_redo"], workspace["revision"]) == (True, False, "r")
    assert set(workspace["cycles"]) == {"heave", "roll", *(f"wheel:{name}" for name in study.project.wheels)}
    assert workspace["text"] == text
    assert list(workspace["drawing"]["points"]) == list(study.project.points)
    assert workspace["next"]["do"] == next_step(draft, found).do
    assert len(workspace["findings"]) == len(found)


def test_a_workspace_whose_study_broke_down_shows_the_vehicle_and_says_so():
    draft = Draft.from_text(EXAMPLES[0].read_text(), "cart.toml")
    workspace = workspace_of(draft, None, {}, failed=True)
    assert workspace.drawing.points
    assert "failed inside" in workspace.faults[0].sentence
    assert workspace.answers is None


def test_findings_are_shown_with_their_edits_and_in_inches():
    for path in EXAMPLES:
        study = Study(Project.read(path))
        for shown in shown_findings(
            with_remedies(study, judge(study)) if path is EXAMPLES[0] else judge(study)
        ):
            assert shown.sentence_inch == in_inches(shown.sentence)
            for remedy in shown.remedies:
                assert remedy.ops
                assert remedy.do_inch == in_inches(remedy.do)
