"""How poses answer to every measured place and length: the implicit-function theorem on the one Jacobian.

At fixed drivers g(q, p) = 0 gives dq/dp = -(dg/dq)^-1 dg/dp: one Newton step of the posed linkage with the places
moved. What hangs on the pose is then evaluated on both sides of the file's numbers, so that no derivative of a
formula has to be written twice. Source: Haftka and Gürdal, Elements of Structural Optimization, 1992, ch. 7
(from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, rigid_motion, turn_angle, unit
from leverwright.geometry import square_dirs as sides_of
from leverwright.linkage.closing import Drive, least_step
from leverwright.linkage.kinematics import Basis, Pose, State, advance, basis_of, evaluate
from leverwright.linkage.layout import Layout
from leverwright.linkage.mechanism import Geometry, measured_bar_length

__all__ = ["STEP", "Shifted", "places_of", "shift_geometry", "shifted", "shifted_end"]

STEP = 1e-6  # m each way; the square of it over an arm of 50 mm is 4e-10, rounding over it 1e-9


@dataclass(frozen=True, slots=True)
class Shifted:
    """The same pose with each number moved up, then each moved down: 2 G poses."""

    basis: Basis
    state: State
    pose: Pose


def places_of(layout: Layout) -> tuple[int, ...]:
    """Points whose place this assembly's answers can hang on: on its carriers, its hinges, its feet."""
    points = {p for c in layout.moving for p in layout.carriers.each[c].points}
    points |= {p for _, p in layout.feet}
    return tuple(sorted(points))


def shift_geometry(
    layout: Layout, geometry: Geometry, coordinates: list[tuple[int, int]], bars: list[int]
) -> Geometry:
    """Numbers with coordinate (point, axis) k moved by STEP, then bars' stated lengths; first all up, then all down.

    Bars that state no length keep the distance between their places, so they change with them.
    """
    count = len(coordinates) + len(bars)
    points = np.repeat(geometry.points, 2 * count, axis=0)
    for sign, start in ((1.0, 0), (-1.0, count)):
        for k, (point, axis) in enumerate(coordinates):
            points[start + k, point, axis] += sign * STEP
    length = measured_bar_length(layout.mechanism, points)
    for column, bar in enumerate(layout.mechanism.bars):
        if bar.length is not None:
            length[:, column] = geometry.bar_length[0, column]
    for sign, start in ((1.0, 0), (-1.0, count)):
        for k, bar_index in enumerate(bars):
            length[start + len(coordinates) + k, bar_index] += sign * STEP
    return Geometry(points, length, np.repeat(geometry.hold, 2 * count, axis=0))


def _restate(basis: Basis, moved: Basis, state: State) -> State:
    """The same coordinates with other places: hinges on the chassis keep their angle about their moved line."""
    layout = basis.layout
    groups = moved.geometry.points.shape[0]
    rotation = np.repeat(state.rotation, groups, axis=0)
    offset = np.repeat(state.offset, groups, axis=0)
    for carrier in layout.moving:
        column = int(np.flatnonzero(layout.unknown_carrier == carrier)[0])
        point = int(layout.centre_point[column])
        if point < 0:
            continue
        if layout.hinge_to[column] >= 0:
            rotation[:, carrier] = _turned(basis, moved, state.rotation[0, carrier], column)
        centre = moved.geometry.points[:, point]
        offset[:, carrier] = centre - np.matmul(rotation[:, carrier], centre[:, :, None])[..., 0]
    return State(rotation, offset)


def _turned(basis: Basis, moved: Basis, rotation: Array, column: int) -> Array:
    layout = basis.layout
    ends = int(layout.centre_point[column]), int(layout.hinge_to[column])
    places = basis.geometry.points[0]
    axis = unit(places[ends[1]] - places[ends[0]])
    first, second = sides_of(axis)
    angle = float(turn_angle(first, second, rotation @ first))
    lines = unit(moved.geometry.points[:, ends[1]] - moved.geometry.points[:, ends[0]])
    return rigid_motion(angle * lines, np.zeros_like(lines))[0]


def shifted(basis: Basis, state: State, drive: Drive, moved: Geometry) -> Shifted:
    """The pose (P = 1) with each number moved, wheels held at the same heights."""
    here = evaluate(basis, state)
    heights = np.einsum("rw,pw->pr", drive.weights, here.wheel_height)
    rows = np.concatenate([here.residual_dq, np.einsum("rw,pwq->prq", drive.weights, here.wheel_dq)], axis=1)
    across = np.linalg.pinv(rows[0], rcond=1e-11)
    other = basis_of(basis.layout, moved)
    restated = _restate(basis, other, state)
    pose = evaluate(other, restated)
    miss = np.concatenate(
        [pose.residual, np.einsum("rw,pw->pr", drive.weights, pose.wheel_height) - heights], axis=1
    )
    closed = advance(other, restated, -np.einsum("qe,pe->pq", across, miss))
    return Shifted(other, closed, evaluate(other, closed))


def shifted_end(basis: Basis, state: State, drive: Drive, along: Array, moved: Geometry) -> Array:
    """How the travel [m] of an end of the linkage (a fold) answers to each number, per metre, (G / 2,).

    At a fold travel does not change along the way, so its derivative is taken square to the way: envelope theorem.
    """
    here = evaluate(basis, state)
    driven = np.einsum("rw,pwq->prq", drive.weights, here.wheel_dq)[0]
    height = np.einsum("rw,pw->pr", drive.weights, here.wheel_height)
    upper = np.concatenate([here.residual_dq[0], np.zeros((here.residual.shape[1], 1))], axis=1)
    lower = np.concatenate([driven, -drive.follow[:, None]], axis=1)
    rows = np.concatenate([upper, lower, along[None]])
    other = basis_of(basis.layout, moved)
    pose = evaluate(other, _restate(basis, other, state))
    wheel = np.einsum("rw,pw->pr", drive.weights, pose.wheel_height) - height
    miss = np.concatenate([pose.residual, wheel, np.zeros((len(wheel), 1))], axis=1)
    step = least_step(rows[None], -miss.T[None])[0, -1]
    half = len(step) // 2
    out: Array = (step[:half] - step[half:]) / (2.0 * STEP)
    return out
