"""How an assembly can move: its freedoms, told from a rank at one pose by moving, and the motions nothing holds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage.closing import CLOSED, least_step
from leverwright.linkage.kinematics import Basis, Pose, State, advance, evaluate

__all__ = ["Freedom", "find_freedom", "null_space"]

# A singular value below this share of the largest is no equation: coordinates carry 12 digits at least when
# the builder means "exactly parallel", and a tape error of 0.01 mm on 100 mm is a thousand times larger.
_RANK = 1e-8
_TRIAL = (
    2e-3  # m an assembly is moved to tell a freedom from a shaky pose; far above rounding, far below a travel
)
_STRAIGHT = 0.2  # share of the trial that bending along a true motion explains ten times over
_MOVED = 0.5  # share of the trial that must be left after closing


@dataclass(frozen=True, slots=True)
class Freedom:
    """Freedoms of one assembly at its set-up pose.

    count      motions that are finite, play included
    modes      (Q, n) directions that the equations leave at the set-up pose itself
    wheel_rank how many independent heights the wheels can take
    play       (Q, m) motions that move no wheel up or down
    singular   the set-up pose has more directions than its neighbours: a dead centre or a fold
    shaky      (Q, k) directions that the equations leave at this pose alone: nothing moves, it wobbles
    redundant  equations that repeat others, so that their forces cannot be told
    """

    count: int
    modes: Array
    wheel_rank: int
    play: Array
    singular: bool
    shaky: int
    redundant: int


def null_space(rows: Array, rank_share: float = _RANK) -> Array:
    """Orthonormal directions (Q, n) that rows (E, Q) leave free."""
    if rows.shape[0] == 0:
        return np.eye(rows.shape[1])
    _, values, right = np.linalg.svd(rows)
    rank = int(np.count_nonzero(values > rank_share * max(values[0], 1e-300)))
    return right[rank:].T.copy()


def find_freedom(basis: Basis, state: State) -> Freedom:
    """Count the freedoms at this state (P = 1) and sort them into wheel motion and play."""
    pose = evaluate(basis, state)
    rows = pose.residual_dq[0]
    modes = null_space(rows)
    lift = pose.wheel_dq[0] @ modes
    if modes.shape[1] == 0:
        return Freedom(0, modes, 0, modes, singular=False, shaky=0, redundant=rows.shape[0] - rows.shape[1])
    moved = [_move(basis, state, mode * sign) for mode in _trials(modes) for sign in (1.0, -1.0)]
    real = [pose for pose in moved if pose is not None]
    near = [null_space(pose.residual_dq[0]) for pose in real]
    count = min((free.shape[1] for free in near), default=0)
    rank_here = _rank(lift)
    rank_near = max((_rank(p.wheel_dq[0] @ n) for p, n in zip(real, near, strict=True)), default=0)
    play = _no_lift(modes, lift)
    redundant = rows.shape[0] - (rows.shape[1] - modes.shape[1])
    if count < modes.shape[1] and rank_here == rank_near and _each_by_itself(basis, state, modes, play):
        # Parallel links: lifting and drifting are each free here, though not both at once further on.
        return Freedom(modes.shape[1], modes, rank_here, play, singular=False, shaky=0, redundant=redundant)
    return Freedom(
        count,
        modes,
        max(rank_here, rank_near),
        play if count > max(rank_here, rank_near) else play[:, :0],
        singular=bool(real) and (count < modes.shape[1] or rank_here < rank_near),
        shaky=modes.shape[1] - count if not real or count < modes.shape[1] else 0,
        redundant=redundant,
    )


def _each_by_itself(basis: Basis, state: State, modes: Array, play: Array) -> bool:
    """Whether each way that lifts a wheel and each that lifts none is a motion of its own, both ways along."""
    lifting = modes @ null_space(play.T @ modes)
    each = [column for part in (lifting, play) for column in part.T]
    return all(
        _move(basis, state, sign * mode, _STRAIGHT) is not None for mode in each for sign in (1.0, -1.0)
    )


def _trials(modes: Array) -> list[Array]:
    """Each mode by itself and one mixture of all, each of length 1."""
    mixture = modes @ np.cos(1.0 + np.arange(modes.shape[1]))
    singles = [modes[:, k] for k in range(modes.shape[1])]
    return singles if len(singles) == 1 else [*singles, mixture / np.linalg.norm(mixture)]


def _rank(lift: Array) -> int:
    if lift.size == 0:
        return 0
    return int(np.count_nonzero(np.linalg.svd(lift, compute_uv=False) > 1e-6))


def _no_lift(modes: Array, lift: Array) -> Array:
    if lift.shape[0] == 0:
        return modes
    return modes @ null_space(lift, rank_share=1e-6) if _rank(lift) else modes


def _move(basis: Basis, state: State, mode: Array, aside: float = 1.0) -> Pose | None:
    """Close the linkage `_TRIAL` along a mode; None when it slides back, so that the mode was only a wobble.

    aside  share of the trial by which the closed pose may lie off the mode
    """
    gone = mode * _TRIAL
    moved = advance(basis, state, gone[None])
    for _ in range(20):
        pose = evaluate(basis, moved)
        if np.abs(pose.residual).max(initial=0.0) < CLOSED:
            off = gone - mode * _TRIAL
            stays = float(gone @ mode) > _MOVED * _TRIAL and float(np.sqrt(off @ off)) < aside * _TRIAL
            return pose if stays else None
        step = least_step(pose.residual_dq, -pose.residual[:, :, None])[0, :, 0]
        longest = float(np.abs(step).max())
        step *= min(1.0, _TRIAL / max(longest, _TRIAL))
        gone = gone + step
        moved = advance(basis, moved, step[None])
    return None
