"""One assembly cycled through its travel: the exact poses, derivatives and forces, and why it ends where it does."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage.closing import Drive, Problem, close, close_at
from leverwright.linkage.driving import Driving, pick_drive
from leverwright.linkage.ends import LineLimit, travel_ends
from leverwright.linkage.freedom import Freedom, find_freedom
from leverwright.linkage.kinematics import Basis, Pose, State, basis_of, evaluate, joined_bases, start_state
from leverwright.linkage.layout import Index, Layout
from leverwright.linkage.mechanism import Geometry, geometry_of, joined_geometries
from leverwright.linkage.rates import Rates, rates_of, spring_lengths
from leverwright.linkage.settling import settle
from leverwright.linkage.track import Stop, Track, Until, find_tracks, poses_at
from leverwright.linkage.transmission import driven_ends, transmission_angle

__all__ = [
    "Assembly",
    "OpenPoseError",
    "Posed",
    "Range",
    "assembly_of",
    "pose_at",
    "posed_from",
    "poses_of",
    "ranges_of",
    "same_shape",
    "tracks_of",
]

# Beyond a fold there is no pose and on it every ratio is infinite, so the last pose stands this much before it.
_BEFORE_FOLD = 1e-8  # m


class OpenPoseError(ArithmeticError):
    """A pose on the way that Newton's method did not close, so that nothing can be said of the sweep."""

    def __init__(self, travel: float) -> None:
        super().__init__(f"no pose closes at travel {travel:.6f} m although the way passes it")


@dataclass(frozen=True, slots=True)
class Assembly:
    """One assembly with its freedom at the set-up pose; `exact` when its equations are as many as they should be."""

    layout: Layout
    geometry: Geometry
    basis: Basis
    freedom: Freedom
    turn_sign: Array  # (T,) + where bump winds a hinge spring up


@dataclass(frozen=True, slots=True)
class Range:
    """Where travel ends; `reached` False when the linkage has no pose within its shocks' limits."""

    droop: Stop
    bump: Stop


@dataclass(frozen=True, slots=True)
class Posed:
    """Exact poses with what the linkage alone says of them.

    travel (P,) m path; length (P, S) m or rad; compressions come from the springs' own laws.
    """

    travel: Array
    state: State
    pose: Pose
    rates: Rates
    length: Array
    transmission: Array  # (P, D) rad
    drive: Driving

    def __getitem__(self, poses: slice | Index) -> Posed:
        return Posed(
            self.travel[poses],
            self.state[poses],
            self.pose[poses],
            self.rates[poses],
            self.length[poses],
            self.transmission[poses],
            self.drive,
        )


def assembly_of(layout: Layout, geometry: Geometry | None = None) -> Assembly:
    """Analyse one assembly at its set-up pose."""
    numbers = geometry_of(layout.mechanism) if geometry is None else geometry
    if not layout.unknowns:
        nothing = np.zeros((0, 0))
        rigid = Freedom(0, nothing, 0, nothing, singular=False, shaky=0, redundant=0)
        return Assembly(layout, numbers, basis_of(layout, numbers), rigid, np.zeros(0))
    as_measured = geometry_of_set_up(layout, numbers)
    basis = basis_of(layout, as_measured)
    freedom = find_freedom(basis, start_state(basis, 1))
    sign = _turn_sign(layout, basis, freedom)
    return Assembly(layout, numbers, basis_of(layout, numbers), freedom, sign)


def geometry_of_set_up(layout: Layout, geometry: Geometry) -> Geometry:
    """The same places with bars as measured and nothing held away from 0: the pose that closes by definition."""
    from leverwright.linkage.mechanism import measured_bar_length

    return Geometry(
        geometry.points, measured_bar_length(layout.mechanism, geometry.points), 0.0 * geometry.hold
    )


