"""Exact places on a way where a value passes zero: Newton's method inside brackets, many at once."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from leverwright.geometry import Array, Mask
from leverwright.linkage.closing import CLOSED, Problem
from leverwright.linkage.kinematics import Pose, advance
from leverwright.linkage.landing import land
from leverwright.linkage.layout import Index
from leverwright.linkage.path import Nodes, joined, reach

__all__ = ["TURNS", "Value", "find_nodes", "hermite_share", "meet_lengths"]

Value = Callable[
    [Nodes, Index], tuple[Array, Array]
]  # nodes and which event each is for → value, slope a metre

_ZERO = 1e-11  # m: what closes an equation; far below the 0.01 mm that an end is told to
TURNS = (
    1e-10  # of a slope: where something turns back, its value is then off by the square of it, under 1e-16 m
)
_SAME_SHARE = 1e-6  # of a bracket; a guess is not that good itself
_HERMITE_STEPS = 8  # Newton on a cubic doubles its digits a step; the guess needs three of them
_MOST_STEPS = 60  # a bracket halved so often is far below _ZERO


def meet_lengths(
    problem: Problem, ends: tuple[Nodes, Nodes], column: Index, length: Array
) -> tuple[Array, Mask]:
    """Travel (K,) m between each pair of ends at which a bar or line has a length, and where it was found.

    Newton on pose and travel together, from where the cubic between the ends puts it; not found where that leads
    away from there or out of the bracket.
    """
    low, high = ends
    rows = np.arange(len(length))
    before, after = (node.pose.length[rows, column] - length for node in ends)
    span = high.distance - low.distance
    slopes = [(n.pose.length_dq[rows, column] * n.along[:, :-1]).sum(axis=1) * span for n in ends]
    sign = np.where(after > before, 1.0, -1.0)
    share = hermite_share(
        np.zeros(len(length)), (sign * before, sign * after, sign * slopes[0], sign * slopes[1])
    )
    near = joined(ends)[rows + np.where(share > 0.5, len(rows), 0)]
    gone = (low.distance + share * span - near.distance)[:, None]
    guess = gone * (near.along + (0.5 * gone) * near.bend)
    begin = advance(problem.basis, near.state, guess[:, :-1]), near.travel + guess[:, -1]

    def border(pose: Pose) -> tuple[Array, Array]:
        row = np.zeros((len(rows), near.along.shape[1]))
        row[:, :-1] = pose.length_dq[rows, column]
        return pose.length[rows, column] - length, row

    met = land(problem, begin, border, 0.5 * np.abs(gone[:, 0]) + 10 * CLOSED, CLOSED)
    least, largest = np.minimum(low.travel, high.travel), np.maximum(low.travel, high.travel)
    within: Mask = (met.travel >= least - CLOSED) & (met.travel <= largest + CLOSED)
    return met.travel, met.found & within


def find_nodes(problem: Problem, ends: tuple[Nodes, Nodes], value: Value, zero: float = _ZERO) -> Nodes:
    """The node between each pair of ends (K,) where its value is within `zero`, nearer ends first where none is.

    value  gives the values at nodes and their change per metre of path; poses are exact throughout
    problem  its basis has one set of numbers, or one a pair
    """
    count = len(ends[0])
    every = np.arange(count)
    bank = joined(ends)  # every node met so far; low, high and best count in it
    low, high = every.copy(), every + count
    at_low, at_high = value(ends[0], every), value(ends[1], every)
    rising = at_high[0] > at_low[0]
    best = np.where(np.abs(at_low[0]) <= np.abs(at_high[0]), low, high)
    start, span = bank.distance[low], bank.distance[high] - bank.distance[low]
    sign = np.where(rising, 1.0, -1.0)
    fit = sign * at_low[0], sign * at_high[0], sign * at_low[1] * span, sign * at_high[1] * span
    at = start + span * hermite_share(np.zeros(count), fit)
    on = every
    for _ in range(_MOST_STEPS):
        tries = np.stack([low[on], high[on], best[on]])
        gaps = np.abs(bank.distance[tries] - at[on])
        near = tries[np.argmin(gaps, axis=0), np.arange(len(on))]
        node, found = reach(problem[on], bank[near], at[on] - bank.distance[near])
        lost = np.flatnonzero(~found)
        if len(lost):  # once more, half-way: nearer to an end the curve predicts better
            middle = 0.5 * (bank.distance[low[on]] + bank.distance[high[on]])
            again, found_now = reach(
                problem[on[lost]], bank[near[lost]], (middle - bank.distance[near])[lost]
            )
            order = np.arange(len(on))
            order[lost] = len(on) + np.arange(len(lost))
            node = joined([node, again])[order]
            found[lost] = found_now
        place = len(bank) + np.arange(len(on))
        bank = joined([bank, node])
        here, slope = value(node, on)
        best[on] = np.where(found, place, best[on])
        narrow = np.abs(bank.distance[high[on]] - bank.distance[low[on]]) < _ZERO
        going = found & (np.abs(here) >= zero) & ~narrow
        above = (here > 0.0) == rising[on]
        low[on] = np.where(going & ~above, place, low[on])
        high[on] = np.where(going & above, place, high[on])
        step = here / np.where(slope != 0.0, slope, np.inf)
        newton = np.where(slope != 0.0, node.distance - step, np.inf)
        left, right = bank.distance[low[on]], bank.distance[high[on]]
        at[on] = np.where((newton > left) & (newton < right), newton, 0.5 * (left + right))
        on = on[going]
        if not len(on):
            break
    return bank[best]


def hermite_share(wanted: Array, fit: tuple[Array, Array, Array, Array]) -> Array:
    """Where (0..1) rising cubics reach the values `wanted` (P,): Newton fenced by halving.

    fit  (P,) each: values at the start and at the end, then slopes there times the span
    """
    start, end, a, b = fit
    low, high = np.zeros(len(wanted)), np.ones(len(wanted))
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.clip(np.nan_to_num((wanted - start) / (end - start)), 0.0, 1.0)
    rise = end - start
    second, third = 3.0 * rise - 2.0 * a - b, a + b - 2.0 * rise
    for _ in range(_HERMITE_STEPS):
        over = start + share * (a + share * (second + share * third)) - wanted
        slope = a + share * (2.0 * second + 3.0 * share * third)
        above = over > 0.0
        low, high = np.where(above, low, share), np.where(above, share, high)
        newton = share - over / np.where(slope > 0.0, slope, np.inf)
        before, share = share, np.where((newton > low) & (newton < high), newton, 0.5 * (low + high))
        if np.abs(share - before).max() < _SAME_SHARE:
            break
    return share
