"""Poses of one assembly: places, lengths and their first and second derivatives.

Every carrier moves by a spatial twist made of the unknowns' fixed twists, so a place x on it has the velocity
turn × x + shift and, along the exponential of the twist, the second-order term turn × (turn × x + shift).
Source: Murray, Li and Sastry, A Mathematical Introduction to Robotic Manipulation, 1994, ch. 2 (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, cross, rigid_motion, skew, square_dirs, turn_angle, unit
from leverwright.linkage.layout import Index, Layout
from leverwright.linkage.mechanism import Geometry

__all__ = [
    "Basis",
    "Pose",
    "State",
    "advance",
    "angle_of_turns",
    "basis_of",
    "evaluate",
    "place_of",
    "second_order",
    "start_state",
    "turn_dirs",
]

_LEVEL = (
    0.1  # of a direction of length 1, 6 deg: a nearly level hinge is told by which way it points otherwise
)

_FEW = 3  # poses; for so few, many small products are the quicker


@dataclass(frozen=True, slots=True)
class State:
    """Where every carrier is: place = rotation @ set-up place + offset; (P, B, 3, 3) and (P, B, 3) m."""

    rotation: Array
    offset: Array

    def __getitem__(self, poses: slice | Index) -> State:
        return State(self.rotation[poses], self.offset[poses])


@dataclass(frozen=True, slots=True)
class Basis:
    """The twist of each unknown (per metre of it), G as in Geometry."""

    layout: Layout
    geometry: Geometry
    turn: Array  # (G, Q, 3) 1/m
    shift: Array  # (G, Q, 3)
    turn_skew: Array  # (G, Q, 3, 3)
    member: Array  # (B, Q) 1 where the unknown moves the carrier
    foot_moves: Array  # (F, Q) 1 where the unknown moves the foot
    foot_set_up: Array  # (G, F, 3) m
    guide_offset: Array  # (G, B, 3) m
    bar_length: Array  # (G, L) m, bars and links of the layout


@dataclass(frozen=True, slots=True)
class Pose:
    """Everything first order at each pose; E equations, S lines (springs and straps), W wheels."""

    foot: Array  # (P, F, 3) m
    foot_dq: Array  # (P, F, Q, 3)
    residual: Array  # (P, E) m
    residual_dq: Array  # (P, E, Q)
    joint_dirs: Array  # (P, Ej, 3) direction of each joint equation
    pair_dir: Array  # (P, L+S, 3) from second foot to first: bars and links, then lines
    length: Array  # (P, L+S) m
    length_dq: Array  # (P, L+S, Q)
    wheel_height: Array  # (P, W) m above the set-up pose
    wheel_dq: Array  # (P, W, Q)


def basis_of(layout: Layout, geometry: Geometry) -> Basis:
    """The unknowns' twists for these numbers; hinge lines follow their points."""
    places = geometry.points
    groups = places.shape[0]
    turn = np.broadcast_to(layout.turn_dir, (groups, *layout.turn_dir.shape)).copy()
    centre = np.broadcast_to(layout.centre, turn.shape).copy()
    for q in np.flatnonzero(layout.centre_point >= 0):
        centre[:, q] = places[:, layout.centre_point[q]]
    for q in np.flatnonzero(layout.hinge_to >= 0):
        span = places[:, layout.hinge_to[q]] - places[:, layout.centre_point[q]]
        turn[:, q] = unit(span) / layout.reach[q]
    shift = layout.slide_dir + cross(centre, turn)
    carrier_count = len(layout.carriers.each)
    member = (np.arange(carrier_count)[:, None] == layout.unknown_carrier[None, :]).astype(float)
    guide = np.zeros((groups, carrier_count, 3))
    for index, carrier in enumerate(layout.carriers.each):
        if carrier.guide is not None:
            along = np.array(layout.mechanism.guides[carrier.guide].along)
            guide[:, index] = geometry.hold[:, carrier.guide, None] * along
    return Basis(
        layout,
        geometry,
        turn,
        shift,
        skew(turn),
        member,
        member[layout.foot_carrier],
        places[:, [p for _, p in layout.feet]],
        guide,
        _bar_length(layout, geometry),
    )


def start_state(basis: Basis, poses: int) -> State:
    """The set-up pose, `poses` times; led points stand where they are held."""
    carriers = len(basis.layout.carriers.each)
    rotation = np.broadcast_to(np.eye(3), (poses, carriers, 3, 3)).copy()
    return State(rotation, np.broadcast_to(basis.guide_offset, (poses, carriers, 3)).copy())


