"""Where travel ends: shocks fully open and closed, rigid straps taut, or the linkage itself; to 1e-6 mm."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage.closing import joined_problems
from leverwright.linkage.events import TURNS, find_nodes, meet_lengths
from leverwright.linkage.kinematics import Basis, second_order
from leverwright.linkage.layout import Index
from leverwright.linkage.path import Nodes, joined
from leverwright.linkage.track import Stop, Track

__all__ = ["LineLimit", "least_room", "travel_ends"]

_PAST = 1e-12  # m beyond a limit; rounding of a length that is at it exactly
_NEAR_LIMIT = (
    0.004  # m; a length that turns back between two nodes with less room than this is looked at exactly
)
_TOGETHER = 1e-9  # m; limits met nearer together than this are met at once, and the file's first one is named

Ends = tuple[Stop | None, Stop | None]


@dataclass(frozen=True, slots=True)
class LineLimit:
    """A length [m] that a spring or strap cannot pass, which way, and the contract's word for it."""

    name: str
    line: int  # place among the layout's lines
    length: float
    longest: bool
    why: str  # "shock open", "shock closed", "strap taut"


@dataclass(frozen=True, slots=True)
class _Rooms:
    """Lengths left before limits M, and how they change a metre of path, at nodes."""

    column: Index  # (M,) in the lengths of bars and lines
    length: Array  # (M,) m
    sign: Array  # (M,) +1 where the length may not grow past it

    def at(self, nodes: Nodes) -> Array:
        """Room (P, M) m, negative beyond a limit."""
        room: Array = self.sign * (self.length - nodes.pose.length[:, self.column])
        return room

    def slope(self, nodes: Nodes) -> Array:
        """Its change (P, M) per metre of path."""
        return -self.sign * _along(nodes.pose.length_dq[:, self.column], nodes.along)

    def bend(self, basis: Basis, nodes: Nodes) -> Array:
        """The change of that slope (P, M) per metre of path."""
        _, length2, _ = second_order(basis, nodes.pose, nodes.along[:, :-1, None])
        bend = length2[:, self.column, 0, 0] + _along(nodes.pose.length_dq[:, self.column], nodes.bend)
        return -self.sign * bend

    def picked(self, which: Index) -> _Rooms:
        """One limit for each of these."""
        return _Rooms(self.column[which], self.length[which], self.sign[which])


def _along(length_dq: Array, direction: Array) -> Array:
    out: Array = np.matmul(length_dq, direction[:, :-1, None])[..., 0]
    return out


def _rooms(limits: Sequence[LineLimit], lines_at: int) -> _Rooms:
    return _Rooms(
        np.array([lines_at + limit.line for limit in limits], dtype=np.int64),
        np.array([limit.length for limit in limits]),
        np.array([1.0 if limit.longest else -1.0 for limit in limits]),
    )


def least_room(limits: Sequence[LineLimit], lines_at: int) -> Callable[[Nodes], Array]:
    """Function: the least length (P,) [m] left before any limit at nodes, negative beyond one; inf without limits."""
    rooms = _rooms(limits, lines_at)
    return lambda nodes: rooms.at(nodes).min(axis=1, initial=np.inf)


@dataclass(frozen=True, slots=True)
class _Met:
    """A limit passed between two nodes of a track, on the way up (+1) or down (-1)."""

    track: int
    way: float
    limit: int
    ends: tuple[int, int]  # the node within, the node beyond


def travel_ends(
    tracks: Sequence[Track], limits: Sequence[Sequence[LineLimit]], asked: tuple[float, float]
) -> tuple[Ends | None, ...]:
    """First limit met towards droop and towards bump of each track; None in place of one that was not met on it.

    asked  (droop, bump) m: a limit that is met beyond is not told, for nobody wants to go there

    Where the start itself lies beyond a limit, the nearest stretch within all limits counts; None when there is none.
    """
    lines_at = len(tracks[0].basis.layout.bars)
    rooms = [_rooms(each, lines_at) for each in limits]
    ways = [_with_turns(track, room) for track, room in zip(tracks, rooms, strict=True)]
    met: list[_Met] = []
    inside: list[bool] = []
    for index, ((nodes, start), room) in enumerate(zip(ways, rooms, strict=True)):
        left = room.at(nodes)
        within = np.flatnonzero(left.min(axis=1, initial=np.inf) >= -1e-9)
        inside.append(bool(len(within)))
        if len(within):
            here = int(within[np.argmin(np.abs(within - start))])
            passed = _passed(index, left, here, 1) + _passed(index, left, here, -1)
            met += [m for m in passed if m.way * nodes.travel[m.ends[0]] < m.way * asked[m.way > 0.0]]
    travel = _where(tracks, [nodes for nodes, _ in ways], rooms, met)
    out: list[Ends | None] = []
    for index, track in enumerate(tracks):
        stops = [_first(met, travel, (index, way), limits[index]) for way in (-1.0, 1.0)]
        out.append((stops[0] or track.droop, stops[1] or track.bump) if inside[index] else None)
    return tuple(out)


