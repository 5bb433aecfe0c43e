"""Is there shock enough for the wheel's travel, and does it end softly?"""

from __future__ import annotations

from typing import Final

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.rows import Row, rows, together
from leverwright.findings.words import in_words, length, on_wheels
from leverwright.project import Shock
from leverwright.study import Study

__all__ = ["coils_touch", "damper_before_stop", "stroke_short"]

_MOVES: Final = "Does it move?"
_STOP_LEFT = 0.005  # m a bump stop must have before the damper is solid (CP)
_COILS_LEFT = 0.10  # share of the spring's travel that must be left before its coils touch (CP)


@finding("stroke-short", question=_MOVES)
def stroke_short(study: Study) -> tuple[Finding, ...]:
    """Does a shock run out of stroke before the wheel has the travel that was asked for?"""
    goals = study.project.goals
    found = []
    for way, wanted in (("bump", goals.travel_bump), ("droop", goals.travel_droop)):
        short: list[tuple[tuple[str, ...], float]] = []
        for row in rows(study):
            there = _travel(row, way)
            if wanted is not None and there is not None and there < wanted - 1e-6:
                short.append((row.wheels, there))
        found += [
            _short(study, wheels, way, there, wanted)
            for wheels, there in together(short)
            if wanted is not None
        ]
    return tuple(found)


def _travel(row: Row, way: str) -> float | None:
    """Travel [m] to the end that a shock makes that way; None when something else ends it."""
    if row.travels is None or row.travels.range is None:
        return None
    stop = row.travels.range.bump if way == "bump" else row.travels.range.droop
    if not stop.why.startswith("shock"):
        return None
    return stop.travel if way == "bump" else -stop.travel


def _short(study: Study, wheels: tuple[str, ...], way: str, there: float, wanted: float) -> Finding:
    done = "closed" if way == "bump" else "open"
    return Finding(
        "stroke-short",
        "fix",
        _MOVES,
        f"The shock is fully {done} after {length(study, max(there, 0.0))} of {way} {on_wheels(wheels)}; "
        "you asked for "
        f"{length(study, wanted)}. Find a shock with more stroke, or give it a smaller ratio: it needs "
        f"{wanted / max(there, 1e-3):.2f} times the stroke that way, or the ratio divided by as much.",
        "Wheel travel = stroke / ratio, from the set-up pose.",
        "geometry",
        there - wanted,
        wheels=wheels,
        travel=there if way == "bump" else -there,
    )


def _used(study: Study) -> list[tuple[Shock, list[str]]]:
    springs = study.project.springs.values()
    return [
        (shock, [s.name for s in springs if s.shock == shock.name])
        for shock in study.project.shocks.values()
        if any(s.shock == shock.name for s in springs)
    ]


@finding("damper-before-stop", question=_MOVES)
def damper_before_stop(study: Study) -> tuple[Finding, ...]:
    """Is the damper solid before its bump stop has done its work?"""
    return tuple(
        _solid(study, shock, springs, shock.stop.touches.value)
        for shock, springs in _used(study)
        if shock.stop is not None and shock.stop.touches.value < _STOP_LEFT
    )


def _solid(study: Study, shock: Shock, springs: list[str], left: float) -> Finding:
    return Finding(
        "damper-before-stop",
        "fix",
        _MOVES,
        f"The bump stop of {shock.name} ({in_words(springs)}) touches only {length(study, left)} before "
        "the damper is solid: metal "
        f"meets metal. Use a stop that touches at least {length(study, _STOP_LEFT)} before, 60 to 70 % "
        "into bump is usual.",
        "Touching length less fully closed length, against 5 mm.",
        COMMON_PRACTICE,
        left,
    )


@finding("coils-touch", question=_MOVES)
def coils_touch(study: Study) -> tuple[Finding, ...]:
    """Do the coils touch before the shock is closed?"""
    found = []
    for shock, springs in _used(study):
        if shock.coils_touch is None:
            continue
        stroke = shock.length_open.value - shock.length_closed.value
        left = shock.length_closed.value - shock.coils_touch.value
        if left < _COILS_LEFT * stroke:
            found.append(_touch(study, shock, springs, left, stroke))
    return tuple(found)


def _touch(study: Study, shock: Shock, springs: list[str], left: float, stroke: float) -> Finding:
    how = f"{length(study, -left)} before" if left < 0.0 else f"with {length(study, left)} left when"
    return Finding(
        "coils-touch",
        "stop" if left < 0.0 else "fix",
        _MOVES,
        f"The coils of {shock.name} ({in_words(springs)}) touch {how} the shock is closed; keep at least "
        f"{length(study, _COILS_LEFT * stroke)}. A touching coil stops like a brick and breaks its seats.",
        "Length at which the coils touch against the fully closed length, 10 % of the stroke kept.",
        COMMON_PRACTICE,
        left,
    )
