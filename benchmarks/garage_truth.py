"""The truth of a vehicle of the garage, found without the product's solver.

Poses come from SciPy's `root` on the closure equations (`tests/reference/root_by_pose.py`), which the tests hold to
the rigid-body engine Exudyn; forces and rates are the derivatives of the spring lengths so found (virtual work).
A linkage of one freedom is walked by the angle of its rocker, for that goes on evenly through a dead centre, where
the wheel's height turns back.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.polynomial import chebyshev
from scipy.interpolate import BSpline, make_interp_spline
from scipy.optimize import brentq, root

from benchmarks.garage_vehicles import TrueVehicle
from tests.reference.root_by_pose import TINY, TOLERANCE, RootByPose
from tests.reference.vehicle import Array, CoilLaw

__all__ = ["GRAVITY", "NobodyWouldBuildError", "Truth", "truth_of"]

GRAVITY = 9.80665  # m/s², by definition
_STEP = 0.04  # rad of rocker between nodes; a quintic through them is good to a nanometre
_FURTHEST = 2.6  # rad from the set-up pose
_IN_LINE = 0.02  # sine of the angle between link and lever at an end that is a dead centre
_ROLL = 0.012  # m, wheel against wheel, over which a beam axle is sampled
_HEAVE_NODES, _ROLL_NODES = 11, 5
_UNEVEN = 2.5  # times the standing ratio, up or down, within the travel; more is no lever that one would keep
_LEAST_MARGIN = 0.003  # m between the end of the shock's travel and dead centre; less is no vehicle


class NobodyWouldBuildError(Exception):
    """It does not stand on its spring, or locks inside its travel: no vehicle for this garage."""


@dataclass(frozen=True, slots=True)
class Truth:
    """The four answers, at the wheel that answers: SI; a dead centre that does not exist is None.

    Distance to dead centre is counted from the middle of where the wheels of the assembly stand.
    """

    ratio: float
    sag: float
    frequency: float
    dead_centre_bump: float | None
    dead_centre_droop: float | None
    heights: tuple[float, ...]  # where the wheels of the assembly stand


class _Walk(RootByPose):
    """The closure equations with the rocker's angle given instead of the wheels' heights, which move alike."""

    def __init__(self, vehicle: TrueVehicle, rocker: str) -> None:
        super().__init__(vehicle.assembly)
        self.rocker = rocker
        before = 0
        for mover in self._movers:
            before += mover.unknowns
            if mover.body == self.rocker:
                break
        self._turned = before - 1  # the angle is the last unknown of a hinged or flat body

    def turn_to(self, angle: float) -> dict[str, Array]:
        """Points with the rocker at `angle` [rad] from the set-up pose."""
        start = np.where(np.abs(self._last) < TINY, 0.0, self._last)
        found = root(self._turned_gaps, start, args=(angle,), tol=TOLERANCE)
        miss = float(np.abs(self._turned_gaps(found.x, angle)).max())
        if miss > 1e-10 or float(np.abs(found.x - self._last).max()) > 10 * _STEP:
            raise ArithmeticError(f"no pose at {angle} rad")
        self._last = found.x
        placed = self.place(found.x)
        return {name: at for body in placed.values() for name, at in body.items()}

    def _turned_gaps(self, unknowns: Array, angle: float) -> Array:
        vehicle = self.vehicle
        still = dict.fromkeys(vehicle.wheels, 0.0)
        gaps = self._gaps(unknowns, still, {})
        heights = gaps[len(gaps) - len(still) :] - [
            vehicle.points[centre][vehicle.up] for _, centre in vehicle.wheels.values()
        ]
        alike = heights[1:] - heights[0]
        return np.concatenate([gaps[: len(gaps) - len(still)], alike, [unknowns[self._turned] - angle]])


@dataclass(frozen=True, slots=True)
class _Curve:
    """Wheel travel [m], spring lengths [m] and how the link stands to the lever, over the rocker's angle [rad]."""

    angle: Array
    travel: BSpline
    lengths: Mapping[str, BSpline]
    in_line: BSpline

    def dead_centre(self, way: float) -> float | None:
        """Travel [m] at which the wheel turns back that way with link and lever in line."""
        slope = self.travel.derivative()
        rises = math.copysign(1.0, float(slope(0.0)))
        fine = np.linspace(0.0, self.angle[-1] if way * rises > 0 else self.angle[0], 400)
        value = slope(fine)
        turned = np.flatnonzero(np.sign(value[1:]) != np.sign(value[0]))
        if not len(turned):
            return None
        at = brentq(lambda a: float(slope(a)), fine[turned[0]], fine[turned[0] + 1], xtol=1e-12)
        return float(self.travel(at)) if abs(float(self.in_line(at))) < _IN_LINE else None

    def unevenness(self, spring: str, ends: tuple[float, float], ratio: float) -> float:
        """By how many times the heave ratio leaves `ratio`, up or down, between two travels."""
        fine = np.linspace(self.angle[0], self.angle[-1], 1200)
        slope, travel = self.travel.derivative()(fine), self.travel(fine)
        inside = (travel >= ends[0]) & (travel <= ends[1]) & (slope * self.travel.derivative()(0.0) > 0.0)
        there = -self.lengths[spring].derivative()(fine[inside]) / slope[inside] / ratio
        return math.inf if there.min() <= 0.0 else float(max(there.max(), 1.0 / there.min()))

    def until(self, spring: str, length: float) -> float | None:
        """Travel [m] nearest to the set-up pose at which a spring has that length, on the way between dead centres."""
        slope = self.travel.derivative()
        fine = np.linspace(self.angle[0], self.angle[-1], 1200)
        middle = int(np.argmin(np.abs(fine)))
        alive = np.sign(slope(fine)) == np.sign(slope(0.0))
        low, high = middle, middle
        while low > 0 and alive[low - 1]:
            low -= 1
        while high < len(fine) - 1 and alive[high + 1]:
            high += 1
        over = self.lengths[spring](fine[low : high + 1]) - length
        crossings = np.flatnonzero(np.sign(over[1:]) != np.sign(over[:-1]))
        if not len(crossings):
            return None
        near = min(crossings, key=lambda k: abs(fine[low + k]))
        at = brentq(lambda a: float(self.lengths[spring](a)) - length, fine[low + near], fine[low + near + 1])
        return float(self.travel(at))


