"""Poses of one assembly: places, lengths and their first and second derivatives.

Every carrier moves by a spatial twist made of the unknowns' fixed twists, so a place x on it has the velocity
turn × x + shift and, along the exponential of the twist, the second-order term turn × (turn × x + shift).
Source: Murray, Li and Sastry, A Mathematical Introduction to Robotic Manipulation, 1994, ch. 2 (from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np

from leverwright.geometry import Array, cross, rigid_motion, square_dirs, turn_angle, unit
from leverwright.linkage.layout import Index, Layout
from leverwright.linkage.mechanism import Geometry, joined_geometries

__all__ = [
    "Basis",
    "Pose",
    "State",
    "advance",
    "angle_of_turns",
    "basis_of",
    "evaluate",
    "joined_bases",
    "joined_poses",
    "joined_states",
    "place_of",
    "second_order",
    "start_state",
    "turn_dirs",
    "wheel_paths",
]

_LEVEL = (
    0.1  # of a direction of length 1, 6 deg: a nearly level hinge is told by which way it points otherwise
)

_UP = np.array([0.0, 0.0, 1.0])
_FEW = 12  # poses; for so few, many small products are the quicker


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
    twist: Array  # (G, 6, Q) turn, then shift
    carry: Array  # (G, 6 M, Q) the twist of each moving carrier
    member: Array  # (B, Q) 1 where the unknown moves the carrier
    foot_set_up: Array  # (G, F, 3) m
    guide_offset: Array  # (G, B, 3) m
    bar_length: Array  # (G, L) m, bars and links of the layout
    spin_dq: Array  # (G, n, Q) rows of straight bodies' own spins

    def __getitem__(self, which: slice | Index) -> Basis:
        """The numbers of these poses; the same numbers where all poses share them."""
        if len(self.twist) == 1:
            return self
        numbers = self.geometry
        return Basis(
            self.layout,
            Geometry(numbers.points[which], numbers.bar_length[which], numbers.hold[which]),
            self.turn[which],
            self.shift[which],
            self.twist[which],
            self.carry[which],
            self.member,
            self.foot_set_up[which],
            self.guide_offset[which],
            self.bar_length[which],
            self.spin_dq[which],
        )


@dataclass(frozen=True, slots=True)
class Pose:
    """Everything first order at each pose; E equations, S lines (springs and straps), W wheels."""

    foot: Array  # (P, F, 3) m
    residual: Array  # (P, E) m
    residual_dq: Array  # (P, E, Q)
    joint_dirs: Array  # (P, Ej, 3) direction of each joint equation
    pair_dir: Array  # (P, L+S, 3) from second foot to first: bars and links, then lines
    length: Array  # (P, L+S) m
    length_dq: Array  # (P, L+S, Q)
    wheel_height: Array  # (P, W) m above the set-up pose
    wheel_dq: Array  # (P, W, Q)

    def __getitem__(self, poses: slice | Index) -> Pose:
        return Pose(
            self.foot[poses],
            self.residual[poses],
            self.residual_dq[poses],
            self.joint_dirs[poses],
            self.pair_dir[poses],
            self.length[poses],
            self.length_dq[poses],
            self.wheel_height[poses],
            self.wheel_dq[poses],
        )


def joined_states(parts: Sequence[State]) -> State:
    """All states of the parts, in order."""
    return State(np.concatenate([p.rotation for p in parts]), np.concatenate([p.offset for p in parts]))


def joined_poses(parts: Sequence[Pose]) -> Pose:
    """All poses of the parts, in order."""
    return Pose(*(np.concatenate([getattr(p, f.name) for p in parts]) for f in fields(Pose)))


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
    twist = np.concatenate([turn, shift], axis=2).transpose(0, 2, 1).copy()
    carry = (layout.action.moves[:, None, :] * twist[:, None]).reshape(
        groups, 6 * len(layout.action.moving), layout.unknowns
    )
    return Basis(
        layout,
        geometry,
        turn,
        shift,
        twist,
        carry,
        member,
        places[:, [p for _, p in layout.feet]],
        guide,
        _bar_length(layout, geometry),
        _spin_rows(layout, turn, member),
    )


def joined_bases(bases: Sequence[Basis]) -> Basis:
    """The numbers of each in turn; all of one layout."""
    first = bases[0]
    if len(bases) == 1:
        return first
    arrays = ("turn", "shift", "twist", "carry", "foot_set_up", "guide_offset", "bar_length", "spin_dq")
    turn, shift, twist, carry, *rest = (np.concatenate([getattr(b, n) for b in bases]) for n in arrays)
    geometry = joined_geometries([b.geometry for b in bases])
    return Basis(first.layout, geometry, turn, shift, twist, carry, first.member, *rest)


def start_state(basis: Basis, poses: int) -> State:
    """The set-up pose, `poses` times; led points stand where they are held."""
    carriers = len(basis.layout.carriers.each)
    rotation = np.broadcast_to(np.eye(3), (poses, carriers, 3, 3)).copy()
    return State(rotation, np.broadcast_to(basis.guide_offset, (poses, carriers, 3)).copy())


def advance(basis: Basis, state: State, step: Array) -> State:
    """The state after each unknown moves by `step` (P, Q) m."""
    moving = basis.layout.action.moving
    moves = np.matmul(basis.carry, step[:, :, None]).reshape(len(step), len(moving), 6)
    turned, shifted = rigid_motion(moves[..., :3], moves[..., 3:])
    rotation, offset = state.rotation.copy(), state.offset.copy()
    rotation[:, moving] = np.matmul(turned, state.rotation[:, moving])
    offset[:, moving] = np.matmul(turned, state.offset[:, moving, :, None])[..., 0] + shifted
    return State(rotation, offset)


def place_of(basis: Basis, state: State, carrier: int, point: int) -> Array:
    """Place (P, 3) m of a point carried by a carrier."""
    at = basis.geometry.points[:, point, :, None]
    out: Array = np.matmul(state.rotation[:, carrier], at)[..., 0] + state.offset[:, carrier]
    return out


def evaluate(basis: Basis, state: State) -> Pose:
    """Places, equations and lengths with their Jacobians at each pose."""
    layout = basis.layout
    action, rows = layout.action, layout.joint_rows
    foot = np.matmul(state.rotation[:, layout.foot_carrier], basis.foot_set_up[..., None])[..., 0]
    foot += state.offset[:, layout.foot_carrier]
    apart = np.matmul(action.apart, foot)
    joints, bars, wheels = len(rows.carrier), len(layout.bars), len(layout.wheel_feet)
    joint_dirs = np.matmul(state.rotation[:, rows.carrier], rows.set_up_dir[:, :, None])[..., 0]
    span = apart[:, joints:]
    length = np.sqrt((span * span).sum(axis=2))
    pair_dir = span / length[:, :, None]
    end = len(action.foot) - wheels
    along = np.empty((len(foot), len(action.foot), 3))
    along[:, :joints] = along[:, joints : 2 * joints] = joint_dirs
    along[:, 2 * joints : end] = pair_dir
    along[:, end:] = _UP
    rows_dq = _power(basis, along, foot[:, action.foot])
    rows_dq *= action.sign
    length_dq = rows_dq[:, 2 * joints : end]
    held, held_dq = _held_rows(basis, state)
    first_bar = joints + len(layout.spins) + len(layout.held)
    residual = np.zeros((len(foot), first_bar + bars))
    residual[:, :joints] = (joint_dirs * apart[:, :joints]).sum(axis=2)
    residual[:, first_bar - len(layout.held) : first_bar] = held
    residual[:, first_bar:] = length[:, :bars] - basis.bar_length
    residual_dq = np.empty((len(foot), first_bar + bars, layout.unknowns))
    residual_dq[:, :joints] = rows_dq[:, :joints] + rows_dq[:, joints : 2 * joints]
    residual_dq[:, joints : joints + len(layout.spins)] = basis.spin_dq
    residual_dq[:, first_bar - len(layout.held) : first_bar] = held_dq
    residual_dq[:, first_bar:] = length_dq[:, :bars]
    height = (foot[..., 2] - basis.foot_set_up[..., 2])[:, layout.wheel_feet]
    return Pose(
        foot, residual, residual_dq, joint_dirs, pair_dir, length, length_dq, height, rows_dq[:, end:]
    )


def _power(basis: Basis, along: Array, at: Array) -> Array:
    """Speed (P, R, Q) along directions (P, R, 3) that each unknown's twist has at places (P, R, 3)."""
    line = np.concatenate([cross(at, along), along], axis=2)
    if (
        len(basis.twist) == 1 and len(at) > _FEW
    ):  # one product of plain matrices: quicker than many small ones
        out: Array = np.tensordot(line, basis.twist[0], axes=(2, 0))
        return out
    few: Array = np.matmul(line, basis.twist)
    return few


