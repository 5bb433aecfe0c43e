"""The way linkages take from their set-up pose, as far as they go: by arc length, never jumping branch.

Many ways are walked at once, in step: both directions of one linkage, and of every setting of it that is asked
about. Each keeps its own pace, and none hangs on its neighbours.
Pseudo-arclength continuation with a curved predictor. Source: Keller, Lectures on Numerical Methods in
Bifurcation Problems, 1987, ch. 5 (from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from leverwright.geometry import Array, Mask
from leverwright.linkage.closing import CLOSED, Problem
from leverwright.linkage.kinematics import (
    Pose,
    State,
    advance,
    evaluate,
    joined_poses,
    joined_states,
    second_order,
)
from leverwright.linkage.landing import Landed, bordered, land, size
from leverwright.linkage.layout import Index

__all__ = ["Nodes", "Until", "Way", "joined", "reach", "start_nodes", "walk"]

_SHARPEST = 0.45  # rad between the directions of neighbouring nodes; a jump of branch turns further
_FIRST_STEP = 0.15  # m of path, the longest try
_TRIES = np.array([1.0, 0.5, 0.2])  # of a stride, longest first
_AIM = 0.9  # of the sharpest turn that the longest try is meant to make
_LEAST_STEP = 1e-6  # m of path; below it the way has ended in a corner
_LONGEST_STEP = 0.25  # m of path
_FURTHEST = 0.5  # share of a step by which a pose may lie off its prediction
_NEAR = 0.1  # the same between nodes of a walk: poses half-way between are then predicted eight times nearer
_ROUGHLY = 1e-8  # m; enough for the next prediction, a thousandth of what a limit is bracketed to
_MOST_NODES = 160


@dataclass(frozen=True, slots=True)
class Nodes:
    """Exact poses on a way, or on several; P of them.

    along     (P, Q + 1) direction of the way, length 1: unknowns, then path travel
    bend      (P, Q + 1) its change per metre of path
    travel    (P,) path travel [m]
    distance  (P,) m of path from the set-up pose
    """

    state: State
    pose: Pose
    along: Array
    bend: Array
    travel: Array
    distance: Array

    def __len__(self) -> int:
        return len(self.travel)

    def __getitem__(self, which: int | slice | Index) -> Nodes:
        if isinstance(which, int):  # one node is still a row of them
            which = slice(which, which + 1 or None)
        return Nodes(
            self.state[which],
            self.pose[which],
            self.along[which],
            self.bend[which],
            self.travel[which],
            self.distance[which],
        )

    @property
    def pace(self) -> Array:
        """Path travel per metre of path (P,); 0 where the way turns back."""
        return self.along[:, -1]

    @property
    def backwards(self) -> Nodes:
        """The same poses of the same way, gone the other way."""
        return Nodes(self.state, self.pose, -self.along, self.bend, self.travel, -self.distance)


Until = Callable[
    [Nodes, Index], Mask
]  # nodes (P,) and which walker each belongs to → who has gone far enough


def joined(parts: Sequence[Nodes]) -> Nodes:
    """All nodes of the parts, in order."""
    return Nodes(
        joined_states([p.state for p in parts]),
        joined_poses([p.pose for p in parts]),
        np.concatenate([p.along for p in parts]),
        np.concatenate([p.bend for p in parts]),
        np.concatenate([p.travel for p in parts]),
        np.concatenate([p.distance for p in parts]),
    )


@dataclass(frozen=True, slots=True)
class Way:
    """The nodes from the set-up pose in one direction, and whether the last one is where travel turns back."""

    nodes: Nodes
    turned: bool
    cornered: bool


def _directions(problem: Problem, rows: Array) -> Array:
    """Direction (P, Q + 1) of each way, length 1, on the side of the border; NaN where there is none."""
    right = np.zeros((*rows.shape[:2], 1))
    right[:, -1] = 1.0
    along = problem.solve(rows, right)[:, :, 0]
    with np.errstate(invalid="ignore", divide="ignore"):  # a try that found nothing may have come to any pose
        out: Array = along / size(along)[:, None]
    return out


def _bends(problem: Problem, there: Landed, along: Array) -> Array:
    """Change (P, Q + 1) of each way's direction per metre of path."""
    row2, _, wheel2 = second_order(problem.basis, there.pose, along[:, :-1, None])
    equations = row2.shape[1]
    right = np.zeros((*there.rows.shape[:2], 1))
    right[:, :equations] = -row2[:, :, :, 0]
    right[:, equations:-1] = -np.matmul(problem.drive.weights, wheel2[:, :, :, 0])
    rows = there.rows.copy()
    rows[:, -1] = along
    return problem.solve(rows, right)[:, :, 0]


def start_nodes(problem: Problem, state: State, travel: Array) -> tuple[Nodes, Mask]:
    """The first nodes, heading into bump; the mask is False where the wheels cannot be driven (on a dead centre)."""
    pose = evaluate(problem.basis, state)
    rows = bordered(problem, pose, np.zeros(1))
    # The shortest motion of one metre of path travel: also right where something is loose or repeated.
    closed, driven = rows[:, :-1, :-1], rows[:, :-1, -1:]
    step = problem.solve(closed, -driven)
    left_over = np.abs(np.matmul(closed, step) + driven).max(axis=(1, 2), initial=0.0)
    along = np.concatenate([step[:, :, 0], np.ones((len(travel), 1))], axis=1)
    along /= size(along)[:, None]
    rows[:, -1] = along
    drives: Mask = left_over <= 1e-6  # not so either where a motion is no number
    rows[~drives] = np.eye(*rows.shape[1:])
    bend = _bends(problem, Landed(state, travel, pose, rows, drives), along)
    return Nodes(state, pose, along, bend, travel, np.zeros(len(travel))), drives


