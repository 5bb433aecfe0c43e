"""Residuals of a network and how they change with every unknown: rows M, unknowns Q."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from leverwright.geometry import Array
from leverwright.measure.observations import Along, Network, Picked

__all__ = ["Row", "Rows", "rows_of", "start_of"]

_LEAST_SIGMA = 1e-5  # m; nothing on a vehicle is measured better, and a ± of 0 would count without end
_NO_LENGTH = 1e-9  # m; two places that coincide have no direction, and nothing may be divided by zero
_Ints = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Row:
    """What one row is of: the statement's name and kind, the part of it, its reading and ± (m)."""

    name: str
    kind: str
    part: str
    points: tuple[int, ...]
    reads: float
    sigma: float


@dataclass(frozen=True, slots=True)
class Rows:
    """A network made ready for solving.

    column   (N, 3)  unknown of each coordinate, -1 where it is known; a twin has its original's
    sign     (N, 3)  -1 for y of a twin
    count    places' unknowns; then the floor, then one a level, then dx, dz and turn of each picture
    floor    column of the floor's level, -1 where no height was measured
    ends     (D, 2) points of the distances, which are the first rows
    fixed    rows of sums and levels, that never change: their derivative, and their value where all unknowns are 0
    whiten   for each picture its first row and (2 K, 2 K) what makes its rows independent, of variance 1
    """

    network: Network
    column: _Ints
    sign: Array
    count: int
    size: int
    floor: int
    level: tuple[int, ...]
    picture: tuple[int, ...]
    rows: tuple[Row, ...]
    reads: Array
    sigma: Array
    ends: _Ints
    fixed: Array
    fixed_at: Array
    whiten: tuple[tuple[int, Array], ...]
    facing: tuple[float, ...]
    forward: tuple[float, ...]

    def places(self, unknowns: Array) -> Array:
        """All places (N, 3) m from the unknowns (Q,)."""
        known = self.network.sketch[list(self.network.twin_of)] * self.sign
        padded = np.append(unknowns, 0.0)
        return np.where(self.column < 0, known, padded[self.column] * self.sign)

    def evaluate(self, unknowns: Array) -> tuple[Array, Array]:
        """Computed less read, each over its standard deviation (M,), and its derivative (M, Q)."""
        places = self.places(unknowns)
        miss, slope = np.zeros(len(self.rows)), np.zeros((len(self.rows), self.size + 1))
        self._distances(places, miss, slope)
        count = len(self.ends)
        at = count + len(self.fixed)
        slope[count:at, :-1] = self.fixed
        miss[count:at] = self.fixed @ unknowns + self.fixed_at
        for along, forward in zip(self.network.alongs, self.forward, strict=True):
            at = self._along(along, forward, places, (at, miss, slope))
        for index, picture in enumerate(self.network.pictures):
            at = self._picture(picture, index, (places, unknowns), (at, miss, slope))
        miss = (miss - self.reads) / self.sigma
        slope = slope[:, :-1] / self.sigma[:, None]
        for first, root in self.whiten:
            part = slice(first, first + len(root))
            miss[part], slope[part] = root @ miss[part], root @ slope[part]
        return miss, slope

    def _add(self, slope: Array, row: int, point: int, gradient: Array) -> None:
        np.add.at(slope[row], self.column[point], self.sign[point] * gradient)

    def _distances(self, places: Array, miss: Array, slope: Array) -> None:
        if not len(self.ends):
            return
        a, b = self.ends[:, 0], self.ends[:, 1]
        way = places[b] - places[a]
        length = np.maximum(np.sqrt(np.einsum("mi,mi->m", way, way)), _NO_LENGTH)
        way = way / length[:, None]
        miss[: len(a)] = length
        row = np.arange(len(a))[:, None]
        slope[row, self.column[a]] = -self.sign[a] * way
        # Added, not set: both ends may be the two sides of one point.
        np.add.at(slope, (row, self.column[b]), self.sign[b] * way)

    def _along(self, along: Along, forward: float, places: Array, to: tuple[int, Array, Array]) -> int:
        """Two rows square to the line (one in a flat drawing), then the distance along it.

        With n ⊥ u: d[(p - a)·n] = n·(dp - (1 - s/L) da - (s/L) db); d s = u·(dp - da) + (p - a)·(db - da)⊥/L.
        """
        row, miss, slope = to
        a, b = along.line
        way = places[b] - places[a]
        length = max(float(np.sqrt(way @ way)), _NO_LENGTH)
        u, reach = way / length, places[along.point] - places[a]
        s = float(reach @ u)
        for n in _square_to(u, self.network.axes):
            miss[row] = float(reach @ n)
            self._add(slope, row, along.point, n)
            self._add(slope, row, a, -(1.0 - s / length) * n)
            self._add(slope, row, b, -(s / length) * n)
            row += 1
        across = (reach - s * u) / length
        miss[row] = forward * s
        self._add(slope, row, along.point, forward * u)
        self._add(slope, row, a, forward * (-u - across))
        self._add(slope, row, b, forward * across)
        return row + 1

    def _picture(
        self, picture: Picked, index: int, now: tuple[Array, Array], to: tuple[int, Array, Array]
    ) -> int:
        """Picked = origin + turn · place, the first axis seen from the front or from behind."""
        places, unknowns = now
        row, miss, slope = to
        first = self.picture[index]
        turn = unknowns[first + 2]
        c, s, face = np.cos(turn), np.sin(turn), self.facing[index]
        for p in picture.points:
            u, v = face * places[p, picture.axes[0]], places[p, picture.axes[1]]
            miss[row : row + 2] = unknowns[first] + c * u - s * v, unknowns[first + 1] + s * u + c * v
            slope[row, first] = slope[row + 1, first + 1] = 1.0
            slope[row : row + 2, first + 2] = -s * u - c * v, c * u - s * v
            for line, (du, dv) in enumerate(((c, -s), (s, c))):
                gradient = np.zeros(3)
                gradient[picture.axes[0]], gradient[picture.axes[1]] = face * du, dv
                self._add(slope, row + line, p, gradient)
            row += 2
        return row


