"""Left and right: what has the same shape is cut and drilled as one stack."""

from __future__ import annotations

from itertools import combinations
from math import dist

from leverwright.make.numbers import in_millimetres
from leverwright.make.parts import SAME_PART
from leverwright.project import Bar, Body, Project

__all__ = [
    "bar_goes_with_original",
    "bar_length",
    "goes_with_original",
    "same_bars",
    "same_bodies",
    "twin_notes",
]

# Points of a body that are compared: more than any part that is cut flat has.
_COMPARED = 24


def goes_with_original(project: Project, body: Body) -> bool:
    """Is the body a twin of the same shape, so that its original's template serves it too?"""
    original = project.bodies.get(body.twin_of or "")
    return original is not None and _worst_difference(project, original, body) <= SAME_PART


def same_bodies(project: Project, body: Body) -> tuple[str, ...]:
    """Names of the body's twins that have its shape."""
    twins = [other for other in project.bodies.values() if other.twin_of == body.name]
    return tuple(twin.name for twin in twins if goes_with_original(project, twin))


def twin_notes(project: Project, body: Body, same: tuple[str, ...]) -> tuple[str, ...]:
    """What the sheet says of a twin: the same turned over, or how far they differ."""
    if same:
        return (f"{same[0]} is the same plate turned over.",)
    original = project.bodies.get(body.twin_of or "")
    if original is None:
        return ()
    worst = in_millimetres(_worst_difference(project, original, body), 2)
    return (f"Not the same as {original.name}: hole distances differ by up to {worst}. Do not stack them.",)


def bar_goes_with_original(project: Project, bar: Bar) -> bool:
    """Is the bar a twin of the same length?"""
    original = project.bars.get(bar.twin_of or "")
    return original is not None and abs(bar_length(project, original) - bar_length(project, bar)) <= SAME_PART


def same_bars(project: Project, bar: Bar) -> tuple[str, ...]:
    """Names of the bar's twins that have its length."""
    twins = [other for other in project.bars.values() if other.twin_of == bar.name]
    return tuple(twin.name for twin in twins if bar_goes_with_original(project, twin))


def bar_length(project: Project, bar: Bar) -> float:
    """Hole to hole, m: as stated, else as drawn."""
    if bar.length is not None:
        return bar.length.value
    return dist(project.points[bar.ends[0]].at, project.points[bar.ends[1]].at)


def _worst_difference(project: Project, body: Body, twin: Body) -> float:
    """Largest difference [m] between hole distances of two bodies whose points stand in one order."""
    if len(body.points) != len(twin.points):
        return float("inf")
    worst = 0.0
    for i, j in combinations(range(min(len(body.points), _COMPARED)), 2):
        here = dist(project.points[body.points[i]].at, project.points[body.points[j]].at)
        there = dist(project.points[twin.points[i]].at, project.points[twin.points[j]].at)
        worst = max(worst, abs(here - there))
    return worst
