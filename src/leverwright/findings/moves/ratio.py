"""Which way and how evenly does the lever pass the wheel's travel on to the spring?"""

from __future__ import annotations

from typing import Final

import numpy as np

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.rows import Row, rows, together
from leverwright.findings.words import both, on_wheels, travel
from leverwright.geometry import Array
from leverwright.quantity import say_ratio
from leverwright.springs import ShockLaw
from leverwright.study import Study

__all__ = ["geometric_term", "ratio_falls", "ratio_rises", "wrong_way"]

_MOVES: Final = "Does it move?"
_FALL = 0.10  # share of the ratio lost from standing to full bump: more and it blows through (CP)
_RISE = 0.60  # share gained: more and it is harsh at the end (CP)
_GEOMETRIC = 0.10  # share of the wheel rate by which k·MR² alone would be wrong (CP)
_NOTHING = 1e-6  # of wheel travel; rounding leaves 1e-12 of a spring that does not move
_SHARED = 0.05  # a spring that moves less than this share of the one that moves most is another wheel's


def _ratios(row: Row) -> list[tuple[str, Array]]:
    """Heave ratio (P,) over the sweep of each spring that this assembly's wheels work."""
    if row.heave.posed is None or row.travels is None:
        return []
    each = row.travels.driving.each
    ds_dz = row.heave.posed.rates.ds_dz
    heave = ds_dz.sum(axis=2) if each else ds_dz[:, :, 0]
    size = np.nanmax(np.abs(heave), axis=0, initial=0.0)
    largest = size.max(initial=0.0)
    layout = row.sprung.assembly.layout
    return [
        (name, heave[:, s])
        for s, name in enumerate(layout.line_names)
        if isinstance(row.sprung.laws[s], ShockLaw) and size[s] > _SHARED * largest
    ]


@finding("wrong-way", question=_MOVES)
def wrong_way(study: Study) -> tuple[Finding, ...]:
    """Does bump shorten every spring, all the way?"""
    found = []
    for row in rows(study):
        for spring, ratio in _ratios(row):
            if row.heave.posed is not None and np.any(ratio <= 0.0):
                found.append(_turned(study, row, spring, ratio))
    return tuple(found)


def _turned(study: Study, row: Row, spring: str, ratio: Array) -> Finding:
    at = row.heave.posed.travel if row.heave.posed is not None else np.zeros(1)
    ends = study.project.springs[spring].ends
    points = tuple(sorted(ends)) if ends else ()
    start = _representative(row, at)
    if ratio[start] <= 0.0:
        sentence = (
            f"{spring} gets longer when the wheel goes up: {say_ratio(float(ratio[start]))}. The lever "
            "turns the wrong way; put the spring, or the link, on the other side of the pivot."
        )
        if float(np.abs(ratio).max()) < _NOTHING:
            sentence = (
                f"{spring} does not move with the wheel: its hole lies on the pivot line, or it points at it. "
                "Put the hole where the lever swings."
            )
        return Finding(
            "wrong-way",
            "stop",
            _MOVES,
            sentence,
            "Motion ratio = spring shortening per wheel travel; "
            "below zero the spring "
            "pulls the wheel up instead of carrying it.",
            "geometry",
            float(ratio[start]),
            points,
            float(at[start]),
            row.wheels,
        )
    turn = _crossing(at, ratio)
    sentence = (
        f"{spring} stops shortening at {travel(study, turn)} of wheel travel and gets longer beyond: "
        "spring and lever come into "
        f"line there. Of the travel {on_wheels(row.wheels)}, only the part before it is sprung."
    )
    return Finding(
        "wrong-way",
        "stop",
        _MOVES,
        sentence,
        "The motion ratio passes zero inside the travel: no force at the wheel there.",
        "geometry",
        0.0,
        points,
        turn,
        row.wheels,
    )


def _representative(row: Row, at: Array) -> int:
    """The pose nearest to where it stands, or to the set-up pose; not an end, where a fold may blow the ratio up."""
    found = row.standing.posed if row.standing.on == "springs" else None
    stands = 0.0 if found is None else float(found.travel[0])
    return int(np.clip(np.argmin(np.abs(at - stands)), 1, max(len(at) - 2, 1)))


def _crossing(at: Array, ratio: Array) -> float:
    k = int(np.flatnonzero(np.sign(ratio[1:]) != np.sign(ratio[:-1]))[0])
    return float(at[k] - ratio[k] * (at[k + 1] - at[k]) / (ratio[k + 1] - ratio[k]))


def _change_into_bump(row: Row, ratio: Array) -> float:
    """Ratio at full bump over the ratio standing (or at set-up), less 1."""
    posed = row.heave.posed
    if posed is None:
        return 0.0
    start = float(row.standing.posed.travel[0]) if row.standing.posed is not None else 0.0
    first = float(np.interp(start, posed.travel, ratio))
    return float(ratio[-1]) / first - 1.0 if first > 0.0 else 0.0