def wheel_paths(basis: Basis, pose: Pose) -> Array:
    """Velocity (P, W, Q, 3) that each unknown gives each wheel's centre."""
    feet = basis.layout.wheel_feet
    at = pose.foot[:, feet, None]
    moves = basis.layout.action.foot_moves[feet, :, None]
    return (cross(basis.turn[:, None], at) + basis.shift[:, None]) * moves


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


def _spin_rows(layout: Layout, turn: Array, member: Array) -> Array:
    """Rows (G, n, Q) that hold each straight body's own spin still."""
    rows = np.zeros((len(turn), len(layout.spins), layout.unknowns))
    for index, (carrier, first, second) in enumerate(layout.spins):
        axis = unit(layout.mechanism.points[second] - layout.mechanism.points[first])
        reach = layout.reach[layout.unknown_carrier == carrier].max()
        rows[:, index] = np.einsum("gqi,i->gq", turn, axis) * member[carrier] * reach
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
    if not layout.held:
        return np.zeros((len(state.offset), 0)), np.zeros((len(state.offset), 0, layout.unknowns))
    mechanism = layout.mechanism
    bodies = tuple(mechanism.held_turns[i].bodies for i in layout.held)
    angle, rows = angle_of_turns(basis, state, bodies)
    first = len(mechanism.guides)
    held = basis.geometry.hold[:, [first + i for i in layout.held]]
    return angle - held, rows  # rad as if it were metres at one metre: a row's scale does not move its root