def truth_of(vehicle: TrueVehicle) -> Truth:
    """The four answers; NobodyWouldBuildError where it is no vehicle that one would build."""
    # Of an axle with two rockers the one that comes into line first turns the wheels back.
    curves = [_walk(vehicle, body) for body in vehicle.assembly.bodies if body.startswith("rocker")]
    curve = curves[0]
    droop, bump = _range(vehicle, curve)
    found = [[one.dead_centre(way) for one in curves] for way in (-1.0, 1.0)]
    below = max((z for z in found[0] if z is not None), default=None)
    above = min((z for z in found[1] if z is not None), default=None)
    if (below is not None and below > droop - _LEAST_MARGIN) or (
        above is not None and above < bump + _LEAST_MARGIN
    ):
        raise NobodyWouldBuildError("it locks inside its travel")
    heights, ratio, rate = (
        _two_wheels(vehicle, (droop, bump)) if len(vehicle.load) > 1 else _one_wheel(vehicle, curve)
    )
    if not droop + 0.15 * (bump - droop) < heights[0] < bump - 0.1 * (bump - droop):
        raise NobodyWouldBuildError("it stands near an end of its travel")
    uneven = curve.unevenness(next(iter(vehicle.assembly.springs)), (droop, bump), ratio)
    if not 0.25 < ratio < 2.0 or rate <= 0.0 or uneven > _UNEVEN:
        raise NobodyWouldBuildError("its lever is no lever")
    stands, middle = float(heights[0]), float(np.mean(heights))
    sprung = vehicle.load[vehicle.wheel] - vehicle.unsprung[vehicle.wheel]
    return Truth(
        ratio,
        stands - droop,
        math.sqrt(rate / sprung) / (2 * math.pi),
        None if above is None else above - middle,
        None if below is None else middle - below,
        tuple(float(z) for z in heights),
    )


