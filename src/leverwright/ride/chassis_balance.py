"""The balances of a whole vehicle on its wheels, and how each wheel gives: what `chassis` solves."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array, Mask
from leverwright.ride.chassis_wheels import Part, Placed, place_wheels
from leverwright.ride.frequency import STANDARD_GRAVITY
from leverwright.ride.tipping import stands_inside

__all__ = ["Burden", "Hitch", "Part", "Table", "There", "along_ground"]

_UNDECIDED = "nothing decides how its wheels share the load: neither springs nor tyres give (state the tyres)"


@dataclass(frozen=True, slots=True)
class Burden:
    """All that the vehicle weighs, in the set-up pose: mass (K,) kg, at (K, 3) m, each with standard deviations."""

    mass: Array
    at: Array
    mass_error: Array
    at_error: Array

    @property
    def total(self) -> float:
        """Mass of everything, kg."""
        return float(self.mass.sum())

    @property
    def centre(self) -> Array:
        """Centre of gravity (3,) m."""
        out: Array = self.mass @ self.at / self.total
        return out


@dataclass(frozen=True, slots=True)
class Hitch:
    """The chassis point (3,) m that a towing vehicle carries, and its height [m] over the ground."""

    at: Array
    height: float


@dataclass(frozen=True, slots=True)
class There:
    """Everything at one trial: N loads of W wheels (and a coupling), the plane z = a x + b y + d.

    residual  (U,) N, N·m, m; slopes (U, U)
    response  (C, 3): change of the C loads [N] by weight and moments
    """

    residual: Array
    slopes: Array
    contact: Array
    centre: Array
    gap: Array  # (W,) m between wheel and ground
    height: Array
    up: Array
    ground: float


class Table:
    """The wheels of all parts in one row; made and dropped inside one call."""

    def __init__(self, parts: tuple[Part, ...], burden: Burden, hitch: Hitch | None) -> None:
        self.parts, self.burden, self.hitch = parts, burden, hitch
        self._last: dict[int, Placed] = {}
        self.names = tuple(name for part in parts for name in part.names)
        self.count = len(self.names) + (hitch is not None)
        self.weight = burden.total * STANDARD_GRAVITY
        normal = parts[0].sprung.assembly.layout.mechanism.normal if parts else None
        self.axes = [k for k in (0, 1) if normal is None or normal[k] == 0.0]
        self.set_up = np.concatenate([part.centres for part in parts]) if parts else np.zeros((0, 3))
        self.radius = np.concatenate([part.radius for part in parts]) if parts else np.zeros(0)
        self.tyre = np.concatenate([part.sprung.tyre for part in parts]) if parts else np.zeros(0)
        unsprung = np.concatenate([part.sprung.unsprung for part in parts]) if parts else np.zeros(0)
        rigid = np.concatenate([np.full(len(part.names), part.rigid) for part in parts])
        # What sits on the chassis moves with it, whatever its wheels weigh.
        self.unsprung = np.where(rigid, 0.0, np.nan_to_num(unsprung))

    def places(self, grounded: Mask | None = None) -> Array:
        """Where the vehicle is carried in the set-up pose (C, A) m along the axes that it can tilt about."""
        wheels = self.set_up if grounded is None else self.set_up[grounded]
        every = wheels if self.hitch is None else np.vstack([wheels, self.hitch.at])
        out: Array = every[:, self.axes]
        return out

    def rank(self, grounded: Mask | None = None) -> int:
        """How many balances those places can keep."""
        places = self.places(grounded)
        rows = np.column_stack([np.ones(len(places)), places])
        return int(np.linalg.matrix_rank(rows, tol=1e-6 * max(1.0, float(np.abs(rows).max(initial=1.0)))))

    def trouble(self) -> str | None:
        """Why it cannot stand at all."""
        if self.rank() >= len(self.axes) + 1:
            spare = self.count > self.rank()
            stiff = all(part.rigid for part in self.parts) and not np.isfinite(self.tyre).any()
            return _UNDECIDED if spare and stiff else None
        if len(self.axes) == 1:
            return "this drawing shows one place to stand on only: nothing says what carries the rest of the vehicle"
        return (
            "its wheels stand in one line, or there are fewer than three: it would fall over. A trailer states its "
            "coupling"
        )

    def tipped(self) -> tuple[str, ...]:
        """Wheels that would leave the ground because the weight lies outside all that carries it; () if not."""
        places, at = self.places(), self.burden.centre[self.axes]
        if len(self.axes) == 1:
            places, at = np.column_stack([places, 0.0 * places]), np.append(at, 0.0)
        if stands_inside(places, at):
            return ()
        loads = self.start()[: len(self.names)]
        return tuple(name for name, load in zip(self.names, loads, strict=True) if load < 0.0)

    def start(self) -> Array:
        """Loads of a table whose legs give alike, on the ground of the set-up pose."""
        places = self.places()
        rows = np.vstack([np.ones(len(places)), places.T])
        about = np.append(1.0, self.burden.centre[self.axes]) * self.weight
        loads = np.linalg.lstsq(rows, about, rcond=None)[0]
        low = float((self.set_up[:, 2] - self.radius).mean())
        return np.concatenate([loads, np.zeros(2), [low]])

    def at(self, u: Array) -> There | str:
        """Residual and slopes at loads and plane `u`, or why a wheel cannot be placed."""
        wheels, count = len(self.names), self.count
        plane = u[count:]
        up = np.array([-plane[0], -plane[1], 1.0]) / math.hypot(plane[0], plane[1], 1.0)
        ground = float(plane[2]) * float(up[2])
        centre, height = np.empty((wheels, 3)), np.empty(wheels)
        moves = np.zeros((wheels, 3, wheels))  # dcentre_dload
        first = 0
        for index, part in enumerate(self.parts):
            mine = slice(first, first + len(part.names))
            first += len(part.names)
            placed = place_wheels(part, u[mine], up, self._last.get(index))
            if isinstance(placed, str):
                return placed
            self._last[index] = placed
            centre[mine], moves[mine, :, mine], height[mine] = placed.centre, placed.gives, placed.height
        rated = np.isfinite(self.tyre)
        gives = np.where(rated, 1.0 / np.where(rated, self.tyre, 1.0), 0.0)
        radius = self.radius - np.where(rated, np.maximum(u[:wheels], 0.0) * gives, 0.0)
        gap = centre @ up - radius - ground
        residual, slopes = self._balance(u, centre, moves)
        rows = np.einsum("wiv,i->wv", moves, up) + np.diag(np.where(u[:wheels] >= 0.0, gives, 0.0))
        residual[3 : 3 + wheels], slopes[3 : 3 + wheels, :wheels] = gap, rows
        if self.hitch is not None:
            residual[3 + wheels] = float(self.hitch.at @ up) - self.hitch.height - ground
        turned = _turned(plane)
        slopes[3 : 3 + wheels, count:] = centre @ turned[0].T - turned[1]
        if self.hitch is not None:
            slopes[3 + wheels, count:] = turned[0] @ self.hitch.at - turned[1]
        contact = centre - radius[:, None] * up
        return There(residual, slopes, contact, self._centre_of(centre), gap, height, up, ground)

    def _centre_of(self, centre: Array) -> Array:
        """Centre of gravity (3,) with the unsprung masses where their wheels are now."""
        if self.weight == 0.0:
            return np.full(3, np.nan)
        moved: Array = self.unsprung @ (centre - self.set_up) / self.burden.total
        return self.burden.centre + moved

    def _balance(self, u: Array, centre: Array, moves: Array) -> tuple[Array, Array]:
        """Rows of weight and moments: Σ N = W, Σ N p = W P, places seen along the ground."""
        wheels, count = len(self.names), self.count
        size = 3 + count
        residual, slopes = np.zeros(size), np.zeros((size, size))
        hung = centre if self.hitch is None else np.vstack([centre, self.hitch.at])
        middle = self._centre_of(centre) if self.weight else np.zeros(3)
        residual[0] = u[:count].sum() - self.weight
        slopes[0, :count] = 1.0

        def moment(plane: Array) -> Array:
            return along_ground(plane) @ (u[:count] @ hung - self.weight * middle)

        plane = u[count:]
        residual[1:3] = moment(plane)
        along = along_ground(plane)
        slopes[1:3, :count] = along @ hung.T
        pulled = u[:wheels] - self.unsprung * STANDARD_GRAVITY
        slopes[1:3, :wheels] += along @ np.einsum("w,wiv->iv", pulled, moves)
        for k in range(2):
            step = np.zeros(3)
            step[k] = 1e-6
            slopes[1:3, count + k] = (moment(plane + step) - moment(plane - step)) / 2e-6
        for k in {0, 1} - set(self.axes):  # a flat drawing does not tilt out of its plane
            residual[1 + k], slopes[1 + k] = plane[k], 0.0
            slopes[1 + k, count + k] = 1.0
        return residual, slopes


def along_ground(plane: Array) -> Array:
    """Two directions (2, 3) along the ground: forward, and square to it towards the left."""
    up = np.array([-plane[0], -plane[1], 1.0]) / math.hypot(plane[0], plane[1], 1.0)
    ahead = np.array([1.0, 0.0, plane[0]]) / math.hypot(1.0, plane[0])
    return np.vstack([ahead, np.cross(up, ahead)])


def _turned(plane: Array) -> tuple[Array, Array]:
    """How `up` (3, 3) and `ground` (3,) change with a, b, d of the plane."""
    size = math.hypot(plane[0], plane[1], 1.0)
    raw = np.array([-plane[0], -plane[1], 1.0])
    by_size = np.array([plane[0], plane[1], 0.0]) / size
    up = (
        np.array([[-1.0, 0.0, 0.0], [0.0, -1.0, 0.0], [0.0, 0.0, 0.0]]) / size
        - np.outer(by_size, raw) / size**2
    )
    ground = np.array([0.0, 0.0, 1.0]) / size - by_size * plane[2] / size**2
    return up, ground
