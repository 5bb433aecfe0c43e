"""Where a network lies as a whole, and what nothing measures: rigid motions, free directions, and their names.

A network of tapes says how points lie to one another. Where it lies along the vehicle and how high no answer asks,
so the datum takes the sketch's word for it (inner constraints: the places move from the sketch as little as they can).
Source: Baarda, S-Transformations and Criterion Matrices, 1973 (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from leverwright.geometry import Array
from leverwright.measure.network_rows import Rows
from leverwright.measure.network_solve import Split

__all__ = ["Datum", "Loose", "datum_of", "laid_on_sketch"]

Motion = Literal[
    "ahead", "sideways", "up", "roll", "pitch", "yaw", "anywhere", "round one", "swing", "one way", "together"
]
_SHIFTS: tuple[Motion, ...] = ("ahead", "sideways", "up")
_TURNS: tuple[Motion, ...] = ("roll", "pitch", "yaw")
_INSIDE = 0.01  # of a motion of length 1; less is not part of what is left open
_DRIFT = 0.25  # of the largest movement: the datum spreads a motion of few points over all, thinly
_NOTHING = 1e-6  # of a direction of length 1: less is rounding of an eigenvector


@dataclass(frozen=True, slots=True)
class Loose:
    """What the measurements leave open.

    points  indices of the points that can move
    motion  ahead, sideways, up, roll, pitch, yaw: all of them as one; anywhere: nothing measures the point;
            round one: one distance only; swing: about a line; one way: along `way`; together: these as a group
    about   points that it is measured from
    way     (3,) direction of length 1 of a point's one free motion, else zeros
    """

    points: tuple[int, ...]
    motion: Motion
    about: tuple[int, ...]
    way: Array


@dataclass(frozen=True, slots=True)
class Datum:
    """The motions that the sketch settles, (K, G) over the places' unknowns K, their names, and what stays open."""

    gauge: Array
    names: tuple[Motion, ...]
    loose: tuple[Loose, ...]

    @property
    def open(self) -> tuple[int, ...]:
        """Points that something leaves open, by index."""
        return tuple(sorted({p for each in self.loose for p in each.points}))


def datum_of(rows: Rows, places: Array, slope: Array, split: Split, loosest: float) -> Datum:
    """The datum of a network at its places (N, 3)."""
    within = _places_only(rows, slope)
    gauge: list[Array] = []
    names: list[Motion] = []
    whole: list[tuple[Motion, Array]] = []
    for motion, moved, rigid in _rigid(rows, places):
        if float(np.linalg.norm(within @ moved)) * loosest >= 1.0:
            continue
        if rigid and rows.network.alone and motion not in {"pitch", "roll"}:
            gauge.append(moved)
            names.append(motion)
        else:
            whole.append((motion, moved))
    base = np.array(gauge).T.reshape(rows.count, len(gauge))
    free = _without(split.free[: rows.count], base)
    loose = _named(rows, (within, free, loosest), whole)
    return Datum(base, tuple(names), tuple(loose))


def _moving(rows: Rows, free: Array) -> tuple[int, ...]:
    """Points (indices, no twins) that the free directions (K, F) move, beyond what the datum lets drift with them."""
    size = np.append(np.sqrt(np.einsum("kf,kf->k", free, free)), 0.0)
    own = [p for p, original in enumerate(rows.network.twin_of) if p == original]
    most = {p: float(size[rows.column[p]].max()) for p in own}
    return tuple(p for p in own if most[p] > _DRIFT * max(most.values()))


def laid_on_sketch(rows: Rows, unknowns: Array, names: tuple[Motion, ...]) -> Array:
    """The same network moved as a whole onto its sketch, in the motions that the datum leaves to it."""
    places = rows.places(unknowns)
    own = [p for p, original in enumerate(rows.network.twin_of) if p == original]
    sketch = rows.network.sketch
    moved = places.copy()
    if "yaw" in names:
        a, b = (each[own][:, :2] - each[own][:, :2].mean(axis=0) for each in (places, sketch))
        turn = float(np.arctan2((a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]).sum(), (a * b).sum()))
        c, s = np.cos(turn), np.sin(turn)
        middle = places[own][:, :2].mean(axis=0)
        moved[:, :2] = (places[:, :2] - middle) @ np.array([[c, s], [-s, c]]) + middle
    for axis, name in enumerate(_SHIFTS):
        if name in names:
            moved[:, axis] += float((sketch[own] - moved[own])[:, axis].mean())
    out = unknowns.copy()
    for p in own:
        free = rows.column[p] >= 0
        out[rows.column[p][free]] = moved[p][free]
    rise = float(np.mean(moved[own][:, 2] - places[own][:, 2])) if "up" in names else 0.0
    for at in ((rows.floor,) if rows.floor >= 0 else ()) + rows.level:
        out[at] += rise
    return out


