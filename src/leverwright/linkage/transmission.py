"""The angle between a bar and the arm that it drives, and whether they have come into line."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from leverwright.geometry import Array, cross, unit
from leverwright.linkage.kinematics import Basis, Pose, State
from leverwright.linkage.layout import Layout, Pair

__all__ = ["IN_LINE", "DrivenEnd", "driven_ends", "fold", "transmission_angle"]

IN_LINE = np.deg2rad(
    0.5
)  # an end of motion is exact to 1e-4 rad; nothing but a dead centre comes so near to line


@dataclass(frozen=True, slots=True)
class DrivenEnd:
    """Where a bar drives an arm: the bar, which of its ends, the arm's hinge (two points, or one when flat).

    name, point and pivot are for people: the bar's name, the joint's point and the hinge's first point.
    """

    name: str
    bar: int  # place among the layout's bars
    end: int  # 0 or 1
    carrier: int
    hinge: tuple[int, ...]
    hinge_carrier: int  # carrier that the hinge line is fixed on
    point: int
    pivot: int


@lru_cache(maxsize=64)
def driven_ends(layout: Layout) -> tuple[DrivenEnd, ...]:
    """Every joint where a bar turns a hinged arm that lies further from the wheel than the bar's other end."""
    far = _distance_from_wheels(layout)
    found: list[DrivenEnd] = []
    for index, pair in enumerate(layout.bars):
        carriers = [layout.feet[f][0] for f in pair.feet]
        for end in (0, 1):
            mine, other = carriers[end], carriers[1 - end]
            if mine not in layout.moving or far.get(mine, 0) <= max(far.get(other, -1), 0):
                continue
            hinge = _hinge(layout, mine, other)
            if hinge is not None:
                points, on = hinge
                foot = layout.feet[pair.feet[end]][1]
                found.append(DrivenEnd(_name(layout, pair), index, end, mine, points, on, foot, points[0]))
    return tuple(found)


def _name(layout: Layout, pair: Pair) -> str:
    return (
        layout.mechanism.bars[pair.item].name
        if pair.kind == "bar"
        else layout.mechanism.body_names[pair.item]
    )


def _distance_from_wheels(layout: Layout) -> dict[int, int]:
    """Joints and bars from the nearest wheel's carrier to each carrier; the chassis and led points are not passed."""
    edges = [joint.carriers for joint in layout.joints]
    edges += [(layout.feet[pair.feet[0]][0], layout.feet[pair.feet[1]][0]) for pair in layout.bars]
    far = {layout.feet[f][0]: 0 for f in layout.wheel_feet}
    ring = set(far)
    while ring:
        following = {b for a, b in edges if a in ring} | {a for a, b in edges if b in ring}
        ring = {c for c in following if c not in far and c in layout.moving}
        for carrier in ring:
            far[carrier] = 1 + min(far[a] for e in edges if carrier in e for a in e if a in far)
    return far


def _hinge(layout: Layout, carrier: int, other: int) -> tuple[tuple[int, ...], int] | None:
    """The hinge that `carrier` turns on, not one on the bar's other carrier; None for a ball or nothing."""
    columns = np.flatnonzero(layout.unknown_carrier == carrier)
    if len(columns) == 1 and np.any(layout.turn_dir[columns[0]] != 0.0) and other != 0:
        ends = (int(layout.centre_point[columns[0]]), int(layout.hinge_to[columns[0]]))
        return tuple(p for p in ends if p >= 0), 0
    flat = layout.mechanism.normal is not None
    for joint in layout.joints:
        if carrier in joint.carriers and (flat or joint.axis_to is not None):
            partner = joint.carriers[1] if joint.carriers[0] == carrier else joint.carriers[0]
            if partner != other:
                return (joint.point,) if joint.axis_to is None else (joint.point, joint.axis_to), partner
    return None


def transmission_angle(basis: Basis, state: State, pose: Pose, ends: tuple[DrivenEnd, ...]) -> Array:
    """Angle [rad] in 0..pi between bar and arm at their joint, (P, D); pi/2 drives best, 0 and pi are in line.

    In space only the part of the bar square to the arm, in the plane in which the arm swings, turns it: the angle
    is the one whose sine is that part, so a bar that leaves the plane counts as poorly as it drives.
    """
    poses = len(pose.foot)
    angle = np.zeros((poses, len(ends)))
    for index, end in enumerate(ends):
        sign = 1.0 if end.end == 1 else -1.0
        away = sign * pose.pair_dir[:, end.bar]  # from the joint along the bar
        joint = pose.foot[:, basis.layout.bars[end.bar].feet[end.end]]
        pivot, axis_dir = _hinge_line(basis, state, end)
        arm = joint - pivot
        arm = arm - np.einsum("pi,pi->p", arm, axis_dir)[:, None] * axis_dir
        inward = -unit(arm)
        tangent = cross(axis_dir, inward)
        sine = np.clip(np.abs(np.einsum("pi,pi->p", away, tangent)), 0.0, 1.0)
        folded = np.arcsin(sine)
        in_plane = np.sqrt(np.maximum(0.0, 1.0 - np.einsum("pi,pi->p", away, axis_dir) ** 2))
        # Near square arcsin loses digits; the cosine is exact there for a bar in the plane.
        cosine = np.einsum("pi,pi->p", away, inward)
        flat = in_plane > 1.0 - 1e-12
        folded = np.where(flat, np.arctan2(sine, np.abs(cosine)), folded)
        angle[:, index] = np.where(cosine >= 0.0, folded, np.pi - folded)
    return angle


def _hinge_line(basis: Basis, state: State, end: DrivenEnd) -> tuple[Array, Array]:
    """A place on the hinge line (P, 3) and its direction (P, 3)."""
    places = basis.geometry.points
    rotation, offset = state.rotation[:, end.hinge_carrier], state.offset[:, end.hinge_carrier]
    pivot = np.matmul(rotation, places[:, end.hinge[0], :, None])[..., 0] + offset
    if len(end.hinge) == 1:
        normal = np.array(basis.layout.mechanism.normal)
        return pivot, np.broadcast_to(normal, pivot.shape)
    axis = unit(places[:, end.hinge[1]] - places[:, end.hinge[0]])
    return pivot, np.matmul(rotation, axis[..., None])[..., 0]


def fold(angle: Array) -> Array:
    """How far [rad] from being in line, 0..pi/2, whichever way."""
    return np.minimum(angle, np.pi - angle)