def reach(problem: Problem, nodes: Nodes, step: Array, third: Array | None = None) -> tuple[Nodes, Mask]:
    """The nodes `step` (P,) metres of path further (negative: back along the way), and which were found.

    Not found: Newton did not settle near enough to where the curve predicts it.
    third  (P, Q + 1) change of the bend per metre of path: then the nodes only mark the way, close to 1e-8 m and
           take the turn since the last ones for their bend; every pose that is told is closed again
    """
    share, closed = (_FURTHEST, CLOSED) if third is None else (_NEAR, _ROUGHLY)
    basis, gone = problem.basis, step[:, None]
    curve = nodes.bend if third is None else nodes.bend + (gone / 3.0) * third
    guess = gone * (nodes.along + (0.5 * gone) * curve)
    state = advance(basis, nodes.state, guess[:, :-1])
    travel = nodes.travel + guess[:, -1]
    before = nodes.along + gone * (curve if third is None else nodes.bend + (0.5 * gone) * third)
    before /= size(before)[:, None]
    most = share * np.abs(step) + 10 * CLOSED
    there = land(problem, (state, travel), lambda _: (0.0, before), most, closed)
    along = _directions(problem, there.rows)
    bend = (along - nodes.along) / gone if third is not None else _bends(problem, there, along)
    found = there.found & np.isfinite(along).all(axis=1)
    return Nodes(there.state, there.pose, along, bend, there.travel, nodes.distance + step), found


def walk(problem: Problem, start: Nodes, until: Until) -> tuple[Way, ...]:
    """The ways from each start along its own direction until travel turns back or `until` says enough.

    Every walker tries strides of several lengths at once and takes the longest that keeps to the way.
    problem  its basis has one set of numbers, or one a walker
    """
    count = len(start)
    rounds = [start]
    rows: list[list[int]] = [[k] for k in range(count)]  # each walker's nodes, counted through all rounds
    turned, cornered = np.zeros(count, dtype=bool), np.zeros(count, dtype=bool)
    walkers = np.flatnonzero(~until(start, np.arange(count)))
    last, stride = start[walkers], np.full(len(walkers), _FIRST_STEP)
    bent = last.bend, np.zeros(len(walkers)), np.zeros(last.bend.shape)  # a bend, where it was so, its change
    made, each = count, len(_TRIES)
    while len(walkers):
        who = np.repeat(np.arange(len(walkers)), each)
        step = (stride[:, None] * _TRIES).ravel()
        before = last[who]
        tries, found = reach(problem[walkers[who]], before, step, bent[2][who])
        turn = np.arccos(np.clip((tries.along * before.along).sum(axis=1), -1.0, 1.0))
        tries, curve = _curved(before, tries, (bent[0][who], bent[1][who]))
        rounds.append(tries)
        good = (found & (turn <= _SHARPEST)).reshape(-1, each)
        back = (tries.pace * start.pace[walkers[who]] <= 0.0).reshape(-1, each)
        # Up to the longest try that keeps to the way, but no further than the first that has turned back.
        reached = good.argmax(axis=1)
        first_back = each - 1 - (good & back)[:, ::-1].argmax(axis=1)
        kept, back = good.any(axis=1), (good & back).any(axis=1)
        reached = np.where(back, first_back, reached)
        for k in np.flatnonzero(kept):
            shorter = np.flatnonzero(good[k, reached[k] :])[::-1]
            rows[walkers[k]] += (made + each * int(k) + int(reached[k]) + shorter).tolist()
        made += len(who)
        pick = each * np.arange(len(walkers)) + reached
        new = tries[pick]
        grown = step[pick] * np.clip(_AIM * _SHARPEST / np.maximum(turn[pick], 1e-9), 0.5, 4.0)
        stride = np.where(kept, np.minimum(_LONGEST_STEP, grown), 0.5 * _TRIES[-1] * stride)
        cornered[walkers], turned[walkers] = ~kept & (stride < _LEAST_STEP), kept & back
        full = np.array([len(rows[w]) >= _MOST_NODES for w in walkers])
        on = np.flatnonzero(~(cornered[walkers] | turned[walkers] | full | (kept & until(new, walkers))))
        last = _either(kept, new, last)[on]
        keep = kept[:, None]
        bent = (
            np.where(keep, curve[0][pick], bent[0])[on],
            np.where(kept, curve[1][pick], bent[1])[on],
            np.where(keep, curve[2][pick], bent[2])[on],
        )
        walkers, stride = walkers[on], stride[on]
    every = joined(rounds)
    return tuple(
        Way(every[np.array(rows[k])], turned=bool(turned[k]), cornered=bool(cornered[k]))
        for k in range(count)
    )


def _curved(last: Nodes, new: Nodes, bent: tuple[Array, Array]) -> tuple[Nodes, tuple[Array, Array, Array]]:
    """The new nodes with the bend at them, carried on from half-way, where the turn between two nodes tells it.

    bent  a bend (P, Q + 1) and the distance (P,) m where it was so; the same half-way, and its change, come back
    """
    before, at = bent
    gone = new.distance - last.distance
    middle = last.distance + 0.5 * gone
    change = (new.bend - before) / (middle - at)[:, None]
    here = replace(new, bend=new.bend + (0.5 * gone)[:, None] * change)
    return here, (new.bend, middle, change)


def _either(first: Mask, one: Nodes, other: Nodes) -> Nodes:
    """Of each pair of nodes the one that the mask picks."""
    if first.all():
        return one
    return joined([one, other])[np.where(first, 0, len(first)) + np.arange(len(first))]