def _places_only(rows: Rows, slope: Array) -> Array:
    """The rows' derivative by places alone, whatever the floor, the levels and the pictures do."""
    rest = slope[:, rows.count :]
    part = slope[:, : rows.count]
    if rest.shape[1] == 0:
        return part
    out: Array = part - rest @ (np.linalg.pinv(rest) @ part)
    return out


def _rigid(rows: Rows, places: Array) -> list[tuple[Motion, Array, bool]]:
    """Rigid motions that the unknowns can make, each with its largest movement 1, and whether twins go along.

    Where twins mirror it, a motion off the centre plane is rigid for each side and not for both together.
    """
    own = [p for p, original in enumerate(rows.network.twin_of) if p == original]
    middle = places[own].mean(axis=0)
    found: list[tuple[Motion, Array, bool]] = []
    for turn, names in ((False, _SHIFTS), (True, _TURNS)):
        for axis, name in enumerate(names):
            d = np.zeros(3)
            d[axis] = 1.0
            whole = np.cross(d, places - middle) if turn else np.tile(d, (len(places), 1))
            whole = whole / max(float(np.abs(whole[own]).max()), 1e-9)
            vector = np.zeros(rows.count + 1)
            for p in own:
                vector[rows.column[p]] = whole[p]
            vector[-1] = 0.0
            expressed = vector[rows.column] * rows.sign
            off = np.abs(expressed - whole).max(axis=1)
            if float(off[own].max()) < _NOTHING:
                found.append((name, vector[:-1], float(off.max()) < _NOTHING))
    return found


def _without(basis: Array, taken: Array) -> Array:
    """An orthonormal basis of what `basis` (K, F) spans outside `taken` (K, T)."""
    if basis.shape[1] == 0:
        return basis
    if taken.shape[1]:
        q, _ = np.linalg.qr(taken)
        basis = basis - q @ (q.T @ basis)
    u, s, _ = np.linalg.svd(basis, full_matrices=False)
    return u[:, s > _NOTHING]


def _less(free: Array, named: Array) -> Array:
    """What of the free directions (K, F) is left when those that are named (K, N), datum aside, are taken out."""
    inside = free.T @ (named / np.maximum(np.linalg.norm(named, axis=0), _NOTHING))
    u, s, _ = np.linalg.svd(inside, full_matrices=True)
    count = int((s > _INSIDE).sum())
    out: Array = free @ u[:, count:]
    return out


def _named(rows: Rows, parts: tuple[Array, Array, float], whole: list[tuple[Motion, Array]]) -> list[Loose]:
    within, free, loosest = parts
    own = tuple(p for p, original in enumerate(rows.network.twin_of) if p == original)
    loose: list[Loose] = []
    if free.shape[1] == 0:
        return loose
    for motion, moved in whole:
        left = _less(free, moved[:, None])
        if left.shape[1] < free.shape[1]:
            loose.append(Loose(own, motion, (), np.zeros(3)))
            free = left
    for p in own:
        ways = _own_ways(rows, within, p, loosest)
        if ways.shape[1] == 0:
            continue
        left = _less(free, ways)
        if left.shape[1] < free.shape[1]:
            loose.append(_of_point(rows, p, ways))
            free = left
    if free.shape[1]:
        moving = _moving(rows, free)
        loose.append(Loose(moving, "together", (), np.zeros(3)))
    return loose


def _own_ways(rows: Rows, within: Array, point: int, loosest: float) -> Array:
    """Directions (K, F) in which this point alone can move."""
    columns = rows.column[point][rows.column[point] >= 0]
    if len(columns) == 0:
        return np.zeros((rows.count, 0))
    part = within[:, columns]
    value, vector = np.linalg.eigh(part.T @ part)
    ways = np.zeros((rows.count, int((value * loosest**2 < 1.0).sum())))
    ways[columns] = vector[:, value * loosest**2 < 1.0]
    return ways


def _of_point(rows: Rows, point: int, ways: Array) -> Loose:
    network = rows.network
    about = tuple(
        dict.fromkeys(
            network.twin_of[q]
            for d in network.distances
            if point in (network.twin_of[d.ends[0]], network.twin_of[d.ends[1]])
            for q in d.ends
            if network.twin_of[q] != point
        )
    )
    count, axes = ways.shape[1], len(rows.column[point][rows.column[point] >= 0])
    way = np.zeros(3)
    if count == 1:
        free = rows.column[point] >= 0
        way[free] = ways[rows.column[point][free], 0]
    if count == axes:
        return Loose((point,), "anywhere", about, way)
    if count == 2 or (len(network.axes) == 2 and len(about) == 1):
        return Loose((point,), "round one", about, way)
    if len(about) == 2 and axes == 3:
        return Loose((point,), "swing", about, way)
    return Loose((point,), "one way", about, way)
