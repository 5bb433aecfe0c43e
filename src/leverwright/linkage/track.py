"""The whole way of an assembly from droop to bump: where it ends, why, and exact poses anywhere on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, Mask
from leverwright.linkage.closing import Drive, Problem, close, joined_problems
from leverwright.linkage.events import TURNS, find_nodes, hermite_share
from leverwright.linkage.kinematics import Basis, Pose, State, advance, joined_states
from leverwright.linkage.layout import Index
from leverwright.linkage.path import Nodes, Until, Way, joined, start_nodes, walk
from leverwright.linkage.transmission import IN_LINE, driven_ends, fold, transmission_angle

__all__ = ["Stop", "Track", "Until", "find_tracks", "poses_at"]

_ALIKE = 1e-9  # rad; bars that come into line together do so at once, and the file's first one is named
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
    nodes: Nodes
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


def find_tracks(problem: Problem, begin: tuple[State, Array], until: Until) -> tuple[Track | None, ...]:
    """Walk both ways from each state and its travel (V,); None where one cannot start.

    problem  its basis has one set of numbers, or one a state
    until    walkers count bump of the first, droop of the first, bump of the second …
    """
    state, travel = begin
    first, drives = start_nodes(problem, state, travel)
    each = np.flatnonzero(drives)
    if not len(each):
        return (None,) * len(travel)
    first, part = first[each], problem[each]
    pairs = np.repeat(np.arange(len(each)), 2)
    both = joined([first, first.backwards])[pairs + np.tile([0, len(each)], len(each))]
    asked = 2 * each[pairs] + np.tile([0, 1], len(each))
    ways = walk(part[pairs], both, lambda nodes, which: until(nodes, asked[which]))
    ends = _ends(part[pairs], ways)
    found: list[Track | None] = [None] * len(travel)
    for k, variant in enumerate(each):
        (bump, top), (droop, bottom) = ends[2 * k], ends[2 * k + 1]
        down = bottom.backwards[np.arange(len(bottom) - 1, 0, -1)]
        own = problem[np.array([variant])]
        found[variant] = Track(own, joined([down, top]), len(bottom) - 1, droop, bump)
    return tuple(found)


def _ends(problem: Problem, ways: Sequence[Way]) -> list[tuple[Stop | None, Nodes]]:
    """Why each way ended, and its nodes with the fold itself last where it ended in one."""
    out: list[tuple[Stop | None, Nodes]] = []
    for way in ways:
        stop = Stop(float(way.nodes.travel[-1]), "link stretched") if way.cornered else None
        out.append((stop, way.nodes))
    turned = np.array([k for k, way in enumerate(ways) if way.turned], dtype=np.int64)
    if not len(turned):
        return out
    before, after = (joined([ways[k].nodes[slice(at, at + 1 or None)] for k in turned]) for at in (-2, -1))
    last = find_nodes(problem[turned], (before, after), lambda node, _: (node.pace, node.bend[:, -1]), TURNS)
    ends = driven_ends(problem.basis.layout)
    angles = fold(transmission_angle(problem[turned].basis, last.state, last.pose, ends))
    for row, k in enumerate(turned):
        nodes = ways[k].nodes
        end = last[slice(row, row + 1)]
        kept = nodes[np.flatnonzero(nodes.distance[:-1] < end.distance[0])]
        by = int(np.argmax(angles[row] < angles[row].min() + _ALIKE)) if len(ends) else -1
        locked = by >= 0 and angles[row, by] < IN_LINE
        why, name = ("dead centre", ends[by].name) if locked else ("link stretched", None)
        out[k] = (Stop(float(end.travel[0]), why, name), joined([kept, end]))
    return out


def poses_at(tracks: Sequence[Track], travels: Sequence[Array]) -> tuple[Problem, State, Pose, Mask]:
    """Exact poses at path travels (P,) m within each track, one track's after the other's, solved together.

    The problem has each pose's own numbers; the mask says which closed (P,).
    """
    lefts = [_left(track, travel) for track, travel in zip(tracks, travels, strict=True)]
    guesses = [_guess(*row) for row in zip(tracks, lefts, travels, strict=True)]
    guess = guesses[0] if len(guesses) == 1 else joined_states(guesses)
    problem = joined_problems([track.problem for track in tracks], [len(travel) for travel in travels])
    travel = np.concatenate(travels)
    state, pose, closed = close(problem.basis, guess, problem.drive, travel, problem.exact)
    turned = (guess.rotation * state.rotation).sum(axis=(2, 3)).min(axis=1)
    leapt = np.flatnonzero(~closed | (turned < 1.0 + 2.0 * np.cos(_LEAP)))
    if not len(leapt):
        return problem, state, pose, closed
    # Those by the arc-length method itself, which cannot leap.
    ends = [
        joined(
            [
                track.nodes[np.minimum(left + side, len(track.nodes) - 1)]
                for track, left in zip(tracks, lefts, strict=True)
            ]
        )
        for side in (0, 1)
    ]
    wanted = travel[leapt]
    node = find_nodes(
        problem[leapt],
        (ends[0][leapt], ends[1][leapt]),
        lambda nodes, which: (nodes.travel - wanted[which], nodes.pace),
    )
    state.rotation[leapt], state.offset[leapt] = node.state.rotation, node.state.offset
    return problem, *close(problem.basis, state, problem.drive, travel, problem.exact)


def _left(track: Track, travel: Array) -> Index:
    """The node before each travel."""
    at = track.nodes.travel
    return np.clip(np.searchsorted(at, travel) - 1, 0, max(len(at) - 2, 0))


def _guess(track: Track, left: Index, travel: Array) -> State:
    """States near path travels (P,): from the nearest node, by the cubic that fits travel and pace at both neighbours.

    left  (P,) node before each travel
    """
    nodes = track.nodes
    if len(nodes) == 1:
        near, step = left, (travel - nodes.travel) / nodes.pace
        curve = nodes.bend[near]
    else:
        right = left + 1
        span = nodes.distance[right] - nodes.distance[left]
        fit = nodes.travel[left], nodes.travel[right], nodes.pace[left] * span, nodes.pace[right] * span
        share = hermite_share(travel, fit)
        near = np.where(share <= 0.5, left, right)
        step = nodes.distance[left] + share * span - nodes.distance[near]
        change = (nodes.bend[right] - nodes.bend[left]) / span[:, None]
        curve = nodes.bend[near] + (step[:, None] / 3.0) * change
    gone = step[:, None] * (nodes.along[near] + (0.5 * step[:, None]) * curve)
    return advance(track.basis, nodes.state[near], gone[:, :-1])
