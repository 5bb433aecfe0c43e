"""The same taped vehicle written otherwise gives the same answers, to 1e-6 of a unit of the contract."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

from leverwright import Project, Study

TEXT = (Path(__file__).parents[2] / "examples" / "taped-milk-cart.toml").read_text(encoding="utf-8")
HEAD, *TAPES = re.split(r"(?m)^(?=\[tape\.)", TEXT)


def figures(text: str) -> dict[str, tuple[float, float]]:
    """Every answer of the left wheel with its ±, in SI."""
    answers = Study(Project.from_text(text)).answers["rear-left"]
    every = {**answers.of, **answers.motion_ratio}
    return {n: (a.value, a.error) for n, a in every.items() if a.value is not None and a.error is not None}


@pytest.fixture(scope="module")
def written() -> dict[str, tuple[float, float]]:
    found = figures(TEXT)
    assert len(found) > 8
    return found


def alike(one: dict[str, tuple[float, float]], other: dict[str, tuple[float, float]]) -> None:
    assert one.keys() == other.keys()
    for name, (value, error) in one.items():
        assert other[name][0] == pytest.approx(value, rel=1e-7, abs=1e-9), name
        assert other[name][1] == pytest.approx(error, rel=1e-5), name


def test_tapes_in_another_order(written: dict[str, tuple[float, float]]) -> None:
    alike(written, figures(HEAD + "\n" + "\n".join(TAPES[::-1])))


def test_points_in_another_order(written: dict[str, tuple[float, float]]) -> None:
    lines = HEAD.split("\n")
    first = lines.index("[points]") + 1
    last = next(k for k in range(first, len(lines)) if not lines[k])
    alike(written, figures("\n".join([*lines[:first], *lines[first:last][::-1], *lines[last:], *TAPES])))


def test_ends_of_tapes_swapped(written: dict[str, tuple[float, float]]) -> None:
    alike(written, figures(re.sub(r'between = \["([^"]+)", "([^"]+)"\]', r'between = ["\2", "\1"]', TEXT)))


def test_readings_in_inches(written: dict[str, tuple[float, float]]) -> None:
    inches = re.sub(r"(?m)^reads = ([\d.]+)$", lambda m: f'reads = "{float(m[1]) / 25.4!r} in"', TEXT)
    assert inches.count(' in"') > 50
    alike(written, figures(inches))


def test_the_sketch_five_metres_away(written: dict[str, tuple[float, float]]) -> None:
    away = re.sub(
        r"sketch = \[(-?\d+), (-?\d+), (-?\d+)\]",
        lambda m: f"sketch = [{int(m[1]) + 5000}, {m[2]}, {int(m[3]) - 700}]",
        TEXT,
    )
    alike(written, figures(away))


def test_another_sketch_of_the_same_thing(written: dict[str, tuple[float, float]]) -> None:
    draw = np.random.default_rng(4)
    other = re.sub(
        r"sketch = \[(-?\d+), (-?\d+), (-?\d+)\]",
        lambda m: (
            "sketch = ["
            + ", ".join(f"{max(int(v), -999) + draw.integers(-15, 16)}" for v in m.groups())
            + "]"
        ),
        TEXT,
    )
    found = figures(other)
    for name, (value, error) in written.items():
        assert found[name][0] == pytest.approx(value, rel=1e-5, abs=1e-7), name
        assert found[name][1] == pytest.approx(error, rel=1e-3), name


def test_no_tapes_leave_the_very_same_project() -> None:
    project = Project.read(Path(__file__).parents[2] / "examples" / "gravity-racer.toml")
    study = Study(project)
    assert study.project is project
    assert study.measured.blocks == ()
    assert study.next_measurement == ()


def test_a_mark_on_no_body_is_a_mark_all_the_same(written: dict[str, tuple[float, float]]) -> None:
    unlisted = TEXT.replace('  "dot-a-left", "dot-b-left", "dot-c-left", "dot-d-left",\n', "")
    assert unlisted != TEXT
    alike(written, figures(unlisted))
