"""The way the linkage takes from its set-up pose, both ways, as far as it goes: by arc length, never jumping branch.

Pseudo-arclength continuation with a curved predictor. Source: Keller, Lectures on Numerical Methods in
Bifurcation Problems, 1987, ch. 5 (from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage.closing import CLOSED, Problem, least_step
from leverwright.linkage.kinematics import Pose, State, advance, evaluate, second_order

__all__ = ["Node", "Way", "between", "find_node", "start_node", "walk"]

_MOST_STEPS = 6  # of Newton a node; the predictor is of second order, so three is usual
_SHARPEST = 0.45  # rad between the directions of neighbouring nodes; a jump of branch turns further
_FIRST_STEP = 0.03  # m of path
_LEAST_STEP = 1e-6  # m of path; below it the way has ended in a corner
_LONGEST_STEP = 0.25  # m of path
_FURTHEST = 0.5  # share of a step by which a pose may lie off its prediction
_NEAR = 0.1  # the same between nodes of a walk: poses half-way between are then predicted eight times nearer
_ROUGHLY = 1e-8  # m; enough for the next prediction, a thousandth of what a limit is bracketed to
_MOST_NODES = 160
_ZERO = 1e-11  # m, or of a pace: what closes an equation; far below the 0.01 mm that an end is told to


@dataclass(frozen=True, slots=True)
class Node:
    """One exact pose on the way; P is 1 in its arrays.

    along    (Q + 1,) direction of the way, length 1: unknowns, then path travel
    bend     (Q + 1,) its change per metre of path
    travel   path travel [m]
    """

    state: State
    pose: Pose
    along: Array
    bend: Array
    travel: float
    distance: float

    @property
    def pace(self) -> float:
        """Path travel per metre of path; 0 where the way turns back."""
        return float(self.along[-1])


@dataclass(frozen=True, slots=True)
class Way:
    """The nodes from the set-up pose in one direction, and whether the last one is where travel turns back."""

    nodes: tuple[Node, ...]
    turned: bool
    cornered: bool


def _rows(problem: Problem, pose: Pose) -> Array:
    drive = problem.drive
    driven = np.einsum("rw,pwq->prq", drive.weights, pose.wheel_dq)
    upper = np.concatenate([pose.residual_dq, np.zeros((*pose.residual.shape, 1))], axis=2)
    lower = np.concatenate(
        [driven, np.broadcast_to(-drive.follow[None, :, None], (*driven.shape[:2], 1))], axis=2
    )
    return np.concatenate([upper, lower], axis=1)


def _direction(problem: Problem, rows: Array, before: Array) -> Array:
    bordered = np.concatenate([rows, before[None, None]], axis=1)
    right = np.zeros((1, bordered.shape[1], 1))
    right[0, -1, 0] = 1.0
    along = problem.solve(bordered, right)[0, :, 0]
    direction: Array = along / np.sqrt(along @ along)
    return direction


def _bend(problem: Problem, pose: Pose, rows: Array, along: Array) -> Array:
    row2, _, wheel2 = second_order(problem.basis, pose, along[None, :-1, None])
    driven2 = np.einsum("rw,pw->pr", problem.drive.weights, wheel2[:, :, 0, 0])
    right = -np.concatenate([row2[:, :, 0, 0], driven2, np.zeros((1, 1))], axis=1)
    bordered = np.concatenate([rows, along[None, None]], axis=1)
    return problem.solve(bordered, right[:, :, None])[0, :, 0]


def start_node(problem: Problem, state: State, travel: float) -> Node | None:
    """The first node, heading into bump; None when the wheels cannot be driven there (a set-up on dead centre)."""
    pose = evaluate(problem.basis, state)
    rows = _rows(problem, pose)
    # The shortest motion of one metre of path travel: also right where something is loose or repeated.
    closed = rows[:, :, :-1]
    step = least_step(closed, -rows[:, :, -1:])[0, :, 0]
    left_over = np.einsum("peq,q->e", closed, step) + rows[0, :, -1]
    if np.abs(left_over).max(initial=0.0) > 1e-6:
        return None
    along = np.append(step, 1.0)
    along /= np.linalg.norm(along)
    return Node(state, pose, along, _bend(problem, pose, rows, along), travel, 0.0)


def _reach(problem: Problem, node: Node, step: float, rough: bool = False) -> Node | None:
    """The node `step` metres of path further (negative: back along the way).

    None when Newton does not settle near enough to where the curve predicts it. A `rough` node marks the way: it
    closes to 1e-8 m and knows its bend by the turn since the last one; every pose that is told is closed again.
    """
    most_drift, closed = (_NEAR, _ROUGHLY) if rough else (_FURTHEST, CLOSED)
    basis, drive = problem.basis, problem.drive
    guess = node.along * step + 0.5 * node.bend * step**2
    state = advance(basis, node.state, guess[None, :-1])
    travel = node.travel + guess[-1]
    before = node.along + node.bend * step
    before /= np.sqrt(before @ before)
    drift = 0.0
    for _ in range(_MOST_STEPS):
        pose = evaluate(basis, state)
        driven = (
            np.einsum("rw,w->r", drive.weights, pose.wheel_height[0]) - drive.follow * travel - drive.offset
        )
        miss = np.concatenate([pose.residual[0], driven, [0.0]])
        if np.abs(miss).max() < closed:
            break
        bordered = np.concatenate([_rows(problem, pose), before[None, None]], axis=1)
        correction = problem.solve(bordered, -miss[None, :, None])[0, :, 0]
        if not np.all(np.isfinite(correction)):
            return None
        drift += float(np.sqrt(correction @ correction))
        if drift > most_drift * abs(step) + 10 * CLOSED:
            return None
        state = advance(basis, state, correction[None, :-1])
        travel += float(correction[-1])
    else:
        return None
    rows = _rows(problem, pose)
    along = _direction(problem, rows, before)
    bend = (along - node.along) / step if rough else _bend(problem, pose, rows, along)
    return Node(state, pose, along, bend, float(travel), node.distance + step)


def walk(problem: Problem, start: Node, towards: float, until: Callable[[Node], bool]) -> Way:
    """Nodes from `start` towards bump (+1) or droop (-1) until travel turns back or `until` says enough."""
    first = (
        start if towards > 0 else Node(start.state, start.pose, -start.along, start.bend, start.travel, 0.0)
    )
    nodes = [first]
    step = _FIRST_STEP
    while len(nodes) < _MOST_NODES and not until(nodes[-1]):
        last = nodes[-1]
        new = _reach(problem, last, step, rough=True)
        turn = np.inf if new is None else float(np.arccos(np.clip(new.along @ last.along, -1.0, 1.0)))
        if new is None or turn > _SHARPEST:
            step *= 0.4
            if step < _LEAST_STEP:
                return Way(tuple(nodes), turned=False, cornered=True)
            continue
        nodes.append(new)
        if new.pace * first.pace <= 0.0:
            return Way(tuple(nodes), turned=True, cornered=False)
        step = min(_LONGEST_STEP, step * float(np.clip(0.6 * _SHARPEST / max(turn, 1e-9), 0.5, 2.0)))
    return Way(tuple(nodes), turned=False, cornered=False)


def between(problem: Problem, left: Node, distance: float) -> Node | None:
    """The exact node at a path distance from the set-up pose, starting from the node before it."""
    return _reach(problem, left, distance - left.distance)


def find_node(
    problem: Problem, ends: tuple[Node, Node], value: Callable[[Node], tuple[float, float]]
) -> Node:
    """Where a value passes zero between two nodes: Newton's method inside a bracket that halves when it must.

    value  gives the value at a node and its change per metre of path; poses are exact throughout
    """
    low, high = ends
    at_low, at_high = value(low), value(high)
    rising = at_high[0] > at_low[0]
    at = _cubic_root(ends, at_low, at_high)
    best = min(ends, key=lambda node: abs(at_low[0] if node is low else at_high[0]))
    for _ in range(60):
        near = min((low, high, best), key=lambda node: abs(node.distance - at))
        node = between(problem, near, at) or between(problem, near, 0.5 * (low.distance + high.distance))
        if node is None:
            break
        best = node
        here, slope = value(node)
        if abs(here) < _ZERO or abs(high.distance - low.distance) < _ZERO:
            break
        low, high = (low, node) if (here > 0.0) == rising else (node, high)
        at = node.distance - here / slope if slope != 0.0 else np.inf
        if not low.distance < at < high.distance:
            at = 0.5 * (low.distance + high.distance)
    return best


def _cubic_root(ends: tuple[Node, Node], low: tuple[float, float], high: tuple[float, float]) -> float:
    """Path distance where the cubic that fits value and slope at both ends passes zero, else where their chord does."""
    span = ends[1].distance - ends[0].distance
    a, b = low[1] * span, high[1] * span
    step = high[0] - low[0]
    roots = np.roots([a + b - 2.0 * step, 3.0 * step - 2.0 * a - b, a, low[0]])
    inside = [float(r.real) for r in roots if abs(r.imag) < 1e-9 and 0.0 <= r.real <= 1.0]
    share = inside[0] if len(inside) == 1 else -low[0] / step if step != 0.0 else 0.5
    return ends[0].distance + min(max(share, 0.0), 1.0) * span
