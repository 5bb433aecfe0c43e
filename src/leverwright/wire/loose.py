"""Motions that nothing holds and motions that rigid parts cannot make, with their sentences."""

from __future__ import annotations

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage import Layout
from leverwright.linkage.kinematics import start_state
from leverwright.ride import Cycle
from leverwright.wire.cycle import Tight
from leverwright.wire.strict import number
from leverwright.wire.sweep import ShownPlay
from leverwright.wire.table import layout_of

__all__ = ["bind_of", "play_of"]

# A step of a motion that the page draws: the point that moves most goes this far.
_STEP_MM = 20.0
_STILL = 1e-3  # share of that; what moves less stands still in a drawing


def play_of(cycle: Cycle) -> list[ShownPlay]:
    """Each motion that moves no wheel up or down and that nothing holds."""
    play = cycle.sprung.assembly.freedom.play
    return [_play(cycle, play[:, column]) for column in range(play.shape[1])]


def _play(cycle: Cycle, motion: Array) -> ShownPlay:
    layout = layout_of(cycle)
    basis = cycle.sprung.assembly.basis
    state = start_state(basis, 1)
    moved: dict[str, Array] = {}
    bodies: list[str] = []
    for carrier in layout.moving:
        turn = np.einsum("q,qi,q->i", basis.member[carrier], basis.turn[0], motion)
        shift = np.einsum("q,qi,q->i", basis.member[carrier], basis.shift[0], motion)
        for point in layout.carriers.each[carrier].points:
            at = state.rotation[0, carrier] @ basis.geometry.points[0, point] + state.offset[0, carrier]
            moved[layout.mechanism.point_names[point]] = np.cross(turn, at) + shift
    most = max((float(np.linalg.norm(step)) for step in moved.values()), default=0.0) or 1.0
    steps = {name: step * (_STEP_MM / most) for name, step in moved.items()}
    shown = {n: [number(x) for x in s] for n, s in steps.items() if np.linalg.norm(s) > _STILL * _STEP_MM}
    for carrier in layout.moving:
        owner = layout.carriers.each[carrier]
        if any(layout.mechanism.point_names[p] in shown for p in owner.points):
            bodies += [layout.mechanism.body_names[body] for body in owner.bodies]
    what = _and(bodies) or _and(sorted(shown)) or "a part"
    return ShownPlay(
        bodies, f"Nothing holds {what}: it can move while the wheels stay where they are.", shown
    )


def bind_of(cycle: Cycle) -> list[Tight]:
    """Why the asked motion cannot be made, or is made only by all wheels together."""
    layout = layout_of(cycle)
    wheels = layout.wheel_names
    if not wheels:
        return []
    freedom = cycle.sprung.assembly.freedom
    bodies = _wheel_bodies(layout)
    if cycle.posed is None:
        return [Tight(bodies, _why_not(cycle))]
    if cycle.travels is not None and cycle.travels.driving.forced:
        count = "one freedom" if freedom.wheel_rank == 1 else f"{freedom.wheel_rank} freedoms"
        sentence = (
            f"The wheels {_and(wheels)} have {count} between them: rigid parts force them to move together. "
            "Their mean is moved here, and each follows as the parts make it."
        )
        return [Tight(bodies, sentence)]
    return []


def _why_not(cycle: Cycle) -> str:
    wheels = _and(layout_of(cycle).wheel_names)
    freedom = cycle.sprung.assembly.freedom
    if cycle.mode not in ("heave", "roll") and cycle.mode not in layout_of(cycle).wheel_names:
        return f"{wheels} stands still while {cycle.mode} moves: they are not joined."
    if freedom.wheel_rank == 0:
        if freedom.shaky:
            return f"{wheels} cannot move: the set-up pose is a dead centre, where the links only wobble."
        return f"{wheels} cannot move: the parts hold it fast."
    if cycle.travels is None:
        return f"{wheels} cannot move so: the parts allow another motion, not this one."
    return f"{wheels} cannot move: no position lies within the lengths of its shocks and straps."


def _wheel_bodies(layout: Layout) -> list[str]:
    mechanism = layout.mechanism
    return list(dict.fromkeys(mechanism.body_names[mechanism.wheels[wheel].body] for wheel in layout.wheels))


def _and(names: list[str] | tuple[str, ...]) -> str:
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"
