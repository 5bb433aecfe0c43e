"""Which feet each equation and each watched length acts between: index arrays made once, used at every pose.

A row of the Jacobian is the power of a unit force: the force along the row's direction at a foot is a line of action,
and its six numbers (direction, moment) times an unknown's twist give the row. Source: Murray, Li and Sastry, A
Mathematical Introduction to Robotic Manipulation, 1994, ch. 2 (reciprocal product; from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leverwright.geometry import Array

__all__ = ["LinesOfAction", "lines_of_action"]

Index = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class LinesOfAction:
    """R lines: joints at their first foot, joints at their second, bars and lines, wheels (upward).

    foot    (R,)            foot that the line of action passes through
    sign    (R, Q)          +1 where the unknown moves the row's first foot, -1 its second, 0 both or neither
    apart   (Ej + L+S, F)   first foot less second, of joints, then of bars and lines
    moves   (M, Q)          1 where the unknown moves the moving carrier M
    foot_moves (F, Q)       1 where the unknown moves the foot
    moving  (M,)            carriers that have unknowns
    """

    foot: Index
    sign: Array
    apart: Array
    moves: Array
    foot_moves: Array
    moving: Index


def lines_of_action(
    unknown_carrier: Index,
    foot_carrier: Index,
    joints: tuple[Sequence[int], Sequence[int]],
    pairs: tuple[Sequence[int], Sequence[int]],
    wheel_feet: Sequence[int],
) -> LinesOfAction:
    """Index arrays of one assembly.

    joints, pairs  first and second foot of each joint equation (Ej,) and of each bar, link and line (L+S,)
    """
    moving = np.array(sorted(set(unknown_carrier.tolist())), dtype=np.int64)
    foot_moves = (foot_carrier[:, None] == unknown_carrier[None, :]).astype(float)
    first, second = (np.array([*joints[k], *pairs[k]], dtype=np.int64) for k in (0, 1))
    rows = np.arange(len(first))
    apart = np.zeros((len(first), len(foot_carrier)))
    np.add.at(apart, (rows, first), 1.0)
    np.add.at(apart, (rows, second), -1.0)
    held = np.array([*joints[0]], dtype=np.int64), np.array([*joints[1]], dtype=np.int64)
    ends = np.array([*pairs[0]], dtype=np.int64), np.array([*pairs[1]], dtype=np.int64)
    wheels = np.array([*wheel_feet], dtype=np.int64)
    sign = [
        foot_moves[held[0]],
        -foot_moves[held[1]],
        foot_moves[ends[0]] - foot_moves[ends[1]],
        foot_moves[wheels],
    ]
    moves = (moving[:, None] == unknown_carrier[None, :]).astype(float)
    foot = np.concatenate([held[0], held[1], ends[0], wheels])
    return LinesOfAction(foot, np.concatenate(sign), apart, moves, foot_moves, moving)