def second_order(basis: Basis, pose: Pose, rate: Array) -> tuple[Array, Array, Array]:
    """The part of each second derivative that is there without acceleration, for drivers K.

    rate  (P, Q, K)  unknowns per driver
    Returns rows (P, E, K, K), lengths (P, L+S, K, K) and wheel heights (P, W, K, K), each symmetric in K.
    """
    layout = basis.layout
    action = layout.action
    joints, bars, drivers = len(layout.joint_rows.carrier), len(layout.bars), rate.shape[2]
    carried = (action.foot_moves[:, None, :] * basis.twist[:, None]).reshape(
        len(basis.twist), 6 * len(layout.feet), layout.unknowns
    )
    moves = np.matmul(carried, rate).reshape(len(rate), len(layout.feet), 6, drivers)
    turn = moves[:, :, :3].transpose(0, 3, 1, 2)  # (P, K, F, 3)
    velocity = cross(turn, pose.foot[:, None]) + moves[:, :, 3:].transpose(0, 3, 1, 2)
    bend = cross(turn[:, :, None], velocity[:, None])  # (P, K, K, F, 3)
    if drivers > 1:
        bend = 0.5 * (bend + bend.transpose(0, 2, 1, 3, 4))
    apart = np.matmul(action.apart[joints:], velocity)  # (P, K, L+S, 3)
    along = (apart * pose.pair_dir[:, None]).sum(axis=-1)
    bent = np.matmul(action.apart, bend)  # (P, K, K, Ej+L+S, 3)
    dirs = np.concatenate([pose.joint_dirs, pose.pair_dir], axis=1)
    rows2 = (bent * dirs[:, None, None]).sum(axis=-1).transpose(0, 3, 1, 2)
    across = (apart[:, :, None] * apart[:, None]).sum(axis=-1) - along[:, :, None] * along[:, None]
    lengths = rows2[:, joints:] + across.transpose(0, 3, 1, 2) / pose.length[:, :, None, None]
    rows = np.zeros((*pose.residual.shape, drivers, drivers))
    rows[:, :joints] = rows2[:, :joints]
    if bars:
        rows[:, -bars:] = lengths[:, :bars]
    return rows, lengths, bend[..., 2].transpose(0, 3, 1, 2)[:, layout.wheel_feet]