def _turn_sign(layout: Layout, basis: Basis, freedom: Freedom) -> Array:
    """Sign of each hinge spring's angle in bump, by the mean of all wheels, else by the first that winds it."""
    if not layout.turns:
        return np.zeros(0)
    bodies = tuple(layout.mechanism.turns[t].bodies for t in layout.turns)
    from leverwright.linkage.kinematics import angle_of_turns, evaluate

    state = start_state(basis, 1)
    pose = evaluate(basis, state)
    _, angle_dq = angle_of_turns(basis, state, bodies)
    lift = pose.wheel_dq[0] @ freedom.modes
    wind = angle_dq[0] @ freedom.modes
    per_wheel = wind @ np.linalg.pinv(lift, rcond=1e-9) if lift.size else np.zeros((len(bodies), 1))
    total = per_wheel.sum(axis=1)
    scale = np.abs(per_wheel).max(initial=0.0)
    leading = np.array(
        [
            row[np.flatnonzero(np.abs(row) > 1e-9 * scale)[0]]
            if np.any(np.abs(row) > 1e-9 * max(scale, 1e-9))
            else 1.0
            for row in per_wheel
        ]
    )
    out: Array = np.where(np.abs(total) > 1e-9 * max(scale, 1e-9), np.sign(total), np.sign(leading))
    return out


def same_shape(first: Assembly, second: Assembly) -> bool:
    """Whether both are one linkage with other numbers: the same equations between the same parts, the same freedom."""
    one, two = first.layout, second.layout
    parts = all(
        getattr(one, name) == getattr(two, name)
        for name in ("moving", "feet", "joints", "spins", "held", "bars", "lines", "turns", "wheels")
    )
    arrays = ("unknown_carrier", "centre_point", "hinge_to", "foot_carrier")
    same = parts and all(np.array_equal(getattr(one, name), getattr(two, name)) for name in arrays)
    # A straight body's own spin and a hinge between moving bodies are held along lines of the file's own places.
    if not same or one.spins or not np.array_equal(one.joint_rows.set_up_dir, two.joint_rows.set_up_dir):
        return False
    a, b = first.freedom, second.freedom
    told = ("count", "wheel_rank", "singular", "shaky", "redundant")
    return a.modes.shape == b.modes.shape and all(getattr(a, name) == getattr(b, name) for name in told)


def is_exact(assembly: Assembly, driving: Driving) -> bool:
    """Whether equations and drivers together are square and none repeats another."""
    equations = assembly.layout.unknowns - assembly.freedom.modes.shape[1] + assembly.freedom.redundant
    square = equations + len(driving.drive.follow) == assembly.layout.unknowns
    return square and assembly.freedom.redundant == 0 and not assembly.freedom.singular


def tracks_of(
    assemblies: Sequence[Assembly], weights: Array, until: Until
) -> tuple[tuple[Track, Driving] | None, ...]:
    """The way both ways for wheels that follow `weights` (W,) `until` far enough; None for one that cannot start.

    assemblies  settings of one assembly: layouts of the same shape, the same freedom, each with its own numbers
    until       walkers count bump of the first, droop of the first, bump of the second …
    """
    first, nothing = assemblies[0], (None,) * len(assemblies)
    driving = pick_drive(first.freedom, weights)
    if driving is None or first.freedom.singular:
        return nothing  # on a dead centre the set-up pose goes on two ways, and neither is the builder's for certain
    exact = is_exact(first, driving)
    alike = all(a.layout is first.layout for a in assemblies)
    each = [basis_of(a.layout, a.geometry) for a in assemblies] if not alike else []
    numbers = joined_geometries([a.geometry for a in assemblies])
    settled = settle(joined_bases(each) if each else basis_of(first.layout, numbers), driving.drive, exact)
    problem = Problem(settled.basis, driving.drive, exact)
    travel, ready = np.zeros(len(assemblies)), settled.closes.copy()
    state = settled.state
    for row in np.flatnonzero(ready & ~settled.at_zero):
        begin = _on_the_way(problem[row : row + 1], state[row : row + 1])
        ready[row] = begin is not None
        if begin is not None:
            state.rotation[row], state.offset[row] = begin[0].rotation[0], begin[0].offset[0]
            travel[row] = begin[1]
    rows = np.flatnonzero(ready)
    if not len(rows):
        return nothing
    walker = np.repeat(2 * rows, 2) + np.tile([0, 1], len(rows))
    tracks = find_tracks(problem[rows], (state[rows], travel[rows]), lambda nodes, k: until(nodes, walker[k]))
    found: list[tuple[Track, Driving] | None] = [*nothing]
    for row, track in zip(rows, tracks, strict=True):
        if track is not None:
            own = track if alike else replace(track, problem=replace(problem, basis=each[row]))
            found[row] = own, driving
    return tuple(found)


