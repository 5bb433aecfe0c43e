"""Do left and right agree where they should mirror: places, link lengths, loads?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Final, Literal, TypeVar

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.words import both, length
from leverwright.project import Bar, Point
from leverwright.study import Study

__all__ = ["sides_differ"]

_NUMBERS: Final = "Can I trust my numbers?"
_PLACE = 0.005  # m between a point and its mirrored twin (CP) …
_LENGTH = 0.002  # m between a bar and its twin: a turn or two of a rod end (CP)
_SIGMAS = 3.0  # … and so many standard deviations: then it is no reading error
_LOAD = 0.10  # share that the loads of a pair may differ by (CP)
_T = TypeVar("_T")


@finding("sides-differ", question=_NUMBERS)
def sides_differ(study: Study) -> tuple[Finding, ...]:
    """Is one side built or measured otherwise than the other?"""
    return (*_places(study), *_bars(study), *_loads(study))


def _pairs(table: Mapping[str, _T]) -> Iterator[tuple[str, _T, str, _T]]:
    """What ends in -left with its namesake on the right."""
    for name, left in table.items():
        twin = f"{name.removesuffix('-left')}-right"
        if name.endswith("-left") and twin in table:
            yield name, left, twin, table[twin]


def _places(study: Study) -> Iterator[Finding]:
    for left_name, left, right_name, right in _pairs(study.project.points):
        if right.twin_of is not None:
            continue
        apart = math.dist(left.at, (right.at[0], -right.at[1], right.at[2]))
        if apart > max(_PLACE, _SIGMAS * _spread(study, left, right)):
            yield _finding(
                "fix",
                f"{left_name} and {right_name} should mirror each other and are {length(study, apart)} apart. "
                "Measure both again from the same datum; if the frame is really so, leave it.",
                apart,
                (left_name, right_name),
            )


def _spread(study: Study, left: Point, right: Point) -> float:
    """One standard deviation [m] of the distance between a point and its mirrored twin."""
    each = [study.project.error if e is None else e for e in (*left.errors, *right.errors)]
    return math.hypot(*(e or 0.0 for e in each))


def _bars(study: Study) -> Iterator[Finding]:
    for left_name, left, right_name, right in _pairs(study.project.bars):
        if right.twin_of is not None and left.length is None and right.length is None:
            continue
        lengths = _set_length(study, left), _set_length(study, right)
        apart = abs(lengths[0] - lengths[1])
        if apart > _LENGTH:
            yield _finding(
                "fix",
                f"{left_name} is {length(study, lengths[0])} long and {right_name} {length(study, lengths[1])}: set "
                "them alike, or measure their ends again.",
                apart,
                (*left.ends, *right.ends),
            )


def _set_length(study: Study, bar: Bar) -> float:
    if bar.length is not None:
        return bar.length.value
    return math.dist(*(study.project.points[end].at for end in bar.ends))


def _loads(study: Study) -> Iterator[Finding]:
    for left_name, left, right_name, right in _pairs(study.project.wheels):
        if left.load is None or right.load is None:
            continue
        loads = left.load.value, right.load.value
        share = abs(loads[0] - loads[1]) / (0.5 * sum(loads))
        if share > _LOAD and abs(loads[0] - loads[1]) > 2.0 * _apart_error(study, (left_name, right_name)):
            said = [both(study, load, "mass") for load in loads]
            yield _finding(
                "watch",
                f"{left_name} carries {said[0]} and {right_name} {said[1]}, {100 * share:.0f} % apart: weigh again "
                "with all wheels level and the rider in the middle, or expect it to lean.",
                share,
                (left.centre, right.centre),
            )


def _apart_error(study: Study, wheels: tuple[str, str]) -> float:
    """One standard deviation [kg] of the difference of two wheels' loads; what errs together is taken together."""
    for block in study.measured.blocks:
        columns = [
            k for k, name in enumerate(block.inputs) if name in (("load", wheels[0]), ("load", wheels[1]))
        ]
        if len(columns) == 2:
            mine = block.covariance[columns][:, columns]
            return math.sqrt(max(0.0, float(mine[0, 0] + mine[1, 1] - 2.0 * mine[0, 1])))
    loads = (study.project.wheels[wheel].load for wheel in wheels)
    return math.hypot(*(0.0 if load is None else load.error or 0.0 for load in loads))


def _finding(
    severity: Literal["fix", "watch"], sentence: str, number: float, points: tuple[str, ...]
) -> Finding:
    return Finding(
        "sides-differ",
        severity,
        _NUMBERS,
        sentence,
        "Left against mirrored right. Allowed: 5 mm and three standard deviations for places, 2 mm for links, 10 % "
        "for loads.",
        COMMON_PRACTICE,
        number,
        tuple(sorted(points)),
    )
