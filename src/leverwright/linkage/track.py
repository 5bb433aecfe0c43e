"""The whole way of an assembly from droop to bump: where it ends, why, and exact poses anywhere on it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, Mask
from leverwright.linkage.closing import Drive, Problem, close
from leverwright.linkage.kinematics import Basis, Pose, State, advance
from leverwright.linkage.path import Node, Way, find_node, start_node, walk
from leverwright.linkage.transmission import IN_LINE, DrivenEnd, driven_ends, fold, transmission_angle

__all__ = ["Stop", "Track", "Until", "find_track", "poses_at"]

Until = Callable[[Node], bool]

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


def find_track(problem: Problem, state: State, travel: float, enough: tuple[Until, Until]) -> Track | None:
    """Walk both ways from `state` until `enough` (droop, bump) says so of a node; None when it cannot start."""
    begin = start_node(problem, state, travel)
    if begin is None:
        return None
    ends = driven_ends(problem.basis.layout)
    up = walk(problem, begin, 1.0, enough[1])
    down = walk(problem, begin, -1.0, enough[0])
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
    guesses = [_guess(track, int(k), float(t)) for k, t in zip(left, travel, strict=True)]
    near = [track.nodes[k] for k, _ in guesses]
    state = State(
        np.concatenate([node.state.rotation for node in near]),
        np.concatenate([node.state.offset for node in near]),
    )
    guess = advance(track.basis, state, np.stack([step for _, step in guesses]))
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


def _guess(track: Track, left: int, travel: float) -> tuple[int, Array]:
    """Nearest node and the step from it, by the cubic that fits travel and pace at both neighbours."""
    if len(track.nodes) == 1:
        node = track.nodes[0]
        return 0, node.along[:-1] * (travel - node.travel) / node.pace
    a, b = track.nodes[left], track.nodes[left + 1]
    span = b.distance - a.distance
    # Hermite cubic of travel over distance, inverted by Newton with bisection as a fence.
    low, high = 0.0, 1.0
    share = float(np.clip((travel - a.travel) / (b.travel - a.travel), 0.0, 1.0))
    for _ in range(30):
        value, slope = _hermite(a, b, span, share)
        if value > travel:
            high = share
        else:
            low = share
        newton = share - (value - travel) / slope if slope > 0.0 else -1.0
        new = newton if low <= newton <= high else 0.5 * (low + high)
        if abs(new - share) < 1e-9:
            break
        share = new
    near, node = (left, a) if share <= 0.5 else (left + 1, b)
    step = (a.distance + share * span) - node.distance
    return near, node.along[:-1] * step + 0.5 * node.bend[:-1] * step**2


def _hermite(a: Node, b: Node, span: float, share: float) -> tuple[float, float]:
    one = (1 + 2 * share) * (1 - share) ** 2
    two = share * (1 - share) ** 2 * span
    three = share**2 * (3 - 2 * share)
    four = share**2 * (share - 1) * span
    value = one * a.travel + two * a.pace + three * b.travel + four * b.pace
    slope = (6 * share**2 - 6 * share) * (a.travel - b.travel)
    slope += ((1 - share) * (1 - 3 * share) * a.pace + share * (3 * share - 2) * b.pace) * span
    return value, slope
