"""Does it stand where it should: on its springs, with sag and bump left, coils tight, gas reckoned with?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

import numpy as np

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.rows import Row, rows, together
from leverwright.findings.words import both, length, on_wheels
from leverwright.ride import STANDARD_GRAVITY
from leverwright.springs import ShockLaw
from leverwright.study import Study

__all__ = ["coil_loose", "gas_lifts", "on_preload", "sag_outside"]

_SITS: Final = "Does it sit right?"
_SAG = (0.30, 0.40)  # of total travel, when no goal says (CP)
_SIGMAS = 2.0
_LOOSE = 0.0005  # m; less is taken up by a rubber seat (CP)
_LIFT = 0.005  # m of wheel that gas may lift before it is worth saying (CP)


@finding("on-preload", question=_SITS)
def on_preload(study: Study) -> tuple[Finding, ...]:
    """Does a wheel stand fully drooped, its spring still held by preload?"""
    held: list[tuple[tuple[str, ...], float]] = []
    stretched: list[Finding] = []
    for row, column, wheel in _standing(study, "preload"):
        if row.on_dead_centre:
            stretched.append(_stretched(wheel))
        else:
            held.append(((wheel,), -_held_by(row, column)))
    return (*stretched, *(_held(study, wheels, -spare) for wheels, spare in together(held)))


def _standing(study: Study, on: str) -> Iterator[tuple[Row, int, str]]:
    for row in rows(study):
        if row.standing.on == on:
            yield from ((row, column, wheel) for column, wheel in enumerate(row.wheels))


def _held_by(row: Row, column: int) -> float:
    """Force [N] by which the springs at full droop push more than the wheel carries."""
    assert row.heave.springs is not None
    push = float(row.heave.springs.wheel_push[0].sum()) / len(row.wheels)
    return push - float(row.sprung.sprung[column]) * STANDARD_GRAVITY


def _held(study: Study, wheels: tuple[str, ...], spare: float) -> Finding:
    more = both(study, spare / STANDARD_GRAVITY, "mass")
    return Finding(
        "on-preload",
        "fix",
        _SITS,
        f"No sag {on_wheels(wheels)}: it stands fully drooped, and {more} more would have to come on a wheel before "
        "the spring moves. It cannot follow a hole. Turn the collar back, or fit a softer spring with less preload.",
        "Push of the springs at full droop, at the wheel, against the weight that they carry.",
        "equilibrium",
        spare,
        wheels=wheels,
    )


def _stretched(wheel: str) -> Finding:
    return Finding(
        "on-preload",
        "fix",
        _SITS,
        f"No sag {on_wheels([wheel])}: it stands fully drooped, and there the linkage is on its dead centre, where the "
        "spring holds any load and the wheel does not rise by itself. End the droop before: by a strap, or by a "
        "shock that opens less far.",
        "On a dead centre the push of the spring at the wheel has no bound, so no load can be named that moves it.",
        "equilibrium",
        wheels=(wheel,),
    )


@finding("sag-outside", question=_SITS)
def sag_outside(study: Study) -> tuple[Finding, ...]:
    """Is the sag outside the wanted band by more than it is known?"""
    low, high = study.project.goals.sag or _SAG
    off: list[tuple[tuple[str, ...], float]] = []
    known: dict[str, tuple[Row, int]] = {}
    for row in rows(study):
        for column, wheel in enumerate(row.wheels):
            share = float(row.figures.value["sag_percent"][column])
            spread = _SIGMAS * _error(row, "sag_percent", column)
            outside = share < low - spread or share > high + spread
            if math.isfinite(share) and outside and row.standing.on != "preload":
                off.append(((wheel,), share))
                known[wheel] = (row, column)
    return tuple(_sag(study, wheels, share, *known[wheels[0]]) for wheels, share in together(off))


def _error(row: Row, name: str, column: int) -> float:
    """One standard deviation of a figure; 0 where the file states none."""
    error = 0.0 if row.errors is None else float(row.errors.value[name][column])
    return error if math.isfinite(error) else 0.0


def _sag(study: Study, wheels: tuple[str, ...], share: float, row: Row, column: int) -> Finding:
    low, high = study.project.goals.sag or _SAG
    error = _error(row, "sag_percent", column)
    said = both(study, share, "percent", error or None)
    sag = length(study, float(row.figures.value["sag"][column]), _error(row, "sag", column) or None)
    left = length(study, max(0.0, float(row.figures.value["bump_left"][column])))
    lead = (
        f"Bottomed {on_wheels(wheels)}: the load presses it to the end of its travel."
        if row.standing.on == "stops"
        else f"It sags {sag} {on_wheels(wheels)}, {said} of its travel, and {left} of bump is left; "
        f"{100 * low:.0f} to {100 * high:.0f} % is wanted."
    )
    cure = (
        "A stiffer spring, a larger ratio, or a little preload."
        if share > high
        else "Less preload, a softer spring or a smaller ratio; room to droop keeps the wheel on the ground."
    )
    wanted = "the file's goal" if study.project.goals.sag else COMMON_PRACTICE
    return Finding(
        "sag-outside",
        "fix",
        _SITS,
        f"{lead} {cure}",
        "Sag = travel from full droop to where springs and load balance, by the whole travel from droop to bump.",
        wanted,
        share,
        wheels=wheels,
        travel=float(row.figures.value["standing_travel"][column]),
    )


@finding("coil-loose", question=_SITS)
def coil_loose(study: Study) -> tuple[Finding, ...]:
    """Is a coil shorter than the gap between its seats when the wheel hangs?"""
    found: list[tuple[tuple[str, ...], float]] = []
    for row in rows(study):
        if row.heave.springs is None:
            continue
        for line, law in enumerate(row.sprung.laws):
            if isinstance(law, ShockLaw) and not len(law.rows):
                gap = -(float(row.heave.springs.compression[0, line]) + law.preload)
                if gap > _LOOSE:
                    found.append(((row.sprung.assembly.layout.line_names[line],), -gap))
    return tuple(_loose(study, springs, -gap) for springs, gap in together(found))


def _loose(study: Study, springs: tuple[str, ...], gap: float) -> Finding:
    return Finding(
        "coil-loose",
        "fix",
        _SITS,
        f"The coil of {' and '.join(springs)} hangs loose by {length(study, gap)} when the wheel droops: it can jump "
        "off its seat and comes back with a blow. Turn the collar up until it is just held, or let a strap stop "
        "the wheel before.",
        "Gap = shock length at full droop less the length at which the coil begins to press.",
        "geometry",
        gap,
        tuple(sorted(end for name in springs for end in study.project.springs[name].ends or ())),
    )


@finding("gas-lifts", question=_SITS)
def gas_lifts(study: Study) -> tuple[Finding, ...]:
    """How far does the gas in a shock lift the wheel?"""
    lifts: list[tuple[tuple[str, ...], float]] = []
    known: dict[str, tuple[Row, int]] = {}
    for row in rows(study):
        lift = _lift(row)
        if lift is not None and lift[0] > _LIFT:
            lifts.append((row.wheels, -lift[0]))
            known |= dict.fromkeys(row.wheels, (row, lift[1]))
    return tuple(_lifted(study, wheels, -lift, *known[wheels[0]]) for wheels, lift in together(lifts))


def _lift(row: Row) -> tuple[float, int] | None:
    """Wheel height [m] that the gas makes at the standing position, and the line that has most of it."""
    gas = np.array([law.gas if isinstance(law, ShockLaw) else 0.0 for law in row.sprung.laws])
    rate = float(np.sum(row.figures.value["heave_rate"]))
    if row.standing.on != "springs" or not gas.any() or not rate > 0:
        return None
    push = gas * np.nan_to_num(row.figures.heave)
    return float(push.sum() / rate), int(np.argmax(np.abs(push)))


def _lifted(study: Study, wheels: tuple[str, ...], lift: float, row: Row, line: int) -> Finding:
    law = row.sprung.laws[line]
    assert isinstance(law, ShockLaw)
    spring = row.sprung.assembly.layout.line_names[line]
    back = law.gas / law.rate if law.rate > 0 else 0.0
    loose = (
        f" Do not turn the collar back by the {length(study, back)} that would undo it: the coil has only "
        f"{length(study, max(0.0, law.preload))} of preload and would go loose."
        if back > law.preload
        else ""
    )
    return Finding(
        "gas-lifts",
        "watch",
        _SITS,
        f"The gas in {spring} pushes {both(study, law.gas, 'force')} and lifts the wheel by {length(study, lift)} "
        f"{on_wheels(wheels)}; it is height, hardly stiffness. A shock without gas on the other side would stand so "
        f"much lower.{loose}",
        "Lift = gas push x ratio / wheel rate.",
        "equilibrium",
        lift,
        wheels=wheels,
    )