def _with_turns(track: Track, rooms: _Rooms) -> tuple[Nodes, int]:
    """The track's nodes and, between them, those where a length turns back close to its limit or beyond it."""
    nodes = track.nodes
    room, slope = rooms.at(nodes), rooms.slope(nodes)
    down, up = slope[:-1], slope[1:]
    # The lowest that a length can get between: each end's slope followed all the way, which is further than it goes.
    span = np.diff(nodes.distance)[:, None]
    lowest = np.minimum(room[:-1], room[1:]) + 0.5 * np.maximum(down, -up) * span
    at, limit = np.nonzero((down < 0.0) & (up > 0.0) & (lowest <= _NEAR_LIMIT))
    if not len(at):
        return nodes, track.start

    def value(found: Nodes, which: Index) -> tuple[Array, Array]:
        rows, own = np.arange(len(which)), limit[which]
        return rooms.slope(found)[rows, own], rooms.bend(track.basis, found)[rows, own]

    turns = find_nodes(track.problem, (nodes[at], nodes[at + 1]), value, TURNS)
    every = joined([nodes, turns])
    order = np.argsort(every.distance, kind="stable")
    return every[order], int(np.flatnonzero(order == track.start)[0])


def _passed(track: int, room: Array, here: int, way: int) -> list[_Met]:
    """The limits passed between the last node within all limits and the next one, going one way from `here`."""
    left = room[here::way]
    past = np.flatnonzero((left[1:] < -_PAST).any(axis=1))
    if not len(past):
        return []
    ends = here + way * int(past[0]), here + way * (int(past[0]) + 1)
    return [_Met(track, float(way), int(m), ends) for m in np.flatnonzero(room[ends[1]] < -_PAST)]


def _where(
    tracks: Sequence[Track], nodes: Sequence[Nodes], rooms: Sequence[_Rooms], met: Sequence[_Met]
) -> list[float]:
    """Travel [m] at which each limit is met exactly."""
    if not met:
        return []
    low, high, each = [], [], []
    for m in met:
        first, second = sorted(m.ends)
        low.append(nodes[m.track][slice(first, first + 1)])
        high.append(nodes[m.track][slice(second, second + 1)])
        each.append(rooms[m.track].picked(np.array([m.limit])))
    room = _Rooms(
        *(np.concatenate([getattr(r, name) for r in each]) for name in ("column", "length", "sign"))
    )
    problem, ends = joined_problems([tracks[m.track].problem for m in met]), (joined(low), joined(high))
    travel, found = meet_lengths(problem, ends, room.column, room.length)
    lost = np.flatnonzero(~found)
    if len(lost):

        def value(nodes: Nodes, which: Index) -> tuple[Array, Array]:
            rows, own = np.arange(len(which)), room.picked(lost[which])
            return own.at(nodes)[rows, rows], own.slope(nodes)[rows, rows]

        travel[lost] = find_nodes(problem[lost], (ends[0][lost], ends[1][lost]), value).travel
    for k, m in enumerate(met):
        within = nodes[m.track][slice(m.ends[0], m.ends[0] + 1)]
        if rooms[m.track].at(within)[0, m.limit] <= 0.0:
            travel[k] = within.travel[0]
    return [float(at) for at in travel]


def _first(
    met: Sequence[_Met], travel: Sequence[float], which: tuple[int, float], limits: Sequence[LineLimit]
) -> Stop | None:
    """The stop that comes first on one way of one track."""
    mine = [(m.way * at, m.limit) for m, at in zip(met, travel, strict=True) if (m.track, m.way) == which]
    if not mine:
        return None
    nearest = min(mine)[0]
    at, index = next((at, limit) for at, limit in mine if at <= nearest + _TOGETHER)
    return Stop(which[1] * at, limits[index].why, limits[index].name)
