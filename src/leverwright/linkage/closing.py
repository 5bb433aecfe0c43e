"""Newton's method on many poses at once: make every equation hold and put the drivers where they are asked."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, Mask
from leverwright.linkage.kinematics import Basis, Pose, State, advance, evaluate, joined_bases
from leverwright.linkage.layout import Index

__all__ = [
    "CLOSED",
    "Drive",
    "Problem",
    "close",
    "close_at",
    "joined_problems",
    "least_step",
    "solve_rows",
]

CLOSED = 1e-11  # m; a hundred times rounding at 5 m, a thousand times finer than anything shown
_MOST_STEPS = 14  # Newton doubles its digits a step; more means that it is not converging
_LONGEST_STEP = 0.25  # m a Newton step may move an unknown; longer ones jump to another branch
_RANK = 1e-9  # singular values below this share of the largest are no equation


@dataclass(frozen=True, slots=True)
class Drive:
    """Rows that say where the wheels are: weights (R, W) on wheel heights, and what they follow, (R,) a metre.

    A pose at path place t has weights @ height = follow * t + offset.
    """

    weights: Array  # (R, W)
    follow: Array  # (R,)
    offset: Array  # (R,) m

    def at(self, travel: Array) -> Array:
        """Wanted value (P, R) m of each row at path places (P,)."""
        return self.follow * travel[:, None] + self.offset


@dataclass(frozen=True, slots=True)
class Problem:
    """What is solved: an assembly's numbers, what its wheels follow, and whether no equation repeats or is missing."""

    basis: Basis
    drive: Drive
    exact: bool

    def __getitem__(self, which: slice | Index) -> Problem:
        """The same for these poses' own numbers."""
        return self if len(self.basis.twist) == 1 else Problem(self.basis[which], self.drive, self.exact)

    def solve(self, rows: Array, right: Array) -> Array:
        """Solve rows (P, E, Q) @ x = right (P, E, K); least steps where equations repeat or something is loose."""
        return (solve_rows if self.exact else least_step)(rows, right)


def joined_problems(problems: Sequence[Problem], poses: Sequence[int] | None = None) -> Problem:
    """One problem of many poses, each with its own numbers; all of one layout and drive.

    poses  how many poses each problem has, 1 where it is not said
    """
    first = problems[0]
    if all(each.basis is first.basis for each in problems):
        return first
    every = Problem(joined_bases([each.basis for each in problems]), first.drive, first.exact)
    return every if poses is None else every[np.repeat(np.arange(len(problems)), poses)]


def solve_rows(rows: Array, right: Array) -> Array:
    """Solve rows (P, E, Q) @ x = right (P, E, K) exactly when square and of full rank, else the least step.

    Equations that repeat others are met together; motions that nothing holds stay still.
    """
    if rows.shape[1] == rows.shape[2]:
        with suppress(
            np.linalg.LinAlgError
        ):  # singular at this very pose: the least step still points the way
            solved: Array = np.asarray(np.linalg.solve(rows, right), dtype=np.float64)
            return solved
    return least_step(rows, right)


def least_step(rows: Array, right: Array) -> Array:
    """The shortest x (P, Q, K) that meets rows (P, E, Q) @ x = right (P, E, K) as nearly as it can be met."""
    out: Array = np.einsum("pqe,pek->pqk", np.linalg.pinv(rows, rcond=_RANK), right)
    return out


def close(
    basis: Basis, state: State, drive: Drive, travel: Array, exact: bool = True
) -> tuple[State, Pose, Mask]:
    """Poses with all equations met and the drive at `travel` (P,) m; the last result says which closed (P,).

    exact  False where equations repeat one another or something is loose: least steps are taken.
    """
    return close_at(basis, state, drive, drive.at(travel), exact)


def close_at(
    basis: Basis, state: State, drive: Drive, wanted: Array, exact: bool = True
) -> tuple[State, Pose, Mask]:
    """As `close`, with the value `wanted` (P, R) m of every row of the drive."""
    pose, rows, miss = _driven(basis, state, drive, wanted)
    for _ in range(_MOST_STEPS):
        if (np.abs(miss) < CLOSED).all():
            break
        step = (solve_rows if exact else least_step)(rows, -miss[:, :, None])[:, :, 0]
        step = np.nan_to_num(step, nan=0.0, posinf=_LONGEST_STEP, neginf=-_LONGEST_STEP)
        longest = np.abs(step).max(axis=1, initial=0.0)
        step *= np.minimum(1.0, _LONGEST_STEP / np.maximum(longest, _LONGEST_STEP))[:, None]
        state = advance(basis, state, step)
        pose, rows, miss = _driven(basis, state, drive, wanted)
    return state, pose, np.abs(miss).max(axis=1, initial=0.0) < CLOSED


def _driven(basis: Basis, state: State, drive: Drive, wanted: Array) -> tuple[Pose, Array, Array]:
    """The poses, the rows (P, E + R, Q) of equations and drivers, and how far (P, E + R) m they are from being met."""
    pose = evaluate(basis, state)
    poses, equations, unknowns = pose.residual_dq.shape
    rows = np.empty((poses, equations + len(drive.weights), unknowns))
    rows[:, :equations] = pose.residual_dq
    rows[:, equations:] = np.matmul(drive.weights, pose.wheel_dq)
    miss = np.empty(rows.shape[:2])
    miss[:, :equations] = pose.residual
    miss[:, equations:] = pose.wheel_height @ drive.weights.T - wanted
    return pose, rows, miss