def advance(basis: Basis, state: State, step: Array) -> State:
    """The state after each unknown moves by `step` (P, Q) m."""
    turn = np.matmul(basis.member, basis.turn * step[:, :, None])
    shift = np.matmul(basis.member, basis.shift * step[:, :, None])
    rotation, offset = rigid_motion(turn, shift)
    return State(
        np.matmul(rotation, state.rotation), np.matmul(rotation, state.offset[..., None])[..., 0] + offset
    )


def place_of(basis: Basis, state: State, carrier: int, point: int) -> Array:
    """Place (P, 3) m of a point carried by a carrier."""
    at = basis.geometry.points[:, point, :, None]
    out: Array = np.matmul(state.rotation[:, carrier], at)[..., 0] + state.offset[:, carrier]
    return out


def evaluate(basis: Basis, state: State) -> Pose:
    """Places, equations and lengths with their Jacobians at each pose."""
    layout = basis.layout
    foot = np.matmul(state.rotation[:, layout.foot_carrier], basis.foot_set_up[..., None])[..., 0]
    foot += state.offset[:, layout.foot_carrier]
    foot_dq = _velocities(basis, foot)
    foot_dq *= basis.foot_moves[None, :, :, None]
    first, second = layout.pair_first, layout.pair_second
    span = foot[:, first] - foot[:, second]
    length = np.sqrt((span * span).sum(axis=2))
    pair_dir = span / length[:, :, None]
    length_dq = np.matmul(foot_dq[:, first] - foot_dq[:, second], pair_dir[..., None])[..., 0]
    joint_dirs, joint_rows, joint_dq = _joint_rows(basis, state, foot, foot_dq)
    spin_dq = _spin_rows(basis, foot)
    held_rows, held_dq = _held_rows(basis, state)
    bars = len(layout.bars)
    bar_rows = length[:, :bars] - basis.bar_length
    poses = len(foot)
    residual = np.concatenate([joint_rows, np.zeros((poses, spin_dq.shape[1])), held_rows, bar_rows], axis=1)
    residual_dq = np.concatenate([joint_dq, spin_dq, held_dq, length_dq[:, :bars]], axis=1)
    wheel_foot = foot[:, layout.wheel_feet]
    height = wheel_foot[..., 2] - basis.foot_set_up[..., 2][:, layout.wheel_feet]
    return Pose(
        foot,
        foot_dq,
        residual,
        residual_dq,
        joint_dirs,
        pair_dir,
        length,
        length_dq,
        height,
        foot_dq[..., 2][:, layout.wheel_feet],
    )


def _velocities(basis: Basis, foot: Array) -> Array:
    """Velocity (P, F, Q, 3) that each unknown's twist has at each foot (P, F, 3)."""
    turned: Array
    if (
        len(basis.turn_skew) == 1 and len(foot) > _FEW
    ):  # one product of plain matrices: a tenth of many small ones
        turned = np.tensordot(foot, basis.turn_skew[0], axes=(2, 2))
        return turned + basis.shift
    turned = np.matmul(basis.turn_skew[:, None], foot[:, :, None, :, None])[..., 0]
    return turned + basis.shift[:, None]


def _bar_length(layout: Layout, geometry: Geometry) -> Array:
    """Length [m] that each bar and link of the layout must keep, (G, L)."""
    columns = []
    for pair in layout.bars:
        if pair.kind == "bar":
            columns.append(geometry.bar_length[:, pair.item])
        else:
            first, second = layout.mechanism.body_points[pair.item]
            span = geometry.points[:, first] - geometry.points[:, second]
            columns.append(np.sqrt(np.einsum("gi,gi->g", span, span)))
    if not columns:
        return np.zeros((geometry.points.shape[0], 0))
    return np.stack(columns, axis=1)


def _joint_rows(basis: Basis, state: State, foot: Array, foot_dq: Array) -> tuple[Array, Array, Array]:
    """Gap [m] between the feet of each shared point, along two or three directions a joint."""
    rows = basis.layout.joint_rows
    along = np.matmul(state.rotation[:, rows.carrier], rows.set_up_dir[:, :, None])[..., 0]
    gap = (along * (foot[:, rows.first] - foot[:, rows.second])).sum(axis=2)
    gap_dq = np.matmul(foot_dq[:, rows.first] - foot_dq[:, rows.second], along[..., None])[..., 0]
    return along, gap, gap_dq


def _spin_rows(basis: Basis, foot: Array) -> Array:
    layout = basis.layout
    rows = np.zeros((len(foot), len(layout.spins), layout.unknowns))
    for index, (carrier, first, second) in enumerate(layout.spins):
        axis = unit(layout.mechanism.points[second] - layout.mechanism.points[first])
        on = basis.member[carrier]
        reach = layout.reach[layout.unknown_carrier == carrier].max()
        rows[:, index] = np.einsum("gqi,i->gq", basis.turn, axis) * on * reach
    return rows


