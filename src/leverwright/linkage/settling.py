"""From the set-up pose to where a changed bar, hole or held angle puts the linkage, wheels kept at their height."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage.closing import Drive, close
from leverwright.linkage.kinematics import Basis, Pose, State, basis_of, start_state
from leverwright.linkage.layout import Layout
from leverwright.linkage.mechanism import Geometry, measured_bar_length

__all__ = ["Settled", "settle"]

_LEAST_SHARE = 1.0 / 256.0  # of the whole change, in one step


@dataclass(frozen=True, slots=True)
class Settled:
    """The first pose: its basis, state and travel; `closes` False when no pose with these lengths was found."""

    basis: Basis
    state: State
    closes: bool
    at_zero: bool


def settle(layout: Layout, geometry: Geometry, drive: Drive, exact: bool) -> Settled:
    """Lead lengths and held values from as-measured to as-asked in steps, wheels at travel 0 if they can be.

    Where the wheels cannot stay at 0 the linkage is closed as near as it goes; the caller walks back towards 0.
    """
    measured = measured_bar_length(layout.mechanism, geometry.points)
    basis = basis_of(layout, geometry)
    here = start_state(basis, 1)
    changed = np.abs(geometry.bar_length - measured).max(initial=0.0) + np.abs(geometry.hold).max(initial=0.0)
    if changed < 1e-12:
        return Settled(basis, here, closes=True, at_zero=True)
    free = Drive(drive.weights[:0], drive.follow[:0], drive.offset[:0])
    for pull, keeps_zero in ((drive, True), (free, False)):
        state = _lead(layout, geometry, measured, pull, exact and keeps_zero)
        if state is not None:
            return Settled(basis, state, closes=True, at_zero=keeps_zero)
    return Settled(basis, here, closes=False, at_zero=False)


def _lead(layout: Layout, geometry: Geometry, measured: Array, drive: Drive, exact: bool) -> State | None:
    share, step = 0.0, 1.0
    state: State | None = None
    while share < 1.0:
        target = min(1.0, share + step)
        mixed = Geometry(
            geometry.points, measured + target * (geometry.bar_length - measured), target * geometry.hold
        )
        basis = basis_of(layout, mixed)
        begin = start_state(basis, 1) if state is None else State(state.rotation, state.offset.copy())
        begin.offset[:] = np.where(basis.guide_offset != 0.0, basis.guide_offset, begin.offset)
        moved, pose, closed = close(basis, begin, drive, np.zeros(1), exact)
        if closed[0] and _near(begin, moved, pose):
            share, state, step = target, moved, min(0.5, 2.0 * step)
        elif step > _LEAST_SHARE:
            step *= 0.5
        else:
            return None
    return state


def _near(before: State, after: State, pose: Pose) -> bool:
    """Closed without leaping: no carrier turned more than 0.35 rad in one step (a jump of branch turns further)."""
    turned = np.einsum("pbij,pbij->pb", before.rotation, after.rotation)
    return bool(np.all(turned > 1.0 + 2.0 * np.cos(0.35)) and np.all(np.isfinite(pose.length)))
