"""A mechanism solved again in forty digits, by equations that the product does not use.

Unknowns are the coordinates of three points of every moving body (two when flat), never an angle:
their mutual distances are those measured, every other point of the body is a fixed combination of
the three and of their cross product, bars are squared lengths. All of it is polynomial, so the same
lines run in complex floats (for a Jacobian by complex step) and in mpmath's numbers. The correction
is the chord method: forty-digit gaps, a double-precision inverse, twelve digits gained a step.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from typing import Any

import mpmath
import numpy as np

from tests.reference.vehicle import Array, Vehicle

DIGITS = 40
STEP = mpmath.mpf(10) ** -9  # m: truncation 1e-18 relative, cancellation leaves 1e-22
CLOSED = mpmath.mpf(10) ** -34  # m² or m, of lengths below 1 m
LONGEST_CHASE = 30  # chord steps; three or four are usual

Coordinates = Any  # NumPy object array of mpmath numbers, or complex


def _cross(a: Coordinates, b: Coordinates) -> Coordinates:
    if len(a) == 2:  # flat: a quarter turn of the first serves as the second direction
        return np.array([-a[1], a[0]])
    return np.array([a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]])


def _square(a: Coordinates, b: Coordinates) -> Any:
    gap = a - b
    return sum(gap * gap)


@dataclass(frozen=True, slots=True)
class _Frame:
    """Three points of a body (two when flat) and every point as a combination of them."""

    body: str
    base: tuple[str, ...]
    mix: dict[str, Array]  # exact in forty digits, object arrays


class PreciseLinkage:
    """One vehicle in forty digits; `lengths` gives the springs at a travel."""

    def __init__(self, vehicle: Vehicle) -> None:
        with mpmath.workdps(DIGITS):
            self.vehicle = vehicle
            # Millimetres as written, so that the measured place is the decimal number, not its double.
            self._at = {
                n: np.array([mpmath.mpf(str(round(c * 1e3, 9))) / 1000 for c in p])
                for n, p in vehicle.points.items()
            }
            self._frames = [self._frame(b) for b in vehicle.bodies if b != "chassis"]
            self._bars = {name: self._bar_square(name, ends) for name, ends in vehicle.bars.items()}
            self._size = 2 if vehicle.flat else 3

    def _bar_square(self, name: str, ends: tuple[str, str]) -> Any:
        measured = self.vehicle.length(ends)
        asked = self.vehicle.bar_length[name]
        if abs(asked - measured) < 1e-15:
            return _square(self._at[ends[0]], self._at[ends[1]])
        return mpmath.mpf(str(round(asked * 1e3, 9))) ** 2 / 10**6

    def _frame(self, body: str) -> _Frame:
        carried = self.vehicle.bodies[body]
        base = self._far_apart(carried)
        spread = self._spread([self._at[p] for p in base])
        columns = mpmath.matrix([list(row) for row in np.array(spread).T])
        mix = {}
        for point in carried:
            arm = mpmath.matrix(list(self._at[point] - self._at[base[0]]))
            mix[point] = np.array(list(mpmath.lu_solve(columns, arm)))
        return _Frame(body, base, mix)

    def _far_apart(self, carried: list[str]) -> tuple[str, ...]:
        """Points that span the body best: the pair farthest apart, then the one farthest off it."""
        at = self.vehicle.points
        pairs = [(a, b) for i, a in enumerate(carried) for b in carried[i + 1 :]]
        first, second = max(pairs, key=lambda pair: float(np.linalg.norm(at[pair[0]] - at[pair[1]])))
        if self.vehicle.flat:
            return (first, second)
        line = at[second] - at[first]
        third = max(carried, key=lambda p: float(np.linalg.norm(np.cross(line, at[p] - at[first]))))
        return (first, second, third)

    @staticmethod
    def _spread(base: list[Coordinates]) -> list[Coordinates]:
        """Directions that the points of a body are combinations of."""
        if len(base) == 2:
            along = base[1] - base[0]
            return [along, _cross(along, along)]
        one, two = base[1] - base[0], base[2] - base[0]
        return [one, two, _cross(one, two)]

    def _place(self, unknowns: Coordinates, real: bool) -> dict[str, dict[str, Coordinates]]:
        kind = float if not real else mpmath.mpf
        fixed = {p: np.array([kind(c) for c in self._at[p]]) for p in self.vehicle.bodies["chassis"]}
        placed = {"chassis": fixed}
        at = 0
        for frame in self._frames:
            count = len(frame.base) * self._size
            base = list(unknowns[at : at + count].reshape(-1, self._size))
            at += count
            spread = self._spread(base)
            placed[frame.body] = {
                p: base[0] + sum((kind(m) * d for m, d in zip(mix, spread, strict=True)), 0 * base[0])
                for p, mix in frame.mix.items()
            }
        return placed

    def _gaps(self, unknowns: Coordinates, heights: dict[str, Any], real: bool) -> Coordinates:
        placed = self._place(unknowns, real)
        where: dict[str, Coordinates] = {}
        gaps: list[Any] = []
        for body, points in placed.items():
            for name, place in points.items():
                if name in where:
                    gaps.extend(place - where[name])
                else:
                    where[name] = place
            if body == "chassis":
                continue
            base = next(f.base for f in self._frames if f.body == body)
            gaps.extend(
                _square(points[one], points[other]) - _square(self._at[one], self._at[other])
                for one, other in combinations(base, 2)
            )
        for name, (a, b) in self.vehicle.bars.items():
            gaps.append(_square(where[a], where[b]) - self._bars[name])
        for wheel, (body, centre) in self.vehicle.wheels.items():
            gaps.append(placed[body][centre][self.vehicle.up] - heights[wheel])
        return np.array(gaps)

    def solve(self, travel: dict[str, Any], near: dict[str, Array]) -> dict[str, Coordinates]:
        """Points [m] in forty digits with each wheel at its travel [m], on the branch of `near`."""
        with mpmath.workdps(DIGITS):
            heights = {
                w: self._at[centre][self.vehicle.up] + mpmath.mpf(travel[w])
                for w, (_, centre) in self.vehicle.wheels.items()
            }
            start = np.concatenate([near[p] for f in self._frames for p in f.base])
            inverse = np.linalg.pinv(self._jacobian(start, heights))
            unknowns = np.array([mpmath.mpf(float(c)) for c in start])
            worst = mpmath.inf
            for _ in range(LONGEST_CHASE):
                gaps = self._gaps(unknowns, heights, real=True)
                worst = max(abs(g) for g in gaps)
                if worst < CLOSED:
                    placed = self._place(unknowns, real=True)
                    return {n: p for points in reversed(placed.values()) for n, p in points.items()}
                # Scaled, so that the gaps survive as doubles however small they are.
                step = inverse @ np.array([float(g / worst) for g in gaps])
                unknowns = unknowns - np.array([mpmath.mpf(float(s)) * worst for s in step])
            raise ArithmeticError(f"forty digits do not close at {travel}: {mpmath.nstr(worst, 3)}")

    def _jacobian(self, start: Array, heights: dict[str, Any]) -> Array:
        columns = []
        plain = {w: float(h) for w, h in heights.items()}
        for index in range(len(start)):
            leaned = start.astype(complex)
            leaned[index] += 1e-30j
            gaps = [complex(g).imag for g in self._gaps(leaned, plain, real=False)]
            columns.append(np.array(gaps) / 1e-30)
        return np.column_stack(columns)

    def lengths(self, travel: dict[str, Any], near: dict[str, Array]) -> dict[str, Any]:
        """Spring lengths [m] in forty digits."""
        with mpmath.workdps(DIGITS):
            where = self.solve(travel, near)
            return {s: mpmath.sqrt(_square(where[a], where[b])) for s, (a, b) in self.vehicle.springs.items()}

    def ratio(self, travel: dict[str, float], wheel: str, near: dict[str, Array]) -> dict[str, float]:
        """Motion ratio of every spring by one wheel, a central difference in forty digits."""
        with mpmath.workdps(DIGITS):
            up = self.lengths(_moved(travel, {wheel: STEP}), near)
            down = self.lengths(_moved(travel, {wheel: -STEP}), near)
            return {s: float((down[s] - up[s]) / (2 * STEP)) for s in up}

    def slope(
        self, travel: dict[str, float], wheels: tuple[str, str], near: dict[str, Array]
    ) -> dict[str, float]:
        """d²s/dz_i dz_j [1/m] of every spring, s its compression, in forty digits."""
        with mpmath.workdps(DIGITS):
            total: dict[str, Any] = dict.fromkeys(self.vehicle.springs, mpmath.mpf(0))
            for one in (1, -1):
                for two in (1, -1):
                    shift: dict[str, Any] = dict.fromkeys(wheels, mpmath.mpf(0))
                    shift[wheels[0]] += one * STEP
                    shift[wheels[1]] += two * STEP
                    found = self.lengths(_moved(travel, shift), near)
                    for spring, length in found.items():
                        total[spring] -= one * two * length
            return {s: float(t / (4 * STEP**2)) for s, t in total.items()}


def _moved(travel: dict[str, float], shift: dict[str, Any]) -> dict[str, Any]:
    return {w: mpmath.mpf(z) + shift.get(w, 0) for w, z in travel.items()}
