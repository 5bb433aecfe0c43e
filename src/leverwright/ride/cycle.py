"""One assembly cycled: travel, springs, wheel rates and forces at every pose."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from leverwright.geometry import Array, Mask
from leverwright.linkage import (
    Driving,
    Forces,
    Index,
    Nodes,
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
    poses_of,
    ranges_of,
    tracks_of,
)
from leverwright.ride.sprung import SpringState, SprungAssembly, line_force, spring_state

__all__ = [
    "LOOK",
    "NEAR",
    "Cycle",
    "Travels",
    "cycle_assembly",
    "find_all_travels",
    "find_travels",
    "pose_cycle",
    "sweep_all",
]

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
    return find_all_travels([sprung], mode, asked, default, look)[0]


def find_all_travels(
    settings: Sequence[SprungAssembly],
    mode: str,
    asked: tuple[float | None, float | None],
    default: tuple[Stop, Stop],
    look: float = LOOK,
) -> tuple[Travels | None, ...]:
    """The same for several settings of one assembly, walked side by side: one layout, its own numbers each."""
    first = settings[0]
    weights = mode_weights(first.assembly.layout, mode)
    if weights is None:
        return (None,) * len(settings)
    low = default[0].travel if asked[0] is None else asked[0]
    high = default[1].travel if asked[1] is None else asked[1]
    until = _far_enough(settings, (low, high), asked, look)
    found = tracks_of([s.assembly for s in settings], weights, until)
    tracks = [f[0] for f in found if f is not None]
    if not tracks:
        return (None,) * len(settings)
    limited = bool(first.limits)
    ends = (
        -np.inf if asked[0] is None and limited else low,
        np.inf if asked[1] is None and limited else high,
    )
    limits = [s.limits for s, f in zip(settings, found, strict=True) if f is not None]
    spans = iter(ranges_of(tracks, limits, ends))
    out: list[Travels | None] = []
    for each in found:
        span = None if each is None else next(spans)
        if span is not None and not np.isfinite(span.droop.travel):
            span = Range(Stop(low, "asked"), span.bump)
        if span is not None and not np.isfinite(span.bump.travel):
            span = Range(span.droop, Stop(high, "asked"))
        if span is not None:
            span = Range(
                _by_whom(span.droop, asked[0], default[0]), _by_whom(span.bump, asked[1], default[1])
            )
        out.append(None if each is None else Travels(weights, *each, span))
    return tuple(out)


def _by_whom(stop: Stop, asked: float | None, default: Stop) -> Stop:
    """An end that nobody but this program chose has no `by`; one that was asked for, or a goal, says so."""
    return (
        stop if stop.why != "asked" else Stop(stop.travel, stop.why, default.by if asked is None else "asked")
    )


def _far_enough(
    settings: Sequence[SprungAssembly],
    ends: tuple[float, float],
    asked: tuple[float | None, float | None],
    look: float,
) -> Until:
    """Far enough towards bump and droop: past what was asked and looked for, and past a limit that ends it."""
    first = settings[0]
    lines_at = len(first.assembly.layout.bars)
    rooms = [least_room(s.limits, lines_at) for s in settings]
    way = np.array([1.0, -1.0])
    stated = np.array([asked[1] is not None, asked[0] is not None]) | (not first.limits)
    least = np.where(stated, np.maximum(way * np.array(ends[::-1]), look), look)

    def until(nodes: Nodes, walker: Index) -> Mask:
        side = walker % 2
        gone = way[side] * nodes.travel
        ended = stated[side].copy()
        for row in np.flatnonzero(~ended & (gone >= least[side])):
            ended[row] = rooms[walker[row] // 2](nodes[row : row + 1])[0] < -_BEYOND
        enough: Mask = (gone >= _FURTHEST) | ((gone >= least[side]) & ended)
        return enough

    return until


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


def sweep_all(
    settings: Sequence[SprungAssembly], travels: Sequence[Travels | None], poses: int, *, forces: bool = False
) -> tuple[Cycle, ...]:
    """Each of several settings of one assembly over its own travel in heave, solved together."""
    mode = "heave"
    able = [
        (s, t, t.range)
        for s, t in zip(settings, travels, strict=True)
        if t is not None and t.range is not None
    ]
    at = [np.linspace(span.droop.travel, span.bump.travel, poses) for _, _, span in able]
    try:
        driving = able[0][1].driving if able else None
        swept = iter(
            poses_of([s.assembly for s, _, _ in able], [t.track for _, t, _ in able], driving, at)
            if driving
            else ()
        )
    except OpenPoseError:
        return tuple(cycle_assembly(s, mode, t, poses) for s, t in zip(settings, travels, strict=True))
    out = []
    for sprung, each in zip(settings, travels, strict=True):
        if each is None or each.range is None:
            out.append(Cycle(sprung, mode, each, None, None, None))
        else:
            posed = next(swept)
            springs = spring_state(sprung, posed)
            acting = _forces(sprung, each, posed, springs) if forces else None
            out.append(Cycle(sprung, mode, each, posed, springs, acting))
    return tuple(out)


def pose_cycle(sprung: SprungAssembly, mode: str, travels: Travels, at: Array) -> Cycle:
    """Everything at the path travels `at` (P,) m."""
    posed = pose_at(sprung.assembly, travels.track, travels.driving, at)
    springs = spring_state(sprung, posed)
    return Cycle(sprung, mode, travels, posed, springs, _forces(sprung, travels, posed, springs))


def _forces(sprung: SprungAssembly, travels: Travels, posed: Posed, springs: SpringState) -> Forces:
    push = line_force(sprung, springs.push)
    return forces_of(travels.track.problem, posed.state, posed.pose, push)