def _walk(vehicle: TrueVehicle, rocker: str) -> _Curve:
    """From the set-up pose both ways, until the wheel has turned back or the linkage opens."""
    rows: dict[float, tuple[float, list[float], float]] = {}
    for way in (1.0, -1.0):
        walk = _Walk(vehicle, rocker)
        rows[0.0] = _row(vehicle, walk.turn_to(0.0), walk.rocker)
        before, beyond = rows[0.0][0], 0
        first: float | None = None
        for k in range(1, int(_FURTHEST / _STEP)):
            try:
                row = _row(vehicle, walk.turn_to(way * k * _STEP), walk.rocker)
            except ArithmeticError:
                break
            rows[way * k * _STEP] = row
            step, before = row[0] - before, row[0]
            first = step if first is None else first
            beyond += step * first < 0.0
            if beyond > 2:
                break
    angle = np.array(sorted(rows))
    if len(angle) < 12:
        raise NobodyWouldBuildError("it hardly moves")
    values = [rows[a] for a in angle]
    names = list(vehicle.assembly.springs)
    return _Curve(
        angle,
        make_interp_spline(angle, [row[0] for row in values], k=5),
        {n: make_interp_spline(angle, [row[1][s] for row in values], k=5) for s, n in enumerate(names)},
        make_interp_spline(angle, [row[2] for row in values], k=5),
    )


def _row(vehicle: TrueVehicle, placed: Mapping[str, Array], rocker: str) -> tuple[float, list[float], float]:
    """Travel of the wheel, lengths of the springs, and the link's arm about the lever's pivot by the lever's own."""
    made = vehicle.assembly
    centre = made.wheels[vehicle.wheel][1]
    travel = float(placed[centre][made.up] - made.points[centre][made.up])
    lengths = [float(np.linalg.norm(placed[a] - placed[b])) for a, b in made.springs.values()]
    return travel, lengths, _sine(vehicle, placed, rocker)


def _sine(vehicle: TrueVehicle, placed: Mapping[str, Array], rocker: str) -> float:
    made = vehicle.assembly
    held = [p for p in made.bodies[rocker] if len(made.bodies_at(p)) > 1]
    link = next(ends for ends in made.bars.values() if set(ends) & (set(made.bodies[rocker]) - set(held)))
    hole = link[0] if link[0] in made.bodies[rocker] else link[1]
    far = link[1] if hole == link[0] else link[0]
    pull = placed[far] - placed[hole]
    pull = pull / np.linalg.norm(pull)
    arm = placed[hole] - placed[held[0]]
    if made.flat:
        return float((arm[0] * pull[1] - arm[1] * pull[0]) / np.linalg.norm(arm))
    line = placed[held[1]] - placed[held[0]]
    line = line / np.linalg.norm(line)
    arm = arm - (arm @ line) * line
    return float(np.cross(arm, pull) @ line / np.linalg.norm(arm))


def _range(vehicle: TrueVehicle, curve: _Curve) -> tuple[float, float]:
    """Droop and bump [m], where the first shock is fully open and fully closed."""
    ends: list[tuple[float, float]] = []
    for spring, law in vehicle.assembly.laws.items():
        droop, bump = curve.until(spring, law.length_open), curve.until(spring, law.length_closed)
        if droop is None or bump is None or droop >= bump or not droop < 0.0 < bump:
            raise NobodyWouldBuildError("its shock does not end the travel")
        ends.append((droop, bump))
    return max(droop for droop, _ in ends), min(bump for _, bump in ends)


def _one_wheel(vehicle: TrueVehicle, curve: _Curve) -> tuple[Array, float, float]:
    """Travels where it stands, (1,), ratio and rate there; by the rocker's angle a: dL/dz = L'(a) / z'(a)."""
    (spring, law), (wheel,) = next(iter(vehicle.assembly.laws.items())), vehicle.load
    z, length = curve.travel, curve.lengths[spring]
    z1, z2, l1, l2 = z.derivative(), z.derivative(2), length.derivative(), length.derivative(2)
    stuck = vehicle.stuck[spring] * vehicle.friction
    weight = (vehicle.load[wheel] - vehicle.unsprung[wheel]) * GRAVITY

    def ratio(a: float) -> float:
        return -float(l1(a) / z1(a))

    def missing(a: float) -> float:
        return (law.push(float(length(a))) + stuck) * ratio(a) - weight

    fine = [a for a in np.linspace(curve.angle[0], curve.angle[-1], 600) if z1(a) * z1(0.0) > 0]
    inside = [a for a in fine if law.length_closed < length(a) < law.length_open]
    signs = [missing(a) for a in inside]
    turns = [k for k in range(len(inside) - 1) if signs[k] * signs[k + 1] < 0]
    if len(turns) != 1:
        raise NobodyWouldBuildError("it stands nowhere, or in two places")
    at = brentq(missing, inside[turns[0]], inside[turns[0] + 1], xtol=1e-12)
    second = float((l2(at) * z1(at) - l1(at) * z2(at)) / z1(at) ** 3)  # d²L/dz²
    rate = law.rate * ratio(at) ** 2 - law.push(float(length(at))) * second
    return np.array([float(z(at))]), ratio(at), rate


