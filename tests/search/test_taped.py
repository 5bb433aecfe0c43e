"""Remedies for a vehicle that was taped: what is edited are readings, and the file still holds together."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest

from leverwright import Project, Study
from leverwright.findings.judge import judge, with_remedies
from leverwright.project import edit

RACER = Path(__file__).parents[2] / "examples" / "gravity-racer.toml"
DOTS = {"dot-a": (60, 230), "dot-b": (30, 640), "dot-c": (300, 650), "dot-d": (360, 330)}


def taped_racer() -> str:
    """The example, whose arms are reversed, as tapes to four dots instead of coordinates; readings to 0.1 mm."""
    project = Project.read(RACER)
    at = {name: (1e3 * point.at[0], 1e3 * point.at[2]) for name, point in project.points.items()} | DOTS
    head, _, rest = RACER.read_text(encoding="utf-8").partition("[points]")
    marks = ", ".join(f'"{name}"' for name in DOTS)
    body = rest[rest.index("[bodies]") :].replace('"spring-eye"]', f'"spring-eye", {marks}]', 1)
    sketches = [f"{n} = {{ sketch = [{round(x, -1):g}, {round(z, -1) + 10:g}] }}" for n, (x, z) in at.items()]
    pairs = [(a, b) for a in DOTS for b in at if b not in DOTS or a < b]
    tapes = [
        f'[tape.{a}-{b}]\nbetween = ["{a}", "{b}"]\nreads = {math.dist(at[a], at[b]):.1f}' for a, b in pairs
    ]
    tapes += [f'[tape.{n}-height]\nheight = "{n}"\nreads = {at[n][1]:.1f}' for n in ("dot-a", "dot-d", "hub")]
    head = re.sub(r"(?m)^error = .*$", "tape_error = 0.5", head)
    return "\n".join([head, "[points]", *sketches, body, *tapes, ""])


@pytest.fixture(scope="module")
def racer() -> Study:
    return Study(Project.from_text(taped_racer()))


def test_it_has_the_remedies_of_the_drawn_one(racer: Study) -> None:
    drawn = Study(Project.read(RACER))
    told = [
        {f.id: [len(f.remedies)] for f in with_remedies(s, judge(s)) if f.remedies} for s in (racer, drawn)
    ]
    assert told[0].keys() == told[1].keys()
    assert "arms-reversed" in told[0]


def test_each_remedy_done_to_the_file_cures_and_moves_nothing_else(racer: Study) -> None:
    remedies = [(f.id, r) for f in with_remedies(racer, judge(racer)) for r in f.remedies]
    taped = [(name, r) for name, r in remedies if any(op["key"][0] == "tape" for op in r.ops)]
    assert taped
    for name, remedy in taped:
        text = edit.apply(racer.file.text, list(remedy.ops), name="racer")
        after = Study(Project.from_text(text))
        assert name not in {finding.id for finding in judge(after)}
        assert after.measured.tapes is not None
        assert not after.measured.tapes.network.suspects
        moved = {op["key"][1] for op in remedy.ops if op["key"][0] == "points"}
        for point in racer.project.points.values():
            apart = math.dist(point.at, after.project.points[point.name].at)
            # Readings are rounded to 0.1 mm; a place that moves does so by more than a drill's width.
            assert apart > 2e-3 if point.name in moved else apart < 0.3e-3, point.name


def test_a_drawn_file_keeps_its_edits(racer: Study) -> None:
    drawn = Study(Project.read(RACER))
    for finding in with_remedies(drawn, judge(drawn)):
        for remedy in finding.remedies:
            assert all(op["key"][0] != "tape" for op in remedy.ops)