def turn_dirs(
    basis: Basis, state: State, bodies: tuple[int, int]
) -> tuple[Array, Array, Array, Array, tuple[int, int]]:
    """Hinge direction (P, 3) on the second body, two sides of it there, and the first body's own first side."""
    layout = basis.layout
    mechanism = layout.mechanism
    on = (layout.carriers.of_body[bodies[0]], layout.carriers.of_body[bodies[1]])
    if mechanism.normal is not None:
        axis = np.array(mechanism.normal)
    else:
        shared = [p for p in mechanism.body_points[bodies[0]] if p in mechanism.body_points[bodies[1]]]
        axis = _pointing(unit(mechanism.points[shared[1]] - mechanism.points[shared[0]]))
    first, second = square_dirs(axis)
    base = state.rotation[:, on[1]]
    axis_dir, one, two = (np.einsum("pij,j->pi", base, d) for d in (axis, first, second))
    return axis_dir, one, two, np.einsum("pij,j->pi", state.rotation[:, on[0]], first), on


def _pointing(axis: Array) -> Array:
    """The direction (3,) or its opposite, whichever points more up than not; if level left, else forward.

    So that the sign of an angle never hangs on the order in which a file lists two points.
    """
    for component in (2, 1, 0):
        if abs(axis[component]) > _LEVEL:
            return axis if axis[component] > 0.0 else -axis
    return axis


def angle_of_turns(basis: Basis, state: State, turns: tuple[tuple[int, int], ...]) -> tuple[Array, Array]:
    """Angle [rad] of each hinge from the set-up pose (P, T) and its derivative (P, T, Q) 1/m."""
    poses = len(state.rotation)
    angle = np.zeros((poses, len(turns)))
    rows = np.zeros((poses, len(turns), basis.layout.unknowns))
    for index, bodies in enumerate(turns):
        axis_dir, one, two, moved, on = turn_dirs(basis, state, bodies)
        angle[:, index] = turn_angle(one, two, moved)
        sign = basis.member[on[0]] - basis.member[on[1]]
        rows[:, index] = (
            np.einsum("pqi,pi->pq", np.broadcast_to(basis.turn, (poses, *basis.turn.shape[1:])), axis_dir)
            * sign
        )
    return angle, rows


def _held_rows(basis: Basis, state: State) -> tuple[Array, Array]:
    layout = basis.layout
    mechanism = layout.mechanism
    bodies = tuple(mechanism.held_turns[i].bodies for i in layout.held)
    angle, rows = angle_of_turns(basis, state, bodies)
    if not bodies:
        return angle, rows
    first = len(mechanism.guides)
    held = basis.geometry.hold[:, [first + i for i in layout.held]]
    return angle - held, rows  # rad as if it were metres at one metre: a row's scale does not move its root


def second_order(basis: Basis, pose: Pose, rate: Array) -> tuple[Array, Array, Array]:
    """The part of each second derivative that is there without acceleration, for drivers K.

    rate  (P, Q, K)  unknowns per driver
    Returns rows (P, E, K, K), lengths (P, L+S, K, K) and wheel heights (P, W, K, K), each symmetric in K.
    """
    layout = basis.layout
    foot_velocity = np.einsum("pfqi,pqk->pfki", pose.foot_dq, rate)
    each = basis.turn[:, :, None, :] * rate[..., None]  # (P, Q, K, 3)
    turn = np.einsum("fq,pqki->pfki", basis.foot_moves, each)
    bend = cross(turn[:, :, :, None], foot_velocity[:, :, None, :])
    bend = 0.5 * (bend + bend.transpose(0, 1, 3, 2, 4))  # (P, F, K, K, 3)
    first, second = layout.pair_first, layout.pair_second
    apart = foot_velocity[:, first] - foot_velocity[:, second]
    along = np.einsum("plki,pli->plk", apart, pose.pair_dir)
    across = np.einsum("plki,plmi->plkm", apart, apart) - along[..., :, None] * along[..., None, :]
    lengths = np.einsum("plkmi,pli->plkm", bend[:, first] - bend[:, second], pose.pair_dir)
    lengths += across / pose.length[:, :, None, None]
    rows = np.zeros((*pose.residual.shape, rate.shape[2], rate.shape[2]))
    joint_count = pose.joint_dirs.shape[1]
    if joint_count:
        gap = bend[:, layout.joint_rows.first] - bend[:, layout.joint_rows.second]
        rows[:, :joint_count] = np.einsum("pekmi,pei->pekm", gap, pose.joint_dirs)
    bars = len(layout.bars)
    if bars:
        rows[:, -bars:] = lengths[:, :bars]
    return rows, lengths, bend[..., 2][:, layout.wheel_feet]
