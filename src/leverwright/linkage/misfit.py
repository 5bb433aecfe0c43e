"""How badly rigid parts fail to fit when wheels are put where they cannot all go."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage.freedom import null_space
from leverwright.linkage.kinematics import Basis, State, advance, evaluate, start_state

__all__ = ["Misfit", "misfit"]

_STEPS = 40


@dataclass(frozen=True, slots=True)
class Misfit:
    """Wheels at the asked heights, every joint and bar as near as it gets: the largest gap [m] and who has it.

    turned  (B,) rad how far each carrier turned on the way there
    """

    gap: float
    where: str
    turned: Array


def misfit(basis: Basis, heights: Array) -> Misfit:
    """The least misfit (in the sense of squares) with wheel centres raised by `heights` (W,) m; Gauss-Newton."""
    state: State = start_state(basis, 1)
    for _ in range(_STEPS):
        pose = evaluate(basis, state)
        wheel_rows = pose.wheel_dq[0]
        first = np.linalg.pinv(wheel_rows) @ (heights - pose.wheel_height[0])
        free = null_space(wheel_rows)
        rows, left = pose.residual_dq[0], pose.residual[0] + pose.residual_dq[0] @ first
        second = free @ (np.linalg.pinv(rows @ free, rcond=1e-9) @ -left)
        step = first + second
        longest = float(np.abs(step).max(initial=0.0))
        state = advance(basis, state, (step * min(1.0, 0.05 / max(longest, 0.05)))[None])
        if longest < 1e-10:
            break
    pose = evaluate(basis, state)
    worst = int(np.argmax(np.abs(pose.residual[0]))) if pose.residual.shape[1] else 0
    cosine = np.clip((np.einsum("bii->b", state.rotation[0]) - 1.0) / 2.0, -1.0, 1.0)
    gap = float(np.abs(pose.residual).max(initial=0.0))
    short = np.abs(heights - pose.wheel_height[0])
    if (
        float(short.max(initial=0.0)) > gap
    ):  # hinges on the chassis never gape: the wheel does not get there instead
        wheel = basis.layout.wheel_names[int(np.argmax(short))]
        return Misfit(float(short.max()), f"wheel {wheel}", np.arccos(cosine))
    return Misfit(gap, _row_name(basis, worst), np.arccos(cosine))


def _row_name(basis: Basis, row: int) -> str:
    layout = basis.layout
    joints = len(layout.joint_rows.first)
    if row < joints:
        foot = int(layout.joint_rows.first[row])
        return f"point {layout.mechanism.point_names[layout.feet[foot][1]]}"
    bar = row - joints - len(layout.spins) - len(layout.held)
    return layout.bar_names[bar] if 0 <= bar < len(layout.bars) else "a held hinge"
