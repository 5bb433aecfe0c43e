"""Forces in bars and joints that hold the springs at each pose, by the transpose of the one Jacobian.

The weight of parts is left out. What an over-constrained loop shares between its members cannot be told and is NaN.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from leverwright.geometry import Array, cross, unit
from leverwright.linkage.closing import Problem, least_step
from leverwright.linkage.freedom import null_space
from leverwright.linkage.kinematics import Basis, Pose, State
from leverwright.linkage.layout import Layout
from leverwright.linkage.mechanism import CHASSIS

__all__ = ["Forces", "forces_of", "joint_points"]

_UNHELD = 1e-6  # share of the largest spring effect; more left over means that nothing holds a motion


@dataclass(frozen=True, slots=True)
class Forces:
    """bar_tension (P, L) N + pulls; wheel_force (P, W) N ground on wheel, + up; joint_force (P, J, 3) N.

    joint_force acts on the body that comes first in the file, from all other bodies at that point together;
    axial_at (J,) marks points that carry the whole force along their hinge line. balance (P,) N is what is
    left over on the worst body when all forces are summed again.
    """

    bar_tension: Array
    wheel_force: Array
    joint_force: Array
    axial_at: tuple[bool, ...]
    balance: Array


@lru_cache(maxsize=64)
def joint_points(layout: Layout) -> tuple[int, ...]:
    """Points of the assembly carried by two bodies or more, in the order of the file."""
    mechanism = layout.mechanism
    mine = {p for c in layout.moving for p in layout.carriers.each[c].points}
    counts = [sum(p in points for points in mechanism.body_points) for p in range(len(mechanism.point_names))]
    links = {p for pair in layout.bars if pair.kind == "link" for p in mechanism.body_points[pair.item]}
    return tuple(p for p, n in enumerate(counts) if n >= 2 and (p in mine or p in links))


def forces_of(problem: Problem, state: State, pose: Pose, push: Array) -> Forces:
    """Forces for spring pushes (P, S): N along each line, + presses its ends apart; N·m about each hinge spring.

    A hinge spring's number is the torque on its first body about the hinge direction (towards larger angle).
    """
    from leverwright.linkage.rates import spring_lengths

    basis = problem.basis
    layout = basis.layout
    equations = pose.residual_dq.shape[1]
    pattern = ground_pattern(problem.drive.weights)
    exact = problem.exact and len(pattern) in (1, len(problem.drive.weights))
    rows = np.concatenate([pose.residual_dq, np.einsum("rw,pwq->prq", pattern, pose.wheel_dq)], axis=1)
    _, length_dq = spring_lengths(basis, state, pose)
    spring = np.einsum("ps,psq->pq", push, length_dq)
    across = rows.transpose(0, 2, 1)
    solve = problem.solve if exact else least_step
    multiplier = solve(across, -spring[:, :, None])[:, :, 0]
    multiplier = _known_only(rows, multiplier, exact)
    left = np.einsum("pqe,pe->pq", across, np.nan_to_num(multiplier)) + spring
    scale = np.abs(spring).max(axis=1, initial=0.0) + 1e-9
    unheld = np.abs(left).max(axis=1, initial=0.0) > _UNHELD * scale
    if not exact and np.any(unheld & ~np.isnan(multiplier).any(axis=1)):
        multiplier = np.where(unheld[:, None], np.nan, multiplier)
    bars = len(layout.bars)
    tension = -multiplier[:, equations - bars : equations]
    wheels = np.einsum("pr,rw->pw", multiplier[:, equations:], pattern)
    acting = _acting(problem, state, pose, push, (tension, wheels))
    joint, axial, balance = _joint_forces(problem, state, pose, multiplier, acting)
    return Forces(tension, wheels, joint, axial, balance)


def ground_pattern(weights: Array) -> Array:
    """How the ground's forces (R, W) may share: all alike where one motion moves them all, else each wheel its own.

    With fewer motions than wheels, but more than one, what each takes cannot be told: the rows then repeat.
    """
    rows, wheels = weights.shape
    return np.full((1, wheels), 1.0 / wheels) if rows == 1 else np.eye(wheels)


def _known_only(rows: Array, multiplier: Array, exact: bool) -> Array:
    """Multipliers with NaN where rows that repeat one another share a force in a way nothing settles."""
    if exact:
        return multiplier
    out = multiplier.copy()
    for pose in {
        0,
        len(rows) // 2,
        len(rows) - 1,
    }:  # what repeats at one pose of the way repeats at all of them
        loose = null_space(rows[pose].T)
        if loose.shape[1]:
            out[:, np.abs(loose).max(axis=1) > 1e-7] = np.nan
    return out


@dataclass(frozen=True, slots=True)
class _Acting:
    """Forces on feet: on each foot (P, F, 3) N from bars, links, springs and the ground."""

    on_foot: Array
    links: dict[int, Array]  # point -> pull (P, 3) of plain links on the foot there
    others: dict[int, Array]  # point -> force (P, 3) of bars and springs there
    torque: dict[int, Array]  # carrier -> torque (P, 3) of hinge springs


def _acting(problem: Problem, state: State, pose: Pose, push: Array, held: tuple[Array, Array]) -> _Acting:
    basis = problem.basis
    tension, wheels = held
    layout = basis.layout
    on_foot = np.zeros(pose.foot.shape)
    links: dict[int, Array] = {}
    others: dict[int, Array] = {}
    lines = len(layout.lines)
    along = (
        np.concatenate([tension, -push[:, :lines]], axis=1)[:, :, None] * -pose.pair_dir
    )  # on the first foot
    for index, pair in enumerate((*layout.bars, *layout.lines)):
        for foot, force in ((pair.feet[0], along[:, index]), (pair.feet[1], -along[:, index])):
            on_foot[:, foot] += force
            point = layout.feet[foot][1]
            book = links if pair.kind == "link" else others
            book[point] = book.get(point, 0.0) + force
    for index, foot in enumerate(layout.wheel_feet):
        on_foot[:, foot, 2] += wheels[:, index]
    return _Acting(on_foot, links, others, _hinge_torques(basis, state, push))


def _joint_forces(
    problem: Problem, state: State, pose: Pose, multiplier: Array, acting: _Acting
) -> tuple[Array, tuple[bool, ...], Array]:
    layout = problem.basis.layout
    at_pin: dict[tuple[int, int], Array] = {}  # (carrier, point) -> force on the carrier there
    row = 0
    flat = layout.mechanism.normal is not None
    for joint in layout.joints:
        rows = 2 if flat or joint.axis_to is not None else 3
        force = np.einsum("pe,pei->pi", multiplier[:, row : row + rows], pose.joint_dirs[:, row : row + rows])
        for carrier, signed in ((joint.carriers[0], force), (joint.carriers[1], -force)):
            key = (carrier, joint.point)
            at_pin[key] = at_pin.get(key, 0.0) + signed
        row += rows
    _unknown_in_line(layout, at_pin, len(pose.foot))
    axial = {joint.axis_to for joint in layout.joints if joint.axis_to is not None}
    worst = np.zeros(len(pose.foot))
    for carrier in layout.moving:
        left = _balance_carrier(problem.basis, _Posed(state, pose, acting), carrier, at_pin, axial)
        worst = np.fmax(worst, left)
    points = joint_points(layout)
    forces = np.zeros((len(pose.foot), len(points), 3))
    for index, point in enumerate(points):
        forces[:, index] = _on_first_body(layout, point, at_pin, acting, len(pose.foot))
    return forces, tuple(p in axial for p in points), worst


def _unknown_in_line(layout: Layout, at_pin: dict[tuple[int, int], Array], poses: int) -> None:
    """Two moving bodies joined at three points in one line: what each point takes cannot be told."""
    each = layout.carriers.each
    for joint in layout.joints:
        if joint.axis_to is None:
            continue
        first, second = joint.carriers
        shared = [p for p in each[first].points if p in each[second].points]
        if len(shared) > 2:
            at_pin |= {(c, p): np.full((poses, 3), np.nan) for c in joint.carriers for p in shared}


def _hinge_torques(basis: Basis, state: State, push: Array) -> dict[int, Array]:
    """Torque (P, 3) on each carrier from hinge springs."""
    from leverwright.linkage.kinematics import turn_dirs

    layout = basis.layout
    out: dict[int, Array] = {}
    for index, turn in enumerate(layout.turns):
        bodies = layout.mechanism.turns[turn].bodies
        axis_dir, *_, on = turn_dirs(basis, state, bodies)
        torque = push[:, len(layout.lines) + index, None] * axis_dir
        out[on[0]] = out.get(on[0], 0.0) + torque
        out[on[1]] = out.get(on[1], 0.0) - torque
    return out


@dataclass(frozen=True, slots=True)
class _Posed:
    """One state with what acts on it."""

    state: State
    pose: Pose
    acting: _Acting


def _balance_carrier(
    basis: Basis, posed: _Posed, carrier: int, at_pin: dict[tuple[int, int], Array], axial: set[int]
) -> Array:
    """Sum what acts on one carrier, give its chassis joint what is missing, return what is then left over (P,)."""
    state, pose, acting = posed.state, posed.pose, posed.acting
    layout = basis.layout
    places = basis.geometry.points
    feet = [f for f, (c, _) in enumerate(layout.feet) if c == carrier]
    force = acting.on_foot[:, feet].sum(axis=1)
    moment = cross(pose.foot[:, feet], acting.on_foot[:, feet]).sum(axis=1) + acting.torque.get(carrier, 0.0)
    rotation, offset = state.rotation[:, carrier], state.offset[:, carrier]
    for (on, point), pin in at_pin.items():
        if on == carrier:
            at = np.matmul(rotation, places[:, point, :, None])[..., 0] + offset
            force = force + pin
            moment = moment + cross(at, pin)
    shared = [p for p in layout.carriers.each[carrier].points if p in layout.carriers.each[CHASSIS].points]
    if shared:
        first = np.broadcast_to(places[:, shared[0]], force.shape)
        about = moment - cross(first, force)
        at_second = np.zeros(force.shape)
        if len(shared) >= 2 and layout.mechanism.normal is None:
            column = int(np.flatnonzero(layout.unknown_carrier == carrier)[0])
            second = int(layout.hinge_to[column])
            span = np.broadcast_to(places[:, second] - places[:, shared[0]], force.shape)
            # span × f = -about, with f square to the hinge: f = span × about / span².
            at_second = cross(span, about) / np.einsum("pi,pi->p", span, span)[:, None]
            at_pin[(carrier, second)] = at_second
            axial.add(shared[0])
            about = about + cross(span, at_second)
        at_pin[(carrier, shared[0])] = -force - at_second
        if (
            len(shared) > 2 and layout.mechanism.normal is None
        ):  # three bearings in line: what each takes cannot be told
            at_pin |= {(carrier, point): np.full(force.shape, np.nan) for point in shared}
        return _moment_left(basis, carrier, about)
    centre = pose.foot[:, feet].mean(axis=1)
    about = moment - cross(centre, force)
    out: Array = np.sqrt(np.einsum("pi,pi->p", force, force)) + _moment_left(basis, carrier, about)
    return out


def _moment_left(basis: Basis, carrier: int, about: Array) -> Array:
    """Moment (P,) left over, as a force at the carrier's own reach; a flat drawing's only about its normal."""
    layout = basis.layout
    reach = float(layout.reach[layout.unknown_carrier == carrier].max())
    normal = layout.mechanism.normal
    if normal is not None:
        flat: Array = np.abs(about @ np.array(normal)) / reach
        return flat
    for on, first, second in layout.spins:
        if on == carrier:
            axis = unit(layout.mechanism.points[second] - layout.mechanism.points[first])
            about = about - np.einsum("pi,i->p", about, axis)[:, None] * axis
    out: Array = np.sqrt(np.einsum("pi,pi->p", about, about)) / reach
    return out


def _on_first_body(
    layout: Layout, point: int, at_pin: dict[tuple[int, int], Array], acting: _Acting, poses: int
) -> Array:
    mechanism = layout.mechanism
    sharing = mechanism.first_bodies(point)
    carrier = layout.carriers.of_body[sharing[0]]
    zero = np.zeros((poses, 3))
    owners = {layout.carriers.of_body[body] for body in sharing}
    if len(owners) == 1:  # bodies joined for good at several points: what each point carries cannot be told
        return np.full((poses, 3), np.nan)
    pull = zero + acting.links.get(point, 0.0)
    if carrier < 0:
        return -pull - acting.others.get(point, 0.0)
    if carrier == CHASSIS:
        pins = [force for (_, at), force in at_pin.items() if at == point]
        return pull - sum(pins, zero)
    return pull + at_pin.get((carrier, point), 0.0)
