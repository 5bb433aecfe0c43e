"""Where travel ends: shocks fully open and closed, rigid straps taut, or the linkage itself; to 1e-6 mm."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from leverwright.linkage.kinematics import second_order
from leverwright.linkage.path import Node, find_node
from leverwright.linkage.track import Stop, Track

__all__ = ["LineLimit", "least_room", "travel_ends"]


@dataclass(frozen=True, slots=True)
class LineLimit:
    """A length [m] that a spring or strap cannot pass, which way, and the contract's word for it."""

    name: str
    line: int  # place among the layout's lines
    length: float
    longest: bool
    why: str  # "shock open", "shock closed", "strap taut"


def least_room(limits: Sequence[LineLimit], lines_at: int) -> Callable[[Node], float]:
    """Function: the least length [m] left before any limit at a node, negative beyond one; inf without limits."""
    rooms = [_Room(limit, lines_at + limit.line) for limit in limits]
    return lambda node: min((room(node) for room in rooms), default=np.inf)


_PAST = 1e-12  # m beyond a limit; rounding of a length that is at it exactly
_NEAR_LIMIT = (
    0.004  # m; a length that turns back between two nodes with less room than this is looked at exactly
)


@dataclass(frozen=True, slots=True)
class _Room:
    """Length left before one limit, at a node of the track, and its change per metre of path."""

    limit: LineLimit
    column: int

    def __call__(self, node: Node) -> float:
        length = float(node.pose.length[0, self.column])
        return self.limit.length - length if self.limit.longest else length - self.limit.length

    def slope(self, node: Node) -> float:
        """Change of the room per metre of path."""
        per_path = float(node.pose.length_dq[0, self.column] @ node.along[:-1])
        return -per_path if self.limit.longest else per_path

    def bend(self, track: Track, node: Node) -> float:
        """Change of that slope per metre of path."""
        _, length2, _ = second_order(track.basis, node.pose, node.along[None, :-1, None])
        per_path = float(length2[0, self.column, 0, 0] + node.pose.length_dq[0, self.column] @ node.bend[:-1])
        return -per_path if self.limit.longest else per_path


def travel_ends(
    track: Track, limits: Sequence[LineLimit], lines_at: int
) -> tuple[Stop | None, Stop | None] | None:
    """First limit met towards droop and towards bump; None in place of one that was not met on the track.

    Where the start itself lies beyond a limit, the nearest stretch within all limits counts; None when there is none.
    """
    rooms = [_Room(limit, lines_at + limit.line) for limit in limits]
    nodes, start = _with_turns(track, rooms)
    least = [min((room(node) for room in rooms), default=np.inf) for node in nodes]
    inside = [index for index, value in enumerate(least) if value >= -1e-9]
    if not inside:
        return None
    here = min(inside, key=lambda index: abs(index - start))
    bump = _first(track, rooms, nodes[here:], 1.0)
    droop = _first(track, rooms, nodes[here::-1], -1.0)
    return droop or track.droop, bump or track.bump


def _with_turns(track: Track, rooms: Sequence[_Room]) -> tuple[list[Node], int]:
    """The track's nodes and, between them, those where a length turns back close to its limit or beyond it."""
    nodes: list[Node] = []
    start = 0
    for index, node in enumerate(track.nodes):
        if nodes:
            turns = [_turn(track, room, nodes[-1], node) for room in rooms]
            nodes += sorted((n for n in turns if n is not None), key=lambda n: n.distance)
        if index == track.start:
            start = len(nodes)
        nodes.append(node)
    return nodes, start


def _turn(track: Track, room: _Room, a: Node, b: Node) -> Node | None:
    down, up = room.slope(a), room.slope(b)
    if down >= 0.0 or up <= 0.0:
        return None
    # The lowest that a length can get between: each end's slope followed all the way, which is further than it goes.
    if min(room(a), room(b)) + 0.5 * max(down, -up) * (b.distance - a.distance) > _NEAR_LIMIT:
        return None
    return find_node(track.problem, (a, b), lambda n: (room.slope(n), room.bend(track, n)))


def _first(track: Track, rooms: Sequence[_Room], nodes: Sequence[Node], way: float) -> Stop | None:
    for a, b in pairwise(nodes):
        met = [
            Stop(_where(track, room, a, b).travel, room.limit.why, room.limit.name)
            for room in rooms
            if room(b) < -_PAST
        ]
        if met:
            return min(met, key=lambda stop: way * stop.travel)
    return None


def _where(track: Track, room: _Room, a: Node, b: Node) -> Node:
    if room(a) <= 0.0:
        return a
    ends = (a, b) if a.distance < b.distance else (b, a)
    return find_node(track.problem, ends, lambda node: (room(node), room.slope(node)))
