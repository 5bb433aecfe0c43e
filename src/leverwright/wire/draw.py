"""Fills the drawing from what could be read of a vehicle, half made ones too."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from msgspec import UNSET

from leverwright.project import Point, Sketch
from leverwright.quantity import to_surface
from leverwright.wire.drawing import (
    Drawing,
    DrawnBar,
    DrawnBody,
    DrawnHeld,
    DrawnPoint,
    DrawnShock,
    DrawnSpring,
    DrawnStrap,
    DrawnWheel,
)

__all__ = ["drawing_of"]

_Place = tuple[float, float, float]


def drawing_of(sketch: Sketch, solved: Mapping[str, Point] | None = None) -> Drawing:
    """Everything that leads somewhere; what names a missing point or body is left out.

    solved  points whose places were measured by tapes; None where there are none
    """
    drawn = sketch if solved is None else replace(sketch, points=solved)
    return Drawing(
        points=_points(drawn, sketch.points),
        bodies={
            name: DrawnBody([point for point in body.points if point in drawn.points], body.twin_of)
            for name, body in drawn.bodies.items()
        },
        bars=_bars(drawn),
        springs=_springs(drawn),
        straps={
            name: DrawnStrap(strap.ends, _mm(strap.length.value), strap.twin_of)
            for name, strap in drawn.straps.items()
            if _known(drawn, *strap.ends)
        },
        held=_held(drawn),
        wheels={
            name: DrawnWheel(
                wheel.body,
                wheel.centre,
                wheel.axis if wheel.axis and _known(drawn, *wheel.axis) else None,
                _mm(wheel.radius.value),
                None if wheel.load is None else wheel.load.value,
                wheel.twin_of,
            )
            for name, wheel in drawn.wheels.items()
            if _known(drawn, wheel.centre)
        },
        shocks={
            name: DrawnShock(_mm(shock.length_open.value), _mm(shock.length_closed.value))
            for name, shock in drawn.shocks.items()
        },
    )


def _mm(length: float) -> float:
    return to_surface(length, "length")


def _place(at: _Place) -> _Place:
    return _mm(at[0]), _mm(at[1]), _mm(at[2])


def _known(sketch: Sketch, *points: str) -> bool:
    return all(point in sketch.points for point in points)


def _points(sketch: Sketch, written: Mapping[str, Point]) -> dict[str, DrawnPoint]:
    carriers: dict[str, list[str]] = {name: [] for name in sketch.points}
    for body in sketch.bodies.values():
        for carried in body.points:
            if carried in carriers:
                carriers[carried].append(body.name)
    shown: dict[str, DrawnPoint] = {}
    for name, point in sketch.points.items():
        rough = written[name].sketched
        error = sketch.error if point.error is None else point.error
        if rough:  # what the file says of coordinates is not said of it
            error = max((each for each in point.errors if each is not None), default=None)
        shown[name] = DrawnPoint(
            _place(point.at),
            carriers[name],
            point.twin_of,
            None if error is None else _mm(error),
            point.alone,
            True if rough else UNSET,
        )
    return shown


def _bars(sketch: Sketch) -> dict[str, DrawnBar]:
    shown: dict[str, DrawnBar] = {}
    for name, bar in sketch.bars.items():
        if not _known(sketch, *bar.ends):
            continue
        drawn = math.dist(*(sketch.points[end].at for end in bar.ends))
        length = drawn if bar.length is None else bar.length.value
        adjust = None if bar.adjust is None else (_mm(bar.adjust[0]), _mm(bar.adjust[1]))
        shown[name] = DrawnBar(bar.ends, _mm(length), _mm(drawn), adjust, bar.twin_of)
    return shown


def _springs(sketch: Sketch) -> dict[str, DrawnSpring]:
    shown: dict[str, DrawnSpring] = {}
    for name, spring in sketch.springs.items():
        ends = spring.ends if spring.ends and _known(sketch, *spring.ends) else None
        hinge = spring.hinge if spring.hinge and set(spring.hinge) <= set(sketch.bodies) else None
        if ends or hinge:
            shock = spring.shock if spring.shock in sketch.shocks else None
            shown[name] = DrawnSpring(ends, shock, hinge, spring.twin_of)
    return shown


def _held(sketch: Sketch) -> dict[str, DrawnHeld]:
    shown: dict[str, DrawnHeld] = {}
    for name, held in sketch.held.items():
        if held.point is not None:
            low, high = (_mm(end) for end in held.range)
            if _known(sketch, held.point):
                shown[name] = DrawnHeld(held.point, held.along, None, (low, high), held.twin_of)
        elif held.bodies is not None and set(held.bodies) <= set(sketch.bodies):
            low, high = (to_surface(end, "angle") for end in held.range)
            shown[name] = DrawnHeld(None, None, held.bodies, (low, high), held.twin_of)
    return shown
