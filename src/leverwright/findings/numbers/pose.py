"""Do the shocks agree with the state in which the points were measured?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.numbers.unit_slip import unit_slip
from leverwright.findings.rows import Row, rows, together
from leverwright.findings.words import length, on_wheels, travel
from leverwright.project import Shock, Spring
from leverwright.study import Study

__all__ = ["shock_does_not_fit"]

_NUMBERS: Final = "Can I trust my numbers?"
_ROUNDING = 1e-5  # m; a length is drawn and typed to 0.01 mm
_HANGING_SHORT = 0.003  # m that a hanging wheel's shock may miss its open length by (CP)
_STANDING_OFF = 0.005  # m that a standing wheel may be from where its springs put it (CP)
_SIGMAS = 2.0


@finding("shock-does-not-fit", question=_NUMBERS)
def shock_does_not_fit(study: Study) -> tuple[Finding, ...]:
    """Can each shock be as long as it is drawn, in the state that the file states?"""
    if unit_slip(study) is not None:
        return ()  # nothing is drawn as long as it is
    found = [
        fault for spring, shock, drawn in _drawn(study) for fault in _beyond(study, spring, shock, drawn)
    ]
    if found:
        return tuple(found)
    if study.project.pose == "hanging":
        return tuple(_not_open(study))
    if study.project.pose == "standing":
        load_set = study.project.pose_load_set
        return tuple(_not_standing(study.sets.get(load_set or "", study)))
    return ()


def _drawn(study: Study) -> Iterator[tuple[Spring, Shock, float]]:
    """Each spring with its shock and its length [m] in the set-up pose."""
    points = study.project.points
    for spring in study.project.springs.values():
        if spring.ends is not None and spring.shock is not None:
            ends = (points[end].at for end in spring.ends)
            yield spring, study.project.shocks[spring.shock], math.dist(*ends)


def _beyond(study: Study, spring: Spring, shock: Shock, drawn: float) -> Iterator[Finding]:
    """A length that the shock cannot have."""
    open_, closed = shock.length_open.value, shock.length_closed.value
    if drawn > open_ + _ROUNDING:
        by, word, limit = drawn - open_, "longer than it is fully open", open_
    elif drawn < closed - _ROUNDING:
        by, word, limit = closed - drawn, "shorter than it is fully closed", closed
    else:
        return
    assert spring.ends is not None
    if spring.twin_of is not None:
        return
    yield Finding(
        "shock-does-not-fit",
        "stop",
        _NUMBERS,
        f"{_shock_of(spring)} is drawn {length(study, drawn)} long, {length(study, by)} {word} "
        f"({length(study, limit)}). Measure both eyes again, or the shock eye to eye; if it is drawn for a shock "
        "still to be bought, move the eye.",
        "Distance of the spring's two points in the set-up pose against the shock's own lengths.",
        "geometry",
        by,
        tuple(sorted(spring.ends)),
        0.0,
        _wheels_of(study, spring),
    )


def _shock_of(spring: Spring, the: str = "The") -> str:
    """The shock by the spring's name, told once where the name is shock itself."""
    return f"{the} shock" if spring.name == "shock" else f"{the} shock of {spring.name}"


def _not_open(study: Study) -> Iterator[Finding]:
    """Points taken with the wheels hanging: then each shock is fully open, unless a strap holds the wheel."""
    if study.project.straps:
        return
    for spring, shock, drawn in _drawn(study):
        short = shock.length_open.value - drawn
        spread = _SIGMAS * (_stated_error(study) * math.sqrt(2) + (shock.length_open.error or 0.0))
        if short <= _HANGING_SHORT + spread or spring.twin_of is not None or spring.ends is None:
            continue
        yield Finding(
            "shock-does-not-fit",
            "fix",
            _NUMBERS,
            f"Measured hanging, {_shock_of(spring, 'the')} should be fully open, {length(study, drawn + short)}; "
            f"as drawn it is {length(study, short)} shorter. Either the wheel was not hanging or an eye is "
            "measured wrong: tape the shock eye to eye while it hangs.",
            "A hanging wheel pulls its shock open. Allowed: "
            f"{length(study, _HANGING_SHORT)} and two standard deviations of measuring.",
            COMMON_PRACTICE,
            short,
            tuple(sorted(spring.ends)),
            0.0,
            _wheels_of(study, spring),
        )


def _not_standing(study: Study) -> Iterator[Finding]:
    """Points taken standing: then the springs, so long, carry just what the scale reads."""
    off: list[tuple[tuple[str, ...], float]] = []
    for row in rows(study):
        for column, wheel in enumerate(row.wheels):
            at = float(row.standing.heights[column])
            error = 0.0 if row.errors is None else float(row.errors.value["standing_travel"][column])
            spread = _SIGMAS * error if math.isfinite(error) else 0.0
            if math.isfinite(at) and abs(at) > _STANDING_OFF + spread:
                off.append(((wheel,), at))
    for wheels, at in together(off):
        more = "less" if at > 0 else "more"
        yield Finding(
            "shock-does-not-fit",
            "fix",
            _NUMBERS,
            f"The points say that it stood as drawn, the springs say {travel(study, at)} from there "
            f"{on_wheels(wheels)}: as drawn the spring pushes {more} than the load on the "
            "scale asks. Check who sat in it, the rate and preload, and the shock's length while it stands.",
            "Set-up pose against the equilibrium of load and springs. Allowed: "
            f"{length(study, _STANDING_OFF)} and two standard deviations.",
            COMMON_PRACTICE,
            at,
            travel=at,
            wheels=wheels,
        )


def _stated_error(study: Study) -> float:
    return study.project.error or 0.0


def _wheels_of(study: Study, spring: Spring) -> tuple[str, ...]:
    """Wheels of the assembly that the spring acts in."""
    here: list[Row] = [row for row in rows(study) if spring.name in row.sprung.assembly.layout.line_names]
    return tuple(wheel for row in here for wheel in row.wheels)
