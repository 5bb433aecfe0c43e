"""First and second derivatives of springs and wheels by the drivers, from one Jacobian, without differencing."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage.closing import Problem
from leverwright.linkage.freedom import null_space
from leverwright.linkage.kinematics import Basis, Pose, State, angle_of_turns, second_order
from leverwright.linkage.layout import Index

__all__ = ["Rates", "rates_of", "spring_lengths"]

_LOOSE = 1e-7  # m of spring per metre of play; rounding leaves 1e-12


@dataclass(frozen=True, slots=True)
class Rates:
    """How everything follows the drivers: K is W (one wheel moving, others held) or 1 (the way itself).

    dq_dz    (P, Q, K)        1
    ds_dz    (P, S, K)        compression per wheel travel, + when bump shortens; rad/m for a hinge
    d2s_dz2  (P, S, K, K)     its change, 1/m (rad/m² for a hinge)
    """

    dq_dz: Array
    ds_dz: Array
    d2s_dz2: Array

    def __getitem__(self, poses: slice | Index) -> Rates:
        return Rates(self.dq_dz[poses], self.ds_dz[poses], self.d2s_dz2[poses])


def spring_lengths(basis: Basis, state: State, pose: Pose) -> tuple[Array, Array]:
    """Length [m] of each line, then angle [rad] of each hinge spring from set-up, (P, S); and its (P, S, Q)."""
    bars = len(basis.layout.bars)
    bodies = tuple(basis.layout.mechanism.turns[t].bodies for t in basis.layout.turns)
    if not bodies:
        return pose.length[:, bars:], pose.length_dq[:, bars:]
    angle, angle_dq = angle_of_turns(basis, state, bodies)
    return (
        np.concatenate([pose.length[:, bars:], angle], axis=1),
        np.concatenate([pose.length_dq[:, bars:], angle_dq], axis=1),
    )


def rates_of(problem: Problem, state: State, pose: Pose, turn_sign: Array) -> Rates:
    """Ratios and slopes at each pose.

    problem    its drive has a row a driver; with as many rows as wheels each wheel is one, else the way is
    turn_sign  (T,) +1 or -1, so that a hinge spring counts + where bump winds it up

    Source: differentiating the equations g(q) = 0 and the drivers h(q) = z once and twice (implicit function theorem).
    """
    basis, drive = problem.basis, problem.drive
    poses, equations, unknowns = pose.residual_dq.shape
    rows = np.empty((poses, equations + len(drive.weights), unknowns))
    rows[:, :equations] = pose.residual_dq
    rows[:, equations:] = np.matmul(drive.weights, pose.wheel_dq)
    each = drive.weights.shape[0] == drive.weights.shape[1]
    wanted = np.eye(len(drive.follow)) if each else drive.follow[:, None]
    drivers = wanted.shape[1]
    right = np.zeros((*rows.shape[:2], drivers))
    right[:, equations:] = wanted
    dq_dz = problem.solve(rows, right)
    row2, length2, wheel2 = second_order(basis, pose, dq_dz)
    bent = np.empty((*rows.shape[:2], drivers * drivers))
    bent[:, :equations] = row2.reshape(poses, equations, drivers * drivers)
    bent[:, equations:] = np.matmul(drive.weights, wheel2.reshape(poses, wheel2.shape[1], drivers * drivers))
    d2q = problem.solve(rows, -bent)
    _, length_dq = spring_lengths(basis, state, pose)
    bars = len(basis.layout.bars)
    lines2 = length2[:, bars:]
    sign = np.concatenate([-np.ones(lines2.shape[1]), turn_sign])
    ds_dz = sign[:, None] * np.matmul(length_dq, dq_dz)
    d2s_dz2 = np.matmul(length_dq, d2q).reshape(poses, length_dq.shape[1], drivers, drivers)
    d2s_dz2[:, : lines2.shape[1]] += lines2
    d2s_dz2 *= sign[:, None, None]
    if not problem.exact:
        loose = _loosely_sprung(rows, length_dq)
        ds_dz[loose], d2s_dz2[loose] = np.nan, np.nan
    return Rates(dq_dz, ds_dz, d2s_dz2)


def _loosely_sprung(rows: Array, length_dq: Array) -> Array:
    """Where a motion that nothing holds changes a spring's length (P, S): its ratio then hangs on that motion."""
    out = np.zeros(length_dq.shape[:2], dtype=bool)
    for pose in range(len(rows)):
        play = null_space(rows[pose])
        if play.shape[1]:
            out[pose] = np.abs(length_dq[pose] @ play).max(axis=1, initial=0.0) > _LOOSE
    return out
