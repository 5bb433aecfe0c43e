"""Positions of a mechanism by SciPy's `root`, one pose after the other.

This is what a careful Python user would write with a general root finder: least unknowns (an angle
for a body hinged to the chassis, else six, three when flat), warm start from the pose before, no
Jacobian given. It is the second witness for positions and the reference of the benchmarks.

A trap: warm-started from an exact solution, MINPACK steps by a share of each unknown; a noise of
1e-19 rad then takes a step of 1e-27, sees no change and returns unmoved with `success = False`.
Hence the snap to zero below, and `success` is checked at every pose.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.optimize import root

from tests.reference.vehicle import Array, Vehicle

TINY = 1e-9  # rad or m: unknowns below are noise of the solver; as zero they get a full step
TOLERANCE = 1e-12  # relative step at which `root` stops: 1e-12 of a metre is 1e-9 mm

Placed = dict[str, Array]


def turn_about(direction: Array, angle: float) -> Array:
    """Rotation matrix about a unit vector (Rodrigues), (3, 3)."""
    x, y, z = direction
    cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    turned: Array = np.eye(3) + np.sin(angle) * cross + (1 - np.cos(angle)) * (cross @ cross)
    return turned


def turn_by(vector: Array) -> Array:
    """Rotation matrix of a rotation vector [rad], (3, 3)."""
    angle = float(np.linalg.norm(vector))
    return np.eye(3) if angle == 0 else turn_about(vector / angle, angle)


def turn_flat(angle: float) -> Array:
    """Rotation matrix in the plane, anticlockwise in the drawing's own order of axes, (2, 2)."""
    return np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])


@dataclass(frozen=True, slots=True)
class _Mover:
    """How some unknowns place the points of one body."""

    body: str
    unknowns: int
    place: Callable[[Array], Placed]


def _about(vehicle: Vehicle, body: str, shared: list[str]) -> _Mover:
    """A body hinged to the chassis at `shared` (two points, one when flat)."""
    base = vehicle.points[shared[0]]
    if vehicle.flat:
        turn: Callable[[float], Array] = turn_flat
    else:
        line = vehicle.points[shared[1]] - base
        hinge_dir = line / np.linalg.norm(line)

        def turn(angle: float) -> Array:
            return turn_about(hinge_dir, angle)

    arms = {p: vehicle.points[p] - base for p in vehicle.bodies[body]}

    def place(q: Array) -> Placed:
        rotation = turn(float(q[0]))
        return {p: base + rotation @ arm for p, arm in arms.items()}

    return _Mover(body, 1, place)


def _free(vehicle: Vehicle, body: str) -> _Mover:
    base = np.mean([vehicle.points[p] for p in vehicle.bodies[body]], axis=0)
    arms = {p: vehicle.points[p] - base for p in vehicle.bodies[body]}
    size = 2 if vehicle.flat else 3

    def place(q: Array) -> Placed:
        rotation = turn_flat(float(q[size])) if vehicle.flat else turn_by(q[size:])
        return {p: base + q[:size] + rotation @ arm for p, arm in arms.items()}

    return _Mover(body, 3 if vehicle.flat else 6, place)


class RootByPose:
    """The closure equations of one vehicle; `solve` gives the points at the travels asked."""

    def __init__(self, vehicle: Vehicle) -> None:
        self.vehicle = vehicle
        self._fixed = {p: vehicle.points[p] for p in vehicle.bodies["chassis"]}
        self._movers: list[_Mover] = []
        self._closed: list[tuple[str, str, str, Array]] = []  # first, other, point, rows
        needed = 1 if vehicle.flat else 2
        every = np.eye(2 if vehicle.flat else 3)
        for body, carried in vehicle.bodies.items():
            if body == "chassis":
                continue
            shared = [p for p in carried if p in self._fixed]
            hinged = len(shared) >= needed
            self._movers.append(_about(vehicle, body, shared) if hinged else _free(vehicle, body))
            if not hinged:
                self._closed += [("chassis", body, p, every) for p in shared]
        self._close_moving_pairs(every)
        self._last = np.zeros(sum(m.unknowns for m in self._movers))

    def _close_moving_pairs(self, every: Array) -> None:
        moving = [b for b in self.vehicle.bodies if b != "chassis"]
        for i, first in enumerate(moving):
            for other in moving[i + 1 :]:
                start: str | None = None
                for point in self.vehicle.bodies[first]:
                    if point not in self.vehicle.bodies[other] or point in self._fixed:
                        continue
                    rows = every if start is None else self._across(start, point)
                    start = start or point
                    self._closed.append((first, other, point, rows))

    def _across(self, start: str, point: str) -> Array:
        """Two directions square to a hinge line in the set-up pose, (2, 3)."""
        line = self.vehicle.points[point] - self.vehicle.points[start]
        return np.linalg.svd(line[None, :])[2][1:]

    def place(self, unknowns: Array) -> dict[str, Placed]:
        """Points of every body at these unknowns."""
        placed = {"chassis": self._fixed}
        at = 0
        for mover in self._movers:
            placed[mover.body] = mover.place(unknowns[at : at + mover.unknowns])
            at += mover.unknowns
        return placed

    def _gaps(self, unknowns: Array, heights: dict[str, float], led: Placed) -> Array:
        placed = self.place(unknowns)
        where = _flatten(placed) | led
        gaps: list[float] = []
        for first, other, point, rows in self._closed:
            gaps.extend(rows @ (placed[first][point] - placed[other][point]))
        for bar, (a, b) in self.vehicle.bars.items():
            gaps.append(float(np.linalg.norm(where[a] - where[b])) - self.vehicle.bar_length[bar])
        for wheel, (body, centre) in self.vehicle.wheels.items():
            gaps.append(float(placed[body][centre][self.vehicle.up]) - heights[wheel])
        return np.array(gaps)

    def solve(self, travel: dict[str, float], led: dict[str, float] | None = None) -> Placed:
        """Points [m] with each wheel at its travel [m], held points led along their lines [m]."""
        vehicle = self.vehicle
        heights = {
            wheel: float(vehicle.points[centre][vehicle.up]) + travel[wheel]
            for wheel, (_, centre) in vehicle.wheels.items()
        }
        rails = {
            point: vehicle.points[point] + (led or {}).get(name, 0.0) * along
            for name, (point, along) in vehicle.rails.items()
        }
        start = np.where(np.abs(self._last) < TINY, 0.0, self._last)
        found = root(self._gaps, start, args=(heights, rails), tol=TOLERANCE)
        miss = float(np.abs(self._gaps(found.x, heights, rails)).max())
        if miss > 1e-11:  # m: a hundredth of what the comparisons ask
            raise ArithmeticError(f"root left a gap of {miss} m at {travel}: {found.message}")
        self._last = found.x
        return _flatten(self.place(found.x)) | rails

    @property
    def unknowns(self) -> Array:
        """Unknowns of the last pose: angles [rad] and displacements [m] from the set-up pose."""
        return self._last.copy()

    def restart(self, unknowns: Array) -> None:
        """Start the next pose from these unknowns."""
        self._last = unknowns

    def sweep(self, travels: list[float]) -> list[Placed]:
        """All wheels alike through `travels` [m], in their order, warm-started."""
        return [self.solve(dict.fromkeys(self.vehicle.wheels, z)) for z in travels]


def _flatten(placed: dict[str, Placed]) -> Placed:
    """Each point once, by the first body that carries it."""
    where: Placed = {}
    for points in placed.values():
        for name, at in points.items():
            where.setdefault(name, at)
    return where
