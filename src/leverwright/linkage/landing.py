"""Newton on poses and their path travel together, each held by one more row: the border."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, Mask
from leverwright.linkage.closing import Problem
from leverwright.linkage.kinematics import Pose, State, advance, evaluate

__all__ = ["Border", "Landed", "bordered", "land", "size"]

_MOST_STEPS = 5  # of Newton; predictions are of second order at least, so three is usual

Border = Callable[
    [Pose], tuple[Array | float, Array]
]  # what it misses by (P,), and its row (P, Q + 1) or (Q + 1,)


@dataclass(frozen=True, slots=True)
class Landed:
    """Where Newton settled; `rows` (P, E + R + 1, Q + 1) there, an identity for those not `found`."""

    state: State
    travel: Array
    pose: Pose
    rows: Array
    found: Mask


def bordered(problem: Problem, pose: Pose, row: Array) -> Array:
    """Derivatives (P, E + R + 1, Q + 1) of equations and drivers by unknowns and path travel, and a last row."""
    drive = problem.drive
    poses, equations, unknowns = pose.residual_dq.shape
    rows = np.zeros((poses, equations + len(drive.follow) + 1, unknowns + 1))
    rows[:, :equations, :-1] = pose.residual_dq
    rows[:, equations:-1, :-1] = np.matmul(drive.weights, pose.wheel_dq)
    rows[:, equations:-1, -1] = -drive.follow
    rows[:, -1] = row
    return rows


def _missed(problem: Problem, pose: Pose, travel: Array, last: Array | float) -> Array:
    """How far (P, E + R + 1) m equations, drivers and border are from being met."""
    drive = problem.drive
    equations = pose.residual.shape[1]
    miss = np.empty((len(travel), equations + len(drive.follow) + 1))
    miss[:, :equations] = pose.residual
    miss[:, equations:-1] = pose.wheel_height @ drive.weights.T - drive.at(travel)
    miss[:, -1] = last
    return miss


def size(vectors: Array) -> Array:
    """Length (P,) of each of vectors (P, n)."""
    out: Array = np.sqrt((vectors * vectors).sum(axis=1))
    return out


def land(problem: Problem, begin: tuple[State, Array], border: Border, most: Array, closed: float) -> Landed:
    """Poses that meet equations, drivers and border within `closed`, from a state and path travels (P,).

    Those that Newton moves further than `most` (P,) are lost; each goes its own way, whatever becomes of the others.
    """
    state, travel = begin
    drift, lost = np.zeros(len(travel)), np.zeros(len(travel), dtype=bool)
    pose, miss, rows = _at(problem, state, travel, border)
    for _ in range(_MOST_STEPS):
        off = np.abs(miss).max(axis=1)
        going = (off >= closed) & ~lost
        if not going.any():
            break
        rows[lost] = np.eye(*rows.shape[1:])
        correction = problem.solve(rows, -miss[:, :, None])[:, :, 0]
        drift += np.where(going, size(correction), 0.0)
        lost |= ~(drift <= most)  # a correction that is no number is lost too
        correction = np.where((going & ~lost)[:, None], correction, 0.0)
        state = advance(problem.basis, state, correction[:, :-1])
        travel = travel + correction[:, -1]
        pose, miss, rows = _at(problem, state, travel, border)
    lost |= ~(np.abs(miss).max(axis=1) < closed)
    rows[lost] = np.eye(*rows.shape[1:])
    return Landed(state, travel, pose, rows, ~lost)


def _at(problem: Problem, state: State, travel: Array, border: Border) -> tuple[Pose, Array, Array]:
    pose = evaluate(problem.basis, state)
    last, row = border(pose)
    return pose, _missed(problem, pose, travel, last), bordered(problem, pose, row)