def _square_to(u: Array, axes: tuple[int, ...]) -> tuple[Array, ...]:
    """Directions of length 1 square to u: two, or in a flat drawing the one in its plane."""
    if len(axes) == 2:
        n = np.zeros(3)
        n[axes[0]], n[axes[1]] = -u[axes[1]], u[axes[0]]
        return (n,)
    least = np.zeros(3)
    least[int(np.argmin(np.abs(u)))] = 1.0
    first = np.cross(u, least)
    first = first / np.sqrt(first @ first)
    return first, np.cross(u, first)


def rows_of(network: Network) -> Rows:
    """The network with unknowns numbered and rows listed: distances, weighted sums, levels, alongs, pictures."""
    column, count = _columns(network)
    sign = np.ones((len(network.names), 3))
    for point, original in enumerate(network.twin_of):
        if original != point:
            sign[point, 1] = -1.0
    size, floor = count, -1
    if any(w.floor for w in network.weighted):
        floor, size = size, size + 1
    level = tuple(range(size, size + len(network.levels)))
    size += len(level)
    picture = tuple(range(size, size + 3 * len(network.pictures), 3))
    size += 3 * len(picture)
    listed = [replace(row, sigma=max(row.sigma, _LEAST_SIGMA)) for row in _listed(network)]
    fixed = _fixed(network, (column, sign), (size, floor, level))
    sketch = network.sketch[list(network.twin_of)] * sign
    return Rows(
        network,
        column,
        sign,
        count,
        size,
        floor,
        level,
        picture,
        tuple(listed),
        np.array([row.reads for row in listed]),
        np.array([1.0 if row.kind == "picture" else row.sigma for row in listed]),
        np.array([d.ends for d in network.distances], dtype=np.intp).reshape(-1, 2),
        fixed,
        _fixed_at(network, np.where(column < 0, sketch, 0.0)),
        _whitening(network, listed),
        tuple(_facing(picture, sketch) for picture in network.pictures),
        tuple(_forward(along, sketch) for along in network.alongs),
    )


def _columns(network: Network) -> tuple[_Ints, int]:
    column = np.full((len(network.names), 3), -1, dtype=np.intp)
    count = 0
    for point, original in enumerate(network.twin_of):
        if original != point:
            continue
        for axis in network.axes:
            if not network.known[point, axis]:
                column[point, axis] = count
                count += 1
    for point, original in enumerate(network.twin_of):
        column[point] = column[original]
    return column, count


