"""Is a number so far from the usual that a unit, a sign or a decimal point has slipped?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.words import both, length
from leverwright.study import Study

__all__ = ["number_unlikely"]

_NUMBERS: Final = "Can I trust my numbers?"
_BELOW_GROUND = 0.002  # m below the lowest tyre; a tape finds the floor no better (CP)
_FAR = 5.0  # m from the nearest other point (CP)
_LONG_BAR = 2.0  # m (CP)
_RADIUS = (0.030, 0.600)  # m of a wheel (CP)
_RATE = (500.0, 500e3)  # N/m of a spring (CP)
_SLIPS = "Look for a slip of unit, sign or decimal point; if it is right, leave it."


@finding("number-unlikely", question=_NUMBERS)
def number_unlikely(study: Study) -> tuple[Finding, ...]:
    """Is a place, a length, a radius or a rate outside what light vehicles have?"""
    return (*_places(study), *_bars(study), *_wheels(study), *_rates(study))


def _places(study: Study) -> Iterator[Finding]:
    project = study.project
    ground = min(
        (project.points[w.centre].at[2] - w.radius.value for w in project.wheels.values()), default=-math.inf
    )
    for point in project.points.values():
        if point.twin_of is not None:
            continue
        below = ground - point.at[2]
        if below > _BELOW_GROUND:
            yield _watch(
                f"{point.name} lies {length(study, below)} below the ground that the lowest tyre stands on.",
                below,
                point.name,
            )
        others = (other.at for other in project.points.values() if other.name != point.name)
        near = min((math.dist(point.at, at) for at in others), default=0.0)
        if near > _FAR:
            yield _watch(
                f"{point.name} lies {length(study, near)} from the nearest other point.", near, point.name
            )


def _bars(study: Study) -> Iterator[Finding]:
    points = study.project.points
    for bar in study.project.bars.values():
        long = math.dist(*(points[end].at for end in bar.ends)) if bar.length is None else bar.length.value
        if long > _LONG_BAR and bar.twin_of is None:
            yield _watch(f"Bar {bar.name} is {length(study, long)} long.", long, *bar.ends)


def _wheels(study: Study) -> Iterator[Finding]:
    for wheel in study.project.wheels.values():
        radius = wheel.radius.value
        if wheel.twin_of is None and not _RADIUS[0] <= radius <= _RADIUS[1]:
            yield _watch(f"Wheel {wheel.name} has a radius of {length(study, radius)}.", radius, wheel.centre)


def _rates(study: Study) -> Iterator[Finding]:
    for shock in study.project.shocks.values():
        if shock.rate is not None and not _RATE[0] <= shock.rate.value <= _RATE[1]:
            said = both(study, shock.rate.value, "stiffness")
            yield _watch(f"Shock {shock.name} has a rate of {said}.", shock.rate.value)


def _watch(sentence: str, number: float, *points: str) -> Finding:
    return Finding(
        "number-unlikely",
        "watch",
        _NUMBERS,
        f"{sentence} {_SLIPS}",
        "Usual: no point below the ground or over 5 m from the others, bars to 2 m, wheel radius 30 to 600 mm, "
        "rates 0.5 to 500 N/mm.",
        COMMON_PRACTICE,
        number,
        tuple(sorted(points)),
    )
