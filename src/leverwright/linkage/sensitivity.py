"""How poses answer to every measured place and length: the implicit-function theorem on the one Jacobian.

At fixed drivers g(q, p) = 0 gives dq/dp = -(dg/dq)^-1 dg/dp: one Newton step of the posed linkage with the places
moved. What hangs on the pose is then evaluated on both sides of the file's numbers, so that no derivative of a
formula has to be written twice. Source: Haftka and Gürdal, Elements of Structural Optimization, 1992, ch. 7
(from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, rigid_motion
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
) -> Basis:
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
    return basis_of(layout, Geometry(points, length, np.repeat(geometry.hold, 2 * count, axis=0)))


def _restate(basis: Basis, moved: Basis, state: State) -> State:
    """The same coordinates with other places: hinges on the chassis keep their angle about their moved line."""
    layout = basis.layout
    groups = moved.geometry.points.shape[0]
    rotation = np.repeat(state.rotation, groups, axis=0)
    offset = np.repeat(state.offset, groups, axis=0)
    first = np.searchsorted(
        layout.unknown_carrier, layout.moving
    )  # each carrier's first unknown; they come in order
    hinged = first[layout.hinge_to[first] >= 0]
    if len(hinged):
        carrier, reach = layout.unknown_carrier[hinged], layout.reach[hinged, None]
        here = state.rotation[0, carrier]
        angle = _angle_about(basis.turn[0, hinged] * reach, here)
        turned = angle[:, None] * moved.turn[:, hinged] * reach
        rotation[:, carrier] = rigid_motion(turned, np.zeros_like(turned))[0]
    pinned = first[layout.centre_point[first] >= 0]
    carrier = layout.unknown_carrier[pinned]
    centre = moved.geometry.points[:, layout.centre_point[pinned]]
    offset[:, carrier] = centre - np.matmul(rotation[:, carrier], centre[..., None])[..., 0]
    return State(rotation, offset)


def _angle_about(axis_dir: Array, rotation: Array) -> Array:
    """Angle [rad] in (-pi, pi] of rotations (n, 3, 3) about their axes (n, 3)."""
    twice_sine = axis_dir[:, 0] * (rotation[:, 2, 1] - rotation[:, 1, 2])
    twice_sine += axis_dir[:, 1] * (rotation[:, 0, 2] - rotation[:, 2, 0])
    twice_sine += axis_dir[:, 2] * (rotation[:, 1, 0] - rotation[:, 0, 1])
    angle: Array = np.arctan2(twice_sine, rotation[:, 0, 0] + rotation[:, 1, 1] + rotation[:, 2, 2] - 1.0)
    return angle


def shifted(basis: Basis, state: State, drive: Drive, moved: Basis) -> Shifted:
    """The pose (P = 1) with each number moved, wheels held at the same heights."""
    here = evaluate(basis, state)
    heights = np.einsum("rw,pw->pr", drive.weights, here.wheel_height)
    rows = np.concatenate([here.residual_dq, np.einsum("rw,pwq->prq", drive.weights, here.wheel_dq)], axis=1)
    across = np.linalg.pinv(rows[0], rcond=1e-11)
    restated = _restate(basis, moved, state)
    pose = evaluate(moved, restated)
    miss = np.concatenate(
        [pose.residual, np.einsum("rw,pw->pr", drive.weights, pose.wheel_height) - heights], axis=1
    )
    closed = advance(moved, restated, -np.einsum("qe,pe->pq", across, miss))
    return Shifted(moved, closed, evaluate(moved, closed))


def shifted_end(basis: Basis, state: State, drive: Drive, along: Array, moved: Basis) -> Array:
    """How the travel [m] of an end of the linkage (a fold) answers to each number, per metre, (G / 2,).

    At a fold travel does not change along the way, so its derivative is taken square to the way: envelope theorem.
    """
    here = evaluate(basis, state)
    driven = np.einsum("rw,pwq->prq", drive.weights, here.wheel_dq)[0]
    height = np.einsum("rw,pw->pr", drive.weights, here.wheel_height)
    upper = np.concatenate([here.residual_dq[0], np.zeros((here.residual.shape[1], 1))], axis=1)
    lower = np.concatenate([driven, -drive.follow[:, None]], axis=1)
    rows = np.concatenate([upper, lower, np.atleast_2d(along)])
    pose = evaluate(moved, _restate(basis, moved, state))
    wheel = np.einsum("rw,pw->pr", drive.weights, pose.wheel_height) - height
    miss = np.concatenate([pose.residual, wheel, np.zeros((len(wheel), 1))], axis=1)
    step = least_step(rows[None], -miss.T[None])[0, -1]
    half = len(step) // 2
    out: Array = (step[:half] - step[half:]) / (2.0 * STEP)
    return out
