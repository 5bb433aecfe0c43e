"""From the set-up pose to where a changed bar, hole or held angle puts the linkage, wheels kept at their height."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, Mask
from leverwright.linkage.closing import Drive, close
from leverwright.linkage.kinematics import Basis, Pose, State, basis_of, start_state
from leverwright.linkage.layout import Layout
from leverwright.linkage.mechanism import Geometry, measured_bar_length

__all__ = ["Settled", "settle"]

_LEAST_SHARE = 1.0 / 256.0  # of the whole change, in one step


@dataclass(frozen=True, slots=True)
class Settled:
    """The first pose of each of V settings; `closes` False where no pose with these lengths was found.

    at_zero  (V,) whether the wheels stand at travel 0 there
    """

    basis: Basis
    state: State
    closes: Mask
    at_zero: Mask


def settle(basis: Basis, drive: Drive, exact: bool) -> Settled:
    """Lead lengths and held values from as-measured to as-asked in steps, wheels at travel 0 if they can be.

    basis  V sets of numbers, each settled for itself

    Where the wheels cannot stay at 0 the linkage is closed as near as it goes; the caller walks back towards 0.
    """
    layout, geometry = basis.layout, basis.geometry
    count = len(geometry.points)
    measured = measured_bar_length(layout.mechanism, geometry.points)
    state = start_state(basis, count)
    closes, at_zero = np.ones(count, dtype=bool), np.ones(count, dtype=bool)
    changed = np.abs(geometry.bar_length - measured).max(axis=1, initial=0.0)
    changed = np.flatnonzero(changed + np.abs(geometry.hold).max(axis=1, initial=0.0) >= 1e-12)
    if not len(changed):
        return Settled(basis, state, closes, at_zero)
    # Nearly always one step does it, for all settings at once.
    moved, pose, closed = close(basis[changed], state[changed], drive, np.zeros(len(changed)), exact)
    there = closed & _near(state[changed], moved, pose)
    state.rotation[changed[there]], state.offset[changed[there]] = moved.rotation[there], moved.offset[there]
    free = Drive(drive.weights[:0], drive.follow[:0], drive.offset[:0])
    for row in changed[~there]:
        own = Geometry(
            *(part[row : row + 1] for part in (geometry.points, geometry.bar_length, geometry.hold))
        )
        led = _lead(layout, own, measured[row : row + 1], drive, exact)
        at_zero[row] = led is not None
        led = led or _lead(layout, own, measured[row : row + 1], free, False)
        closes[row] = led is not None
        if led is not None:
            state.rotation[row], state.offset[row] = led.rotation[0], led.offset[0]
    return Settled(basis, state, closes, at_zero)


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
        if closed[0] and _near(begin, moved, pose)[0]:
            share, state, step = target, moved, min(0.5, 2.0 * step)
        elif step > _LEAST_SHARE:
            step *= 0.5
        else:
            return None
    return state


def _near(before: State, after: State, pose: Pose) -> Mask:
    """Closed without leaping: no carrier turned more than 0.35 rad in one step (a jump of branch turns further)."""
    turned = (before.rotation * after.rotation).sum(axis=(2, 3)).min(axis=1)
    near: Mask = (turned > 1.0 + 2.0 * np.cos(0.35)) & np.isfinite(pose.length).all(axis=1)
    return near
