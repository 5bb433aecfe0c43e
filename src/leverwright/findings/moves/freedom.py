"""Does every wheel have the motions it needs, and no other?"""

from __future__ import annotations

from typing import Final

import numpy as np

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.rows import Row, rows
from leverwright.findings.words import both, in_words, length, the_wheels
from leverwright.linkage import misfit
from leverwright.ride import LooseMotion, loose_motions, opposite_wheels
from leverwright.study import Study

__all__ = ["back_check", "cannot_move", "cannot_roll", "link_not_rigid", "not_held"]

_MOVES: Final = "Does it move?"
_ROLL = (
    0.03  # m of bump on one side and droop on the other that a cart on uneven ground needs, when no goal says
)
# A common thin tube to give a rigid axle's misfit a size: 42.4 × 2.6 mm, second moment 6.464 cm⁴
# (EN 10219-2 section formulas, recomputed), shear modulus of steel 80 GPa (handbooks, from memory).
_TUBE_POLAR, _TUBE_RADIUS, _SHEAR_MODULUS = 2 * 6.464e-8, 0.0212, 80e9


@finding("back-check", question=_MOVES)
def back_check(study: Study) -> Finding | None:
    """Do the solver's answers agree with what other principles say of the same poses?"""
    failed = [
        (row, check) for row, check in zip(rows(study), study.back_check, strict=True) if not check.holds
    ]
    if not failed:
        return None
    row, check = failed[0]
    principle, size = check.worst
    return Finding(
        "back-check",
        "stop",
        _MOVES,
        f"The figures of {in_words(row.wheels)} do not check back ({principle} off by {size:.1e} of their "
        "size) and are withheld.",
        "Lengths are measured again between posed points, ratios are summed over the sweep, forces on "
        "each body are "
        "added up; all three must agree with the solver to a millionth.",
        "a check of the program on itself; please report the file",
        size,
        wheels=row.wheels,
    )


@finding("cannot-move", question=_MOVES)
def cannot_move(study: Study) -> tuple[Finding, ...]:
    """Is there a wheel that rigid parts hold fast, and that is not simply put on the chassis?"""
    return tuple(
        _held_fast(row)
        for row in rows(study)
        if any(study.project.wheels[wheel].body != "chassis" for wheel in row.wheels)
        and row.sprung.assembly.freedom.wheel_rank == 0
        and not row.sprung.assembly.freedom.singular
    )


def _held_fast(row: Row) -> Finding:
    freedom = row.sprung.assembly.freedom
    spare = max(freedom.redundant, 0)
    wobble = " It only wobbles at this very pose." if freedom.shaky else ""
    return Finding(
        "cannot-move",
        "stop",
        _MOVES,
        f"{the_wheels(row.wheels, first=True)} cannot move up or down: bars and shared points hold it fast.{wobble} "
        "Take out one bar, or let one hinge be a ball joint.",
        f"Counting free motions against bars and joints leaves 0 for this wheel, with {spare} bar or "
        "joint more than is "
        "needed. Hinges count as one free motion only when their lines really are one line.",
        "geometry of rigid parts",
        0.0,
        wheels=row.wheels,
        points=tuple(sorted(_wheel_points(row))),
    )


def _wheel_points(row: Row) -> set[str]:
    mechanism = row.sprung.assembly.layout.mechanism
    return {mechanism.point_names[mechanism.wheels[w].centre] for w in row.sprung.assembly.layout.wheels}


@finding("cannot-roll", question=_MOVES)
def cannot_roll(study: Study) -> tuple[Finding, ...]:
    """Can an axle put one wheel up and the other down?"""
    found = []
    for row in rows(study):
        mechanism = row.sprung.assembly.layout.mechanism
        here = [(pair, y) for pair, y in opposite_wheels(mechanism) if set(pair) <= set(row.wheels)]
        free = row.sprung.assembly.freedom
        if (
            here
            and free.wheel_rank < len(row.wheels)
            and row.sprung.assembly.layout.unknowns
            and not free.singular
        ):
            found.append(_no_roll(study, row, *here[0]))
    return tuple(found)


