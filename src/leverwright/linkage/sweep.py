"""One assembly cycled through its travel: the exact poses, derivatives and forces, and why it ends where it does."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage.closing import Drive, Problem, close, close_at
from leverwright.linkage.driving import Driving, pick_drive
from leverwright.linkage.ends import LineLimit, travel_ends
from leverwright.linkage.freedom import Freedom, find_freedom
from leverwright.linkage.kinematics import Basis, Pose, State, basis_of, evaluate, start_state
from leverwright.linkage.layout import Layout
from leverwright.linkage.mechanism import Geometry, geometry_of
from leverwright.linkage.rates import Rates, rates_of, spring_lengths
from leverwright.linkage.settling import settle
from leverwright.linkage.track import Stop, Track, Until, find_track, poses_at
from leverwright.linkage.transmission import driven_ends, transmission_angle

__all__ = [
    "Assembly",
    "OpenPoseError",
    "Posed",
    "Range",
    "assembly_of",
    "pose_at",
    "posed_from",
    "range_of",
    "track_of",
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


def is_exact(assembly: Assembly, driving: Driving) -> bool:
    """Whether equations and drivers together are square and none repeats another."""
    equations = assembly.layout.unknowns - assembly.freedom.modes.shape[1] + assembly.freedom.redundant
    square = equations + len(driving.drive.follow) == assembly.layout.unknowns
    return square and assembly.freedom.redundant == 0 and not assembly.freedom.singular


def track_of(assembly: Assembly, weights: Array, enough: tuple[Until, Until]) -> tuple[Track, Driving] | None:
    """The way both ways for wheels that follow `weights` (W,) until `enough` (droop, bump); None if none can start."""
    driving = pick_drive(assembly.freedom, weights)
    if driving is None or assembly.freedom.singular:
        return None  # on a dead centre the set-up pose goes on two ways, and neither is the builder's for certain
    exact = is_exact(assembly, driving)
    settled = settle(assembly.layout, assembly.geometry, driving.drive, exact)
    if not settled.closes:
        return None
    problem = Problem(settled.basis, driving.drive, exact)
    begin = (settled.state, 0.0) if settled.at_zero else _on_the_way(problem, settled.state)
    if begin is None:
        return None
    track = find_track(problem, begin, enough)
    return None if track is None else (track, driving)


def _on_the_way(problem: Problem, state: State) -> tuple[State, float] | None:
    """The state and path travel nearest to a closed state at which the wheels follow the drive; None if none does."""
    drive = problem.drive
    lead = int(np.argmax(np.abs(drive.follow)))
    height = evaluate(problem.basis, state).wheel_height[0]
    travel = float((drive.weights @ height)[lead] / drive.follow[lead])
    moved, _, closed = close(problem.basis, state, drive, np.array([travel]), problem.exact)
    return (moved, travel) if closed[0] else None


def range_of(track: Track, limits: Sequence[LineLimit], asked: tuple[float, float]) -> Range | None:
    """The travel between the first limits; `asked` (droop, bump) m ends it where nothing else does first."""
    found = travel_ends(track, limits, len(track.basis.layout.bars))
    if found is None:
        return None
    droop, bump = found
    return Range(_ended(droop, bump, asked[0], 1.0), _ended(bump, droop, asked[1], -1.0))


def _ended(stop: Stop | None, other: Stop | None, asked: float, way: float) -> Stop:
    """An end of travel: the stop, or what was asked if that comes first, never past the stop at the other end."""
    if stop is not None and way * (stop.travel - asked) >= 0.0:
        return stop
    if other is not None and way * (asked - other.travel) >= 0.0:
        return other
    return Stop(asked, "asked")


def pose_at(assembly: Assembly, track: Track, driving: Driving, travel: Array) -> Posed:
    """Exact poses at these travels (P,) m, with ratios and slopes."""
    lowest = track.droop.travel + _BEFORE_FOLD if track.droop is not None else -np.inf
    highest = track.bump.travel - _BEFORE_FOLD if track.bump is not None else np.inf
    at = np.clip(travel, lowest, highest)
    state, pose, closed = poses_at(track, at)
    if not np.all(closed):
        raise OpenPoseError(float(at[~closed][0]))
    return _posed(assembly, track, driving, at, (state, pose))


def _posed(
    assembly: Assembly, track: Track, driving: Driving, at: Array, solved: tuple[State, Pose]
) -> Posed:
    state, pose = solved
    rates = rates_of(track.problem, state, pose, assembly.turn_sign)
    length, _ = spring_lengths(track.basis, state, pose)
    angles = transmission_angle(track.basis, state, pose, driven_ends(assembly.layout))
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
    return _posed(assembly, track, driving, heights.mean(axis=1), (moved, pose))