def _uneven(study: Study, falls: bool) -> tuple[Finding, ...]:
    """The worst spring of each assembly, left and right alike told once with that spring's own numbers."""
    found: list[tuple[tuple[str, ...], float]] = []
    told: dict[str, tuple[str, float, float]] = {}
    for row in rows(study):
        changes = [(name, ratio, _change_into_bump(row, ratio)) for name, ratio in _ratios(row)]
        if not changes or row.on_dead_centre or any(np.any(ratio <= 0.0) for _, ratio, _ in changes):
            continue  # wrong-way, dead-centre-near or link-short say what matters more
        if (
            row.travels is not None
            and row.travels.range is not None
            and row.travels.range.bump.why == "dead centre"
        ):
            continue  # the ratio has no bound there, and dead-centre-near says so
        name, ratio, change = (min if falls else max)(changes, key=lambda each: each[2])
        if change < -_FALL if falls else change > _RISE:
            found.append((row.wheels, change))
            told |= dict.fromkeys(row.wheels, (name, float(ratio[-1]) / (1.0 + change), float(ratio[-1])))
    make = _falls if falls else _rises
    return tuple(make(study, wheels, change, told[wheels[0]]) for wheels, change in together(found))


@finding("ratio-falls", question=_MOVES)
def ratio_falls(study: Study) -> tuple[Finding, ...]:
    """Does the lever lose its hold on the spring into bump?"""
    return _uneven(study, falls=True)


@finding("ratio-rises", question=_MOVES)
def ratio_rises(study: Study) -> tuple[Finding, ...]:
    """Does the lever stiffen the wheel too much into bump?"""
    return _uneven(study, falls=False)


def _falls(study: Study, wheels: tuple[str, ...], change: float, ends: tuple[str, float, float]) -> Finding:
    return Finding(
        "ratio-falls",
        "fix",
        _MOVES,
        f"The ratio of {ends[0]} falls by {both(study, -change, 'percent')} from standing to full bump "
        f"{on_wheels(wheels)}, from "
        f"{ends[1]:.2f} to {ends[2]:.2f}: the wheel gets softer the harder it is pushed and blows "
        "through. Turn the lever "
        "so that link and spring are square to their arms later in the travel.",
        "A falling ratio takes the square of itself from the rate; more than 10 % is felt.",
        COMMON_PRACTICE,
        change,
        wheels=wheels,
    )


def _rises(study: Study, wheels: tuple[str, ...], change: float, ends: tuple[str, float, float]) -> Finding:
    return Finding(
        "ratio-rises",
        "watch",
        _MOVES,
        f"The ratio of {ends[0]} rises by {both(study, change, 'percent')} from standing to full bump "
        f"{on_wheels(wheels)}, from {ends[1]:.2f} to {ends[2]:.2f}: soft at first and harsh at the end.",
        "The rate at the wheel rises with the square of the ratio; more than 60 % is harsh.",
        COMMON_PRACTICE,
        change,
        wheels=wheels,
    )


@finding("geometric-term", question=_MOVES)
def geometric_term(study: Study) -> tuple[Finding, ...]:
    """Would spring rate times ratio squared, alone, mislead?"""
    found: list[tuple[tuple[str, ...], float]] = []
    sizes: dict[str, tuple[float, float]] = {}
    for row in rows(study):
        springs = row.figures.springs
        if (
            springs is None
            or row.travels is None
            or not row.sprung.has_spring
            or row.standing.on != "springs"
        ):
            continue
        whole = float(springs.wheel_rate[0].sum())
        part = float(springs.spring_part[0].sum())
        if whole > 0.0 and abs(whole - part) > _GEOMETRIC * whole:
            share = len(row.wheels)
            found.append((row.wheels, part / whole - 1.0))
            sizes |= dict.fromkeys(row.wheels, (part / share, whole / share))
    return tuple(_term(study, wheels, off, sizes[wheels[0]]) for wheels, off in together(found))


def _term(study: Study, wheels: tuple[str, ...], off: float, sizes: tuple[float, float]) -> Finding:
    more = "more" if off > 0.0 else "less"
    return Finding(
        "geometric-term",
        "watch",
        _MOVES,
        f"Spring rate times ratio squared gives {both(study, sizes[0], 'stiffness')} {on_wheels(wheels)}, "
        f"{both(study, abs(off), 'percent')} {more} than the true {both(study, sizes[1], 'stiffness')}: "
        "the ratio changes with "
        "travel while the spring already pushes. The answers here use the true rate.",
        "Wheel rate = spring rate x ratio² + spring force x change of ratio with travel (virtual work).",
        "virtual work, differentiated",
        off,
        wheels=wheels,
    )
