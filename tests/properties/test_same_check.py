"""The same vehicle over the whole of `check`: answers, their ± and which findings fire, however the file is written."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from leverwright import Project, Study
from leverwright.findings import judge
from leverwright.wire.judging import check_document
from leverwright.wire.strict import printed
from tests.properties import drawn
from tests.properties.drawn import File
from tests.properties.spoilt import NAMES

# Figures are compared at 1e-6, in their own units of mm, %, N/mm, Hz, deg.
SAME = 1e-6


def moved_ahead_and_up(file: File) -> File:
    """5 m forward, as the promise has it, and up; the centre plane stays y = 0, for it says left and right."""
    return drawn.with_places(file, lambda _, at: [at[0] + 5000.0, *at[1:-1], at[-1] + 40.0])


WAYS: list[Callable[[File], File]] = [
    drawn.bars_swapped,
    drawn.tables_reversed,
    drawn.in_other_units,
    moved_ahead_and_up,
]


def checked(file: File) -> dict[str, Any]:
    study = Study(Project.from_text(drawn.as_text(file), name="same.toml"))
    document: dict[str, Any] = json.loads(printed(check_document(study, judge(study))))
    return document


def leaves(value: Any, path: str = "") -> dict[str, Any]:
    if isinstance(value, dict):
        return {p: leaf for key, inner in value.items() for p, leaf in leaves(inner, f"{path}/{key}").items()}
    return {path: value}


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("way", WAYS, ids=lambda way: way.__name__)
def test_answers_and_findings_are_the_same(name, way):
    file = drawn.base(name)
    for wheel in file["wheels"].values():
        wheel["tyre"] = 95
    one, other = checked(file), checked(way(file))
    mine, theirs = leaves(one["answers"]), leaves(other["answers"])
    assert mine.keys() == theirs.keys()
    for path, leaf in mine.items():
        expected = (
            pytest.approx(theirs[path], rel=SAME, abs=SAME) if isinstance(leaf, float) else theirs[path]
        )
        assert leaf == expected, path
    assert sorted((f["id"], f["severity"]) for f in one["findings"]) == sorted(
        (f["id"], f["severity"]) for f in other["findings"]
    )