@dataclass(frozen=True, slots=True)
class _Sheet:
    """Spring lengths of a beam axle over heave and roll, one polynomial each: its derivatives are exact."""

    shapes: tuple[Array, ...]
    middle: float
    half: float

    def slopes(self, heights: Array) -> tuple[Array, Array]:
        """Lengths (2,) m and dL/dz (spring, wheel) with the wheels at `heights` (2,) m."""
        h = (0.5 * (heights[0] + heights[1]) - self.middle) / self.half
        r = 0.5 * (heights[0] - heights[1]) / _ROLL
        lengths = np.array([chebyshev.chebval2d(h, r, c) for c in self.shapes])
        by_h, by_r = (
            np.array([chebyshev.chebval2d(h, r, chebyshev.chebder(c, axis=axis)) for c in self.shapes]) / size
            for axis, size in ((0, self.half), (1, _ROLL))
        )
        return lengths, 0.5 * np.stack([by_h + by_r, by_h - by_r], axis=1)

    def force(self, heights: Array, law: CoilLaw, stuck: Array) -> Array:
        """Ground force (2,) N that the springs hold, by virtual work, `stuck` (2,) N added to their push."""
        lengths, slope = self.slopes(heights)
        push = np.array([law.push(float(x)) for x in lengths]) + stuck
        return np.asarray(-push @ slope)


def _sheet(vehicle: TrueVehicle, ends: tuple[float, float]) -> _Sheet:
    """Sampled at Chebyshev nodes, each pose by `root` from the one before."""
    made = vehicle.assembly
    left, right = made.wheels
    middle, half = 0.5 * (ends[0] + ends[1]), 0.5 * (ends[1] - ends[0]) + 0.002
    heave = np.cos(np.pi * (np.arange(_HEAVE_NODES) + 0.5) / _HEAVE_NODES)
    roll = np.cos(np.pi * (np.arange(_ROLL_NODES) + 0.5) / _ROLL_NODES)
    walker = RootByPose(made)
    rows, found = [], []
    for r in sorted(roll, key=abs):
        walker.restart(np.zeros_like(walker.unknowns))
        for h in sorted(heave, key=lambda h: abs(middle + half * h)):
            up, lean = middle + half * h, _ROLL * r
            placed = walker.solve({left: up + lean, right: up - lean})
            rows.append((h, r))
            found.append([float(np.linalg.norm(placed[a] - placed[b])) for a, b in made.springs.values()])
    at = np.array(rows)
    basis = chebyshev.chebvander2d(at[:, 0], at[:, 1], (_HEAVE_NODES - 1, _ROLL_NODES - 1))
    table = np.linalg.lstsq(basis, np.array(found), rcond=None)[0]
    return _Sheet(tuple(c.reshape(_HEAVE_NODES, _ROLL_NODES) for c in table.T), middle, half)


def _two_wheels(vehicle: TrueVehicle, ends: tuple[float, float]) -> tuple[Array, float, float]:
    """The same of a beam axle, whose wheels stand each at its own height."""
    sheet, law = _sheet(vehicle, ends), vehicle.law
    stuck = np.array([vehicle.stuck[s] * vehicle.friction for s in vehicle.assembly.springs])
    weight = np.array([(vehicle.load[w] - vehicle.unsprung[w]) * GRAVITY for w in vehicle.assembly.wheels])

    def missing(heights: Array) -> Array:
        gap: Array = sheet.force(heights, law, stuck) - weight
        return gap

    balance = root(missing, np.array([sheet.middle, sheet.middle]), tol=1e-12)
    stands = balance.x
    if float(np.abs(balance.fun).max()) > 1e-6:  # N
        raise NobodyWouldBuildError(f"it stands nowhere: {balance.message}")
    if abs(stands[0] - stands[1]) > 2 * _ROLL:
        raise NobodyWouldBuildError("it leans")
    step, free = 1e-5, np.zeros(2)
    rate = (sheet.force(stands + step, law, free) - sheet.force(stands - step, law, free))[0] / (2 * step)
    ratio = -float(sheet.slopes(stands)[1][0].sum())
    return np.array(stands, dtype=np.float64), ratio, float(rate)
