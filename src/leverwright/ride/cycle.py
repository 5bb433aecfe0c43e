"""One assembly cycled: travel, springs, wheel rates and forces at every pose."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage import (
    Driving,
    Forces,
    Node,
    OpenPoseError,
    Posed,
    Range,
    Stop,
    Track,
    Until,
    forces_of,
    least_room,
    mode_weights,
    pose_at,
    range_of,
    track_of,
)
from leverwright.ride.sprung import SpringState, SprungAssembly, line_force, spring_state

__all__ = ["LOOK", "NEAR", "Cycle", "Travels", "cycle_assembly", "find_travels", "pose_cycle"]

# How far the way is walked to look for dead centres beyond the travel: more than any wheel of a small vehicle
# moves; a dead centre further off is no danger.
LOOK = 0.35  # m
NEAR = (
    0.06  # m; a look that only asks where the shocks end the travel and whether a dead centre is close behind
)
_BEYOND = 0.015  # m of spring past its limit that is still walked: more than any margin asks
_FURTHEST = 0.8  # m; a shock that has not ended the travel by then does not limit it


@dataclass(frozen=True, slots=True)
class Travels:
    """The way of one assembly in one mode and the travel its shocks leave; `range` None when there is none."""

    weights: Array  # (W,) travel of each wheel per printed travel
    track: Track
    driving: Driving
    range: Range | None


@dataclass(frozen=True, slots=True)
class Cycle:
    """Poses of one assembly; `posed` None when it cannot move."""

    sprung: SprungAssembly
    mode: str
    travels: Travels | None
    posed: Posed | None
    springs: SpringState | None
    forces: Forces | None


def find_travels(
    sprung: SprungAssembly,
    mode: str,
    asked: tuple[float | None, float | None],
    default: tuple[Stop, Stop],
    look: float = LOOK,
) -> Travels | None:
    """Walk the assembly's way; `asked` (droop, bump) m where somebody asked, `default` where nothing else ends it."""
    weights = mode_weights(sprung.assembly.layout, mode)
    if weights is None:
        return None
    low = default[0].travel if asked[0] is None else asked[0]
    high = default[1].travel if asked[1] is None else asked[1]
    found = track_of(sprung.assembly, weights, _enough(sprung, (low, high), asked, look))
    if found is None:
        return None
    track, driving = found
    limited = bool(sprung.limits)
    ends = (
        -np.inf if asked[0] is None and limited else low,
        np.inf if asked[1] is None and limited else high,
    )
    span = range_of(track, sprung.limits, ends)
    if span is not None and not np.isfinite(span.droop.travel):
        span = Range(Stop(low, "asked"), span.bump)
    if span is not None and not np.isfinite(span.bump.travel):
        span = Range(span.droop, Stop(high, "asked"))
    if span is not None:
        span = Range(_by_whom(span.droop, asked[0], default[0]), _by_whom(span.bump, asked[1], default[1]))
    return Travels(weights, track, driving, span)


def _by_whom(stop: Stop, asked: float | None, default: Stop) -> Stop:
    """An end that nobody but this program chose has no `by`; one that was asked for, or a goal, says so."""
    return (
        stop if stop.why != "asked" else Stop(stop.travel, stop.why, default.by if asked is None else "asked")
    )


def _enough(
    sprung: SprungAssembly, ends: tuple[float, float], asked: tuple[float | None, float | None], look: float
) -> tuple[Until, Until]:
    """Far enough towards droop and bump: past what was asked and looked for, and past a limit that ends it."""
    room = least_room(sprung.limits, len(sprung.assembly.layout.bars))

    def one(way: float, end: float, stated: float | None) -> Until:
        least = max(way * end, look) if stated is not None or not sprung.limits else look

        def enough(node: Node) -> bool:
            gone = way * node.travel
            ended = stated is not None or not sprung.limits or room(node) < -_BEYOND
            return gone >= _FURTHEST or (gone >= least and ended)

        return enough

    return one(-1.0, ends[0], asked[0]), one(1.0, ends[1], asked[1])


def cycle_assembly(sprung: SprungAssembly, mode: str, travels: Travels | None, poses: int) -> Cycle:
    """`poses` equally spaced poses between the ends of travel, both ends included."""
    if travels is None or travels.range is None:
        return Cycle(sprung, mode, travels, None, None, None)
    at = np.linspace(travels.range.droop.travel, travels.range.bump.travel, poses)
    try:
        return pose_cycle(sprung, mode, travels, at)
    except OpenPoseError:
        # A way with a hole in it is no way: better nothing than a sweep that is not what it says.
        return Cycle(sprung, mode, replace(travels, range=None), None, None, None)


def pose_cycle(sprung: SprungAssembly, mode: str, travels: Travels, at: Array) -> Cycle:
    """Everything at the path travels `at` (P,) m."""
    posed = pose_at(sprung.assembly, travels.track, travels.driving, at)
    springs = spring_state(sprung, posed)
    push = line_force(sprung, springs.push)
    track = travels.track
    forces = forces_of(track.problem, posed.state, posed.pose, push)
    return Cycle(sprung, mode, travels, posed, springs, forces)