def _no_roll(study: Study, row: Row, pair: tuple[str, str], y: tuple[float, float]) -> Finding:
    goals = study.project.goals
    wanted = min((t for t in (goals.travel_bump, goals.travel_droop) if t is not None), default=_ROLL)
    heights = np.array([wanted if n == pair[0] else -wanted if n == pair[1] else 0.0 for n in row.wheels])
    gap = misfit(row.sprung.assembly.basis, heights)
    track = y[0] - y[1]
    twist = 2.0 * wanted / track
    torque = _SHEAR_MODULUS * _TUBE_POLAR * twist / track
    stress = torque * _TUBE_RADIUS / _TUBE_POLAR
    return Finding(
        "cannot-roll",
        "stop",
        _MOVES,
        f"The axle of {in_words(pair)} cannot roll: with one wheel {length(study, wanted)} up and the "
        "other as much down, "
        f"the parts miss each other by {length(study, gap.gap)} at {gap.where}, or the axle must twist "
        f"{both(study, twist, 'angle')}. A 42.4 x 2.6 mm steel tube over this track would take "
        f"{both(study, torque, 'moment')} and {stress / 1e6:.0f} MPa for it. Free one arm with a ball "
        "joint or a bar with "
        "joints at both ends.",
        "Misfit: wheels put there, all bars and joints then as near as they get. Twist = twice the "
        "travel over the track; "
        "moment = shear modulus x polar moment x twist / length.",
        "geometry of rigid parts; torsion of a round tube (handbooks)",
        gap.gap,
        wheels=pair,
        points=tuple(sorted(_wheel_points(row))),
    )


@finding("not-held", question=_MOVES)
def not_held(study: Study) -> tuple[Finding, ...]:
    """Does anything move that nothing holds?"""
    found: list[Finding] = []
    for row in rows(study):
        motions = loose_motions(row.sprung.assembly)
        found += [_loose(row, motion) for motion in motions if motion.bodies or motion.step]
    return tuple(found)


_GOES = {
    "sideways": "can drift sideways",
    "along": "can drift forward and back",
    "up": "can drift up and down with its wheel",
    "steers": "lets its wheel turn freely, as if nothing steered it",
    "swings": "can swing freely",
}
_CURE = {
    "sideways": "Add a lateral locator from it to the chassis.",
    "along": "Add a bar that runs forward or back to the chassis.",
    "up": "Add a bar, or a body of its own with a hinge.",
    "steers": "Add a tie rod, or declare the steering as held.",
    "swings": "Join its loose end, or leave it out.",
}


def _loose(row: Row, motion: LooseMotion) -> Finding:
    what = in_words(motion.bodies) if motion.bodies else f"point {in_words(sorted(motion.step))}"
    points = tuple(sorted(motion.step))
    if motion.kind == "spin":
        return Finding(
            "not-held",
            "good",
            _MOVES,
            f"{what} can spin about the line of its own joints. That is harmless.",
            "It moves no joint and no wheel.",
            "geometry of rigid parts",
            0.0,
            points,
        )
    wheel = f" (wheels {in_words(row.wheels)})" if row.wheels else ""
    return Finding(
        "not-held",
        "stop",
        _MOVES,
        f"Nothing holds {what}{wheel}: it {_GOES[motion.kind]} while the wheels stay at their height. "
        f"{_CURE[motion.kind]}",
        "The bars and joints leave this motion free; springs do not count as a hold.",
        "geometry of rigid parts",
        float(max(np.linalg.norm(step) for step in motion.step.values())),
        points,
        wheels=row.wheels,
    )


@finding("link-not-rigid", question=_MOVES)
def link_not_rigid(study: Study) -> tuple[Finding, ...]:
    """Does a link have a joint in its middle?"""
    project = study.project
    carried = {p for body in project.bodies.values() for p in body.points} | {
        h.point for h in project.held.values()
    }
    found = []
    for name in project.points:
        if name in carried:
            continue
        bars = [bar.name for bar in project.bars.values() if name in bar.ends]
        lines = [s.name for s in project.springs.values() if s.ends and name in s.ends]
        if (len(bars) == 2 and not lines) or (len(bars) == 1 and len(lines) == 1):
            found.append(_jointed(name, [*bars, *lines]))
    return tuple(found)


def _jointed(point: str, parts: list[str]) -> Finding:
    return Finding(
        "link-not-rigid",
        "stop",
        _MOVES,
        f"{in_words(parts)} meet at {point}, which no body carries: a link with a joint in its middle "
        "folds, and the push goes "
        "nowhere. Make it one bar, or let a lever carry the point.",
        "Two bars in a row can only pull once they are in one line; under push they fold sideways.",
        COMMON_PRACTICE,
        2.0,
        (point,),
    )