def _on_the_way(problem: Problem, state: State) -> tuple[State, float] | None:
    """The state and path travel nearest to a closed state at which the wheels follow the drive; None if none does."""
    drive = problem.drive
    lead = int(np.argmax(np.abs(drive.follow)))
    height = evaluate(problem.basis, state).wheel_height[0]
    travel = float((drive.weights @ height)[lead] / drive.follow[lead])
    moved, _, closed = close(problem.basis, state, drive, np.array([travel]), problem.exact)
    return (moved, travel) if closed[0] else None


def ranges_of(
    tracks: Sequence[Track], limits: Sequence[Sequence[LineLimit]], asked: tuple[float, float]
) -> tuple[Range | None, ...]:
    """The travel between the first limits of each; `asked` (droop, bump) m ends it where nothing else does first."""
    found = travel_ends(tracks, limits, asked)
    return tuple(
        None
        if ends is None
        else Range(_ended(ends[0], ends[1], asked[0], 1.0), _ended(ends[1], ends[0], asked[1], -1.0))
        for ends in found
    )


def _ended(stop: Stop | None, other: Stop | None, asked: float, way: float) -> Stop:
    """An end of travel: the stop, or what was asked if that comes first, never past the stop at the other end."""
    if stop is not None and way * (stop.travel - asked) >= 0.0:
        return stop
    if other is not None and way * (asked - other.travel) >= 0.0:
        return other
    return Stop(asked, "asked")


def pose_at(assembly: Assembly, track: Track, driving: Driving, travel: Array) -> Posed:
    """Exact poses at these travels (P,) m, with ratios and slopes."""
    return poses_of([assembly], [track], driving, [travel])[0]


def poses_of(
    assemblies: Sequence[Assembly], tracks: Sequence[Track], driving: Driving, travels: Sequence[Array]
) -> tuple[Posed, ...]:
    """The same for several settings of one assembly, each at travels of its own, solved together."""
    at = [np.clip(travel, *_closable(track)) for track, travel in zip(tracks, travels, strict=True)]
    problem, state, pose, closed = poses_at(tracks, at)
    every = np.concatenate(at)
    if not np.all(closed):
        raise OpenPoseError(float(every[~closed][0]))
    posed = _posed(assemblies[0], problem, driving, every, (state, pose))
    if len(at) == 1:
        return (posed,)
    ends = np.cumsum([0, *(len(travel) for travel in at)])
    return tuple(posed[slice(int(a), int(b))] for a, b in pairwise(ends))


def _closable(track: Track) -> tuple[float, float]:
    """Least and largest travel [m] at which a pose is exact: just before a fold."""
    lowest = track.droop.travel + _BEFORE_FOLD if track.droop is not None else -np.inf
    highest = track.bump.travel - _BEFORE_FOLD if track.bump is not None else np.inf
    return lowest, highest


def _posed(
    assembly: Assembly, problem: Problem, driving: Driving, at: Array, solved: tuple[State, Pose]
) -> Posed:
    state, pose = solved
    rates = rates_of(problem, state, pose, assembly.turn_sign)
    length, _ = spring_lengths(problem.basis, state, pose)
    angles = transmission_angle(problem.basis, state, pose, driven_ends(assembly.layout))
    return Posed(at, state, pose, rates, length, angles, driving)


def posed_from(
    assembly: Assembly, track: Track, driving: Driving, heights: Array, state: State
) -> Posed | None:
    """Poses with each wheel at its own height (P, W) m, closed from a near `state` (P poses); None if one does not.

    Only where every wheel has a freedom of its own (driving.each).
    """
    count = heights.shape[1]
    free = Drive(np.eye(count), np.zeros(count), np.zeros(count))
    moved, pose, closed = close_at(track.basis, state, free, heights, track.exact)
    if not np.all(closed):
        return None
    return _posed(assembly, track.problem, driving, heights.mean(axis=1), (moved, pose))