def _listed(network: Network) -> list[Row]:
    rows = [Row(d.name, "between", "", d.ends, d.reads, d.sigma) for d in network.distances]
    rows += [
        Row(
            w.name,
            w.kind,
            "xyz"[w.terms[0].axis],
            tuple(dict.fromkeys(t.point for t in w.terms)),
            w.reads,
            w.sigma,
        )
        for w in network.weighted
    ]
    for level in network.levels:
        rows += [Row(level.name, "level", "z", (p,), 0.0, level.sigma) for p in level.points]
    for along in network.alongs:
        points = (*along.line, along.point)
        off = [Row(along.name, "along", "off the line", points, 0.0, along.sigma)] * (len(network.axes) - 1)
        rows += [*off, Row(along.name, "along", "from the first", points, along.reads, along.sigma)]
    for picture in network.pictures:
        sigma = np.sqrt(np.diag(picture.covariance))
        for k, point in enumerate(picture.points):
            rows += [
                Row(
                    picture.name,
                    "picture",
                    "uv"[a],
                    (point,),
                    float(picture.at[k, a]),
                    float(sigma[2 * k + a]),
                )
                for a in (0, 1)
            ]
    return rows


def _fixed(
    network: Network, coordinates: tuple[_Ints, Array], unknowns: tuple[int, int, tuple[int, ...]]
) -> Array:
    """Rows of the weighted sums and levels: they never change."""
    (column, sign), (size, floor, level) = coordinates, unknowns
    count = len(network.weighted) + sum(len(each.points) for each in network.levels)
    rows = np.zeros((count, size + 1))
    for at, w in enumerate(network.weighted):
        for t in w.terms:
            rows[at, column[t.point, t.axis]] += t.factor * sign[t.point, t.axis]
        if w.floor:
            rows[at, floor] -= w.floor
    at = len(network.weighted)
    for each, level_at in zip(network.levels, level, strict=True):
        for p in each.points:
            rows[at, column[p, 2]] += sign[p, 2]
            rows[at, level_at] -= 1.0
            at += 1
    return rows[:, :-1]


def _fixed_at(network: Network, known: Array) -> Array:
    """What the weighted sums and levels are with the known coordinates alone."""
    sums = [sum(t.factor * float(known[t.point, t.axis]) for t in w.terms) for w in network.weighted]
    return np.array(sums + [float(known[p, 2]) for each in network.levels for p in each.points])


def _whitening(network: Network, rows: list[Row]) -> tuple[tuple[int, Array], ...]:
    first = next((k for k, row in enumerate(rows) if row.kind == "picture"), len(rows))
    out = []
    for picture in network.pictures:
        out.append((first, np.linalg.inv(np.linalg.cholesky(picture.covariance))))
        first += 2 * len(picture.points)
    return tuple(out)


def _forward(along: Along, sketch: Array) -> float:
    way = sketch[along.line[1]] - sketch[along.line[0]]
    return 1.0 if float((sketch[along.point] - sketch[along.line[0]]) @ way) >= 0.0 else -1.0


def _turned(picture: Picked, sketch: Array, facing: float) -> tuple[float, float, float, float]:
    """Origin and turn of a picture that fit the sketch best, and how badly they fit (m²)."""
    here = sketch[list(picture.points)][:, list(picture.axes)] * np.array([facing, 1.0])
    a, b = here - here.mean(axis=0), picture.at - picture.at.mean(axis=0)
    turn = float(np.arctan2((a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]).sum(), (a * b).sum()))
    rotation = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    left = b - a @ rotation.T
    origin = picture.at.mean(axis=0) - rotation @ here.mean(axis=0)
    return float(origin[0]), float(origin[1]), turn, float((left * left).sum())


def _facing(picture: Picked, sketch: Array) -> float:
    front, behind = (_turned(picture, sketch, facing) for facing in (1.0, -1.0))
    return 1.0 if (front[3], abs(front[2])) <= (behind[3], abs(behind[2])) else -1.0


def start_of(rows: Rows, places: Array) -> Array:
    """Unknowns (Q,) at the given places (N, 3): floor, levels and pictures as these places would have them."""
    network = rows.network
    unknowns = np.zeros(rows.size)
    for point, original in enumerate(network.twin_of):
        if original == point:
            free = rows.column[point] >= 0
            unknowns[rows.column[point][free]] = places[point][free]
    places = rows.places(unknowns)
    if rows.floor >= 0:
        low = [
            sum(t.factor * places[t.point, t.axis] for t in w.terms) - w.reads
            for w in network.weighted
            if w.floor
        ]
        unknowns[rows.floor] = float(np.median(low))
    for at, level in zip(rows.level, network.levels, strict=True):
        unknowns[at] = float(np.mean(places[list(level.points), 2]))
    for at, picture, facing in zip(rows.picture, network.pictures, rows.facing, strict=True):
        unknowns[at : at + 3] = _turned(picture, places, facing)[:3]
    return unknowns
