"""Where travel ends: shocks fully open and closed, rigid straps taut, or the linkage itself; to 1e-6 mm."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from leverwright.linkage.path import Node, find_node
from leverwright.linkage.track import Stop, Track

__all__ = ["LineLimit", "travel_ends"]


@dataclass(frozen=True, slots=True)
class LineLimit:
    """A length [m] that a spring or strap cannot pass, which way, and the contract's word for it."""

    name: str
    line: int  # place among the layout's lines
    length: float
    longest: bool
    why: str  # "shock open", "shock closed", "strap taut"


def travel_ends(track: Track, limits: Sequence[LineLimit], lines_at: int) -> tuple[Stop | None, Stop | None] | None:
    """First limit met towards droop and towards bump; None in place of one that was not met on the track.

    Where the start itself lies beyond a limit, the nearest stretch within all limits counts; None when there is none.
    """

    def room(limit: LineLimit) -> Callable[[Node], float]:
        def left(node: Node) -> float:
            length = float(node.pose.length[0, lines_at + limit.line])
            return limit.length - length if limit.longest else length - limit.length

        return left

    rooms = [room(limit) for limit in limits]
    least = [min((r(node) for r in rooms), default=np.inf) for node in track.nodes]
    inside = [index for index, value in enumerate(least) if value >= -1e-9]
    if not inside:
        return None
    here = min(inside, key=lambda index: abs(index - track.start))
    bump = _first(track, limits, rooms, range(here, len(track.nodes) - 1), 1)
    droop = _first(track, limits, rooms, range(here, 0, -1), -1)
    return droop or track.droop, bump or track.bump


def _first(track: Track, limits: Sequence[LineLimit], rooms: Sequence[Callable[[Node], float]], order: range, way: int) -> Stop | None:
    for index in order:
        a, b = track.nodes[index], track.nodes[index + way]
        met: list[Stop] = []
        for limit, left in zip(limits, rooms, strict=True):
            if left(b) < -1e-12:
                node = find_node(track.basis, track.drive, (a, b), left, track.exact) if left(a) > 0.0 else a
                met.append(Stop(node.travel, limit.why, limit.name))
        if met:
            return min(met, key=lambda stop: way * stop.travel)
    return None
