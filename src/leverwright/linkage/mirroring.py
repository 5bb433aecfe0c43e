"""The way of an assembly from that of its mirror twin: solved once, reflected, not solved again."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage.closing import Drive, Problem
from leverwright.linkage.kinematics import Basis, State, evaluate
from leverwright.linkage.layout import Layout
from leverwright.linkage.mechanism import Geometry
from leverwright.linkage.path import Nodes
from leverwright.linkage.track import Stop, Track

__all__ = ["is_mirror", "mirrored_track"]

_MIRROR = np.array([1.0, -1.0, 1.0])
_SAME = 1e-12  # m; a twin made by name differs by nothing, a measured one by much more


def is_mirror(layout: Layout, other: Layout, geometry: Geometry, names: Mapping[str, str]) -> bool:
    """Whether `other` is `layout` with y negated, part for part, point for point.

    names  each name of the first side to its twin's
    """
    a, b = layout.mechanism, other.mechanism

    def points(side: Layout) -> list[tuple[int, ...]]:
        return [side.carriers.each[c].points for c in side.moving]

    if [[names.get(a.point_names[p], a.point_names[p]) for p in ps] for ps in points(layout)] != [
        [b.point_names[p] for p in ps] for ps in points(other)
    ]:
        return False
    feet = [
        [names.get(a.point_names[p], a.point_names[p]) for _, p in layout.feet],
        [b.point_names[p] for _, p in other.feet],
    ]
    same_shape = (
        feet[0] == feet[1]
        and len(layout.unknown_carrier) == len(other.unknown_carrier)
        and [p.feet for p in layout.bars] == [p.feet for p in other.bars]
        and [p.feet for p in layout.lines] == [p.feet for p in other.lines]
        and not (layout.turns or other.turns or layout.held or other.held)
        and np.array_equal(layout.wheel_feet, other.wheel_feet)
    )
    if not same_shape:
        return False
    first = geometry.points[0][[p for _, p in layout.feet]] * _MIRROR
    second = geometry.points[0][[p for _, p in other.feet]]
    lengths = [
        [geometry.bar_length[0, pair.item] for pair in s.bars if pair.kind == "bar"] for s in (layout, other)
    ]
    return bool(np.all(np.abs(first - second) < _SAME)) and bool(
        np.all(np.abs(np.array(lengths[0]) - np.array(lengths[1])) < _SAME)
    )


def _signs(basis: Basis, other: Basis) -> Array:
    """+1 or -1 for each unknown: how the twin's moves when the first side's moves in the mirror."""
    turn = -basis.turn[0] * _MIRROR
    shift = basis.shift[0] * _MIRROR
    agree = np.einsum("qi,qi->q", turn, other.turn[0]) * np.max(basis.layout.reach) ** 2
    out: Array = np.sign(agree + np.einsum("qi,qi->q", shift, other.shift[0]))
    return out


def mirrored_state(state: State, carriers: Array, twins: Array) -> State:
    """The state of the twin's carriers, reflected."""
    rotation, offset = state.rotation.copy(), state.offset.copy()
    flip = _MIRROR[:, None] * _MIRROR
    rotation[:, twins] = state.rotation[:, carriers] * flip
    offset[:, twins] = state.offset[:, carriers] * _MIRROR
    return State(rotation, offset)


def mirrored_track(track: Track, other: Basis, names: Mapping[str, str]) -> Track:
    """The track of the twin; `other` is its basis, `names` lead from this side's parts to the twin's."""
    layout = track.basis.layout
    signs = np.append(_signs(track.basis, other), 1.0)
    carriers, twins = np.array(layout.moving), np.array(other.layout.moving)
    first = track.nodes
    state = mirrored_state(first.state, carriers, twins)
    nodes = Nodes(
        state,
        evaluate(other, state),
        first.along * signs,
        first.bend * signs,
        first.travel,
        first.distance,
    )

    def stop(first: Stop | None) -> Stop | None:
        return None if first is None else Stop(first.travel, first.why, names.get(first.by or "", first.by))

    drive = Drive(track.drive.weights, track.drive.follow, track.drive.offset)
    return Track(Problem(other, drive, track.exact), nodes, track.start, stop(track.droop), stop(track.bump))
