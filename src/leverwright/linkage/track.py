"""The whole way of an assembly from droop to bump: where it ends, why, and exact poses anywhere on it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, Mask
from leverwright.linkage.closing import Drive, Problem, close
from leverwright.linkage.kinematics import Basis, Pose, State, advance
from leverwright.linkage.layout import Index
from leverwright.linkage.path import Node, Way, find_node, start_node, walk
from leverwright.linkage.transmission import IN_LINE, DrivenEnd, driven_ends, fold, transmission_angle

__all__ = ["Stop", "Track", "Until", "find_track", "poses_at"]

Until = Callable[[Node], bool]

_HERMITE_STEPS = 8  # Newton on a cubic doubles its digits a step; the guess needs three of them
_LEAP = 0.1  # rad between prediction and pose of any carrier; more may be another branch, so it is walked to instead


@dataclass(frozen=True, slots=True)
class Stop:
    """An end of travel [m], the words of the contract for why, and what did it (a bar, spring or strap)."""

    travel: float
    why: str
    by: str | None = None


@dataclass(frozen=True, slots=True)
class Track:
    """Nodes from droop to bump; `droop` and `bump` say where the linkage itself ends (None: further than looked)."""

    problem: Problem
    nodes: tuple[Node, ...]
    start: int
    droop: Stop | None
    bump: Stop | None

    @property
    def basis(self) -> Basis:
        """The assembly's numbers."""
        return self.problem.basis

    @property
    def drive(self) -> Drive:
        """What its wheels follow."""
        return self.problem.drive

    @property
    def exact(self) -> bool:
        """Whether no equation repeats another and nothing is loose."""
        return self.problem.exact


def find_track(problem: Problem, begin: tuple[State, float], enough: tuple[Until, Until]) -> Track | None:
    """Walk both ways from a state and its travel until `enough` (droop, bump); None when it cannot start."""
    first = start_node(problem, *begin)
    if first is None:
        return None
    ends = driven_ends(problem.basis.layout)
    up = walk(problem, first, 1.0, enough[1])
    down = walk(problem, first, -1.0, enough[0])
    bump, top = _end(problem, up, ends)
    droop, bottom = _end(problem, down, ends)
    nodes = [*(_reversed(node) for node in reversed(bottom[1:])), *top]
    return Track(problem, tuple(nodes), len(bottom) - 1, droop, bump)


def _reversed(node: Node) -> Node:
    return Node(node.state, node.pose, -node.along, node.bend, node.travel, -node.distance)


def _end(problem: Problem, way: Way, ends: tuple[DrivenEnd, ...]) -> tuple[Stop | None, list[Node]]:
    nodes = list(way.nodes)
    if way.cornered:
        return Stop(nodes[-1].travel, "link stretched"), nodes
    if not way.turned:
        return None, nodes
    last = find_node(problem, (nodes[-2], nodes[-1]), lambda node: (node.pace, float(node.bend[-1])))
    angles = fold(transmission_angle(problem.basis, last.state, last.pose, ends))[0]
    nodes = [node for node in nodes[:-1] if node.distance < last.distance] + [last]
    if len(angles) and angles.min() < IN_LINE:
        return Stop(last.travel, "dead centre", ends[int(angles.argmin())].name), nodes
    return Stop(last.travel, "link stretched"), nodes


def poses_at(track: Track, travel: Array) -> tuple[State, Pose, Mask]:
    """Exact poses at path travels (P,) m within the track; the last result says which closed (P,)."""
    at = np.array([node.travel for node in track.nodes])
    left = np.clip(np.searchsorted(at, travel) - 1, 0, max(len(at) - 2, 0))
    guess = _guess(track, left, travel)
    state, pose, closed = close(track.basis, guess, track.drive, travel, track.exact)
    turned = np.einsum("pbij,pbij->pb", guess.rotation, state.rotation).min(axis=1)
    leapt = ~closed | (turned < 1.0 + 2.0 * np.cos(_LEAP))
    if not np.any(leapt):
        return state, pose, closed
    for index in np.flatnonzero(leapt):
        node = _creep(track, int(left[index]), float(travel[index]))
        if node is not None:
            state.rotation[index], state.offset[index] = node.state.rotation[0], node.state.offset[0]
    return close(track.basis, state, track.drive, travel, track.exact)


def _creep(track: Track, left: int, travel: float) -> Node | None:
    """The pose at a travel between two nodes by the arc-length method itself, which cannot leap."""
    if len(track.nodes) < 2:
        return None
    ends = track.nodes[left], track.nodes[left + 1]
    return find_node(track.problem, ends, lambda node: (node.travel - travel, node.pace))


def _guess(track: Track, left: Index, travel: Array) -> State:
    """States near path travels (P,): from the nearest node, by the cubic that fits travel and pace at both neighbours.

    left  (P,) node before each travel
    """
    nodes = track.nodes
    at, pace, distance = np.array([(n.travel, n.pace, n.distance) for n in nodes]).T
    if len(nodes) == 1:
        near, step = left, (travel - at[0]) / pace[0]
    else:
        share = _share(left, travel, (at, pace, distance))
        span = distance[left + 1] - distance[left]
        near = np.where(share <= 0.5, left, left + 1)
        step = distance[left] + share * span - distance[near]
    along = np.array([node.along[:-1] for node in nodes])[near]
    bend = np.array([node.bend[:-1] for node in nodes])[near]
    state = State(
        np.concatenate([node.state.rotation for node in nodes])[near],
        np.concatenate([node.state.offset for node in nodes])[near],
    )
    return advance(track.basis, state, along * step[:, None] + 0.5 * bend * step[:, None] ** 2)


def _share(left: Index, travel: Array, way: tuple[Array, Array, Array]) -> Array:
    """Where (0..1) between its nodes each travel (P,) lies: the Hermite cubic inverted, Newton fenced by halving."""
    at, pace, distance = way
    span = distance[left + 1] - distance[left]
    start, end = at[left], at[left + 1]
    a, b = pace[left] * span, pace[left + 1] * span
    low, high = np.zeros(len(travel)), np.ones(len(travel))
    share = np.clip((travel - start) / (end - start), 0.0, 1.0)
    for _ in range(_HERMITE_STEPS):
        rest = 1.0 - share
        value = (1.0 + 2.0 * share) * rest**2 * start + share * rest**2 * a
        value += share**2 * (3.0 - 2.0 * share) * end - share**2 * rest * b
        slope = (
            6.0 * share * rest * (end - start)
            + rest * (1.0 - 3.0 * share) * a
            + share * (3.0 * share - 2.0) * b
        )
        low, high = np.where(value > travel, low, share), np.where(value > travel, share, high)
        newton = share - (value - travel) / np.where(slope > 0.0, slope, np.inf)
        share = np.where((newton >= low) & (newton <= high) & (slope > 0.0), newton, 0.5 * (low + high))
    return share
