"""The solver's answers checked from other principles than its own, over the whole sweep.

Lengths are measured again between posed places; ratio and slope must add up to how far springs really moved; the
forces on each body, summed from bars, joints, springs and ground at their places, must leave nothing over; the
ground's forces must do the springs' work.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage import Posed, Track
from leverwright.linkage.kinematics import place_of
from leverwright.ride.cycle import Cycle, Travels

__all__ = ["ALLOWED", "BackCheck", "back_check"]

_COARSE = 1e-3  # share of a spring's movement that halving the step may change a sum by, for it to be judged
_LEAST_MOVE = 1e-3  # m; a spring that hardly moves is not judged by what rounding leaves of it
ALLOWED = 1e-6  # relative; the solver closes to 1e-11 m, so anything near this is a fault and not rounding


@dataclass(frozen=True, slots=True)
class BackCheck:
    """Largest relative residual of each principle; 0 where it does not apply."""

    lengths: float
    motion: float
    balance: float
    work: float

    @property
    def worst(self) -> tuple[str, float]:
        """Name and size of the largest residual."""
        rows = (
            ("lengths", self.lengths),
            ("motion", self.motion),
            ("balance", self.balance),
            ("work", self.work),
        )
        return max(rows, key=lambda row: row[1])

    @property
    def holds(self) -> bool:
        """Whether every residual is within what rounding explains."""
        return self.worst[1] <= ALLOWED


def back_check(cycle: Cycle) -> BackCheck:
    """Residuals of one assembly's sweep; an assembly that cannot move has none."""
    if cycle.posed is None or cycle.travels is None or cycle.springs is None or cycle.forces is None:
        return BackCheck(0.0, 0.0, 0.0, 0.0)
    travels, posed = cycle.travels, cycle.posed
    along = posed.rates.ds_dz @ travels.weights if travels.driving.each else posed.rates.ds_dz[:, :, 0]
    force = np.nanmax(np.abs(cycle.springs.push), initial=0.0)
    balance = float(np.nanmax(cycle.forces.balance, initial=0.0)) / max(force, 1.0)
    held = cycle.forces.wheel_force
    pushed = cycle.springs.wheel_push
    if not travels.driving.each:
        held = held @ travels.weights[:, None]
    work = float(np.nanmax(np.abs(held - pushed), initial=0.0)) / max(force, 1.0)
    return BackCheck(_lengths(travels.track, posed), _motion(posed, along, travels), balance, work)


def _lengths(track: Track, posed: Posed) -> float:
    """Bars between posed places against their lengths, and shared points against themselves, relative."""
    layout = track.basis.layout
    worst = 0.0
    for pair in layout.bars:
        ends = [place_of(track.basis, posed.state, *layout.feet[f]) for f in pair.feet]
        span = np.linalg.norm(ends[0] - ends[1], axis=1)
        if pair.kind == "bar":
            wanted = track.basis.geometry.bar_length[0, pair.item]
        else:
            places = track.basis.geometry.points[0]
            points = [layout.feet[f][1] for f in pair.feet]
            wanted = float(np.linalg.norm(places[points[0]] - places[points[1]]))
        worst = max(worst, float(np.abs(span / wanted - 1.0).max()))
    for joint in layout.joints:
        ends = [place_of(track.basis, posed.state, c, joint.point) for c in joint.carriers]
        reach = float(layout.reach[layout.unknown_carrier == joint.carriers[0]].max())
        worst = max(worst, float(np.linalg.norm(ends[0] - ends[1], axis=1).max()) / reach)
    return worst


def _motion(posed: Posed, along: Array, travels: Travels) -> float:
    """Ratio and slope summed over the sweep against the springs' own change of length, relative to the longest change.

    Trapezoid with its end correction (Euler-Maclaurin, error of fourth order); where halving the step changes the
    sum by more than what is allowed, the sweep is too coarse to judge there and that difference is allowed too.
    """
    if len(posed.travel) < 3:
        return 0.0
    bend = posed.rates.d2s_dz2
    slope = (
        np.einsum("pskm,k,m->ps", bend, travels.weights, travels.weights)
        if travels.driving.each
        else bend[:, :, 0, 0]
    )
    lines = len(travels.track.basis.layout.lines)
    size = -posed.length[:, :lines]
    if size.shape[1] == 0:
        return 0.0
    moved = np.maximum(np.abs(size - size[0]).max(axis=0), _LEAST_MOVE)
    one, two = (_summed(posed.travel, along[:, :lines], slope[:, :lines], step) for step in (1, 2))
    pairs = one[:-1:2] + one[1::2]
    coarse = np.abs(pairs - two)
    off = np.abs(size[2::2] - size[:-2:2] - pairs)
    judged = coarse < _COARSE * moved  # next to a dead centre the ratio has no bound and no sum converges
    return float((np.where(judged, np.maximum(0.0, off - coarse), 0.0) / moved).max(initial=0.0))


def _summed(travel: Array, value: Array, slope: Array, step: int) -> Array:
    at, value, slope = travel[::step], value[::step], slope[::step]
    width = np.diff(at)[:, None]
    out: Array = 0.5 * width * (value[1:] + value[:-1]) - width**2 / 12.0 * (slope[1:] - slope[:-1])
    return out
