"""Places that fit the tapes just as well on the other side of what they are measured from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from leverwright.geometry import Array, Mask
from leverwright.measure.network_rows import Rows, start_of
from leverwright.measure.network_solve import Fit, fit_near, robust_misfit, roughly
from leverwright.measure.observations import Side

__all__ = ["MirrorImage", "Search", "keeps_sides", "mirror_images", "side_of", "side_start", "without_sides"]

_ONE_PLANE = 0.05  # m, rms from their plane: dots further out of it leave one place only
_MOST_FOR_PAIRS = 60  # points: in larger networks only single points are reflected, an answer within seconds
_APART = 0.004  # m; images closer together than this are one place to a tape
_AS_GOOD = 9.0  # of the sum of squares: 3 σ. A place worse than its image by more is not the place
_NEARLY = 60.0  # the same before the rest of the network has given way
_ONE_SLIP = (
    16.0  # of the sum of squares: one slip in a few hundred readings explains any misfit at this price
)
_SKETCHED = 0.015  # m; nobody sketches better than this
_ODDS = 4.0  # natural logarithm of 55 to 1, for the place that the sketch is nearer to
_AXIS = {
    "above": (2, 1.0),
    "below": (2, -1.0),
    "left": (1, 1.0),
    "right": (1, -1.0),
    "ahead": (0, 1.0),
    "behind": (0, -1.0),
}


@dataclass(frozen=True, slots=True)
class MirrorImage:
    """Points that could as well lie reflected in the plane (line) of others.

    apart    m between the two places of the first point
    decided  "side" by a statement, "sketch" by the sketch, None when nothing decides
    place    (3,) m of the first point's image
    """

    points: tuple[int, ...]
    through: tuple[int, ...]
    apart: float
    decided: str | None
    place: Array


@dataclass(frozen=True, slots=True)
class Search:
    """A network at rest with what its images are judged by: rows used, how loose a place may be, what is left open.

    open  points; free  (Q, F) directions that nothing holds
    """

    rows: Rows
    fit: Fit
    use: Mask
    loosest: float
    open: tuple[int, ...]
    free: Array


def side_of(side: Side, places: Array, axes: tuple[int, ...]) -> float:
    """How far [m] the point lies on the stated side of the plane or line; negative: on the other."""
    first = places[side.of[0]]
    normal = _normal(places[list(side.of)], axes)
    axis, way = _AXIS[side.where]
    if abs(normal[axis]) < 1e-6:
        return 0.0  # the plane holds this direction: it has no such side
    return float((places[side.point] - first) @ normal * np.sign(normal[axis]) * way)


def keeps_sides(rows: Rows, places: Array) -> bool:
    """Whether every stated side is kept."""
    return all(side_of(side, places, rows.network.axes) >= 0.0 for side in rows.network.sides)


def side_start(rows: Rows, places: Array) -> Array:
    """Places (N, 3) with each point that is on the wrong side put on its right one."""
    out = places.copy()
    for side in rows.network.sides:
        if side_of(side, out, rows.network.axes) < 0.0:
            out[side.point] = _reflected(out[side.point], out[list(side.of)], rows.network.axes)
    return out


def without_sides(rows: Rows, places: Array) -> tuple[str, ...]:
    """Names of the side statements that the places do not keep."""
    return tuple(s.name for s in rows.network.sides if side_of(s, places, rows.network.axes) < 0.0)


def mirror_images(search: Search) -> tuple[tuple[MirrorImage, ...], Fit]:
    """Every image that fits as well, and the fit that fits best and keeps the stated sides."""
    best, found = search.fit, []
    for points, through in list(_groups(search)):
        now = replace(search, fit=best)
        other = _image(now, points, through)
        if other is None:
            continue
        mine, its = (robust_misfit(miss, search.use) for miss in (best.miss, other[1]))
        here, there = search.rows.places(best.unknowns), search.rows.places(other[0])
        apart = float(np.linalg.norm(here[points[0]] - there[points[0]]))
        if apart < _APART:
            continue
        decided = _decided(now, (here, there), its - mine, points)
        if decided[1]:
            best = fit_near(search.rows, other[0], search.use, search.loosest)
            here, there = there, here
        found.append(MirrorImage(points, through, apart, decided[0], there[points[0]]))
    return tuple(found), best


def _decided(
    search: Search, both: tuple[Array, Array], worse: float, points: tuple[int, ...]
) -> tuple[str | None, bool]:
    """What decides between two places of a group, and whether for the other one.

    worse  by how much the other one's sum of squares is larger
    """
    rows = search.rows
    kept = [keeps_sides(rows, places) for places in both]
    if kept[0] != kept[1]:
        return "side", kept[1]
    sketch, several = rows.network.sketch, list(points)
    spread = _sketch_spread(search, both[0])
    near, far = (float(((places[several] - sketch[several]) ** 2).sum()) for places in both)
    # Both are odds: of chance in the tapes, and of a sketch as rough as this one is elsewhere.
    odds = 0.5 * max(worse, -_ONE_SLIP) + (far - near) / (2.0 * spread**2)
    return ("sketch" if abs(odds) > _ODDS else None), odds < 0.0


def _sketch_spread(search: Search, places: Array) -> float:
    """How far [m] off a coordinate of the sketch is, over the points that are only sketched."""
    network = search.rows.network
    stated = {w.terms[0].point for w in network.weighted if w.kind == "coordinate"}
    own = [
        p
        for p, original in enumerate(network.twin_of)
        if p == original and p not in stated and p not in search.open and not network.known[p].all()
    ]
    off = (places[own] - network.sketch[own])[:, list(network.axes)]
    return max(_SKETCHED, float(np.sqrt(np.mean(off**2))) if off.size else 0.0)


def _groups(search: Search) -> Iterator[tuple[tuple[int, ...], tuple[int, ...]]]:
    """Single points, then pairs with a tape between them, that have a plane to be reflected in."""
    rows = search.rows
    network, size = rows.network, len(rows.network.axes)
    places = rows.places(search.fit.unknowns)
    near: dict[int, set[int]] = {}
    for ends in [d.ends for d in network.distances]:
        for p, q in (ends, ends[::-1]):
            near.setdefault(network.twin_of[p], set()).add(network.twin_of[q])
    able = [p for p in near if p not in search.open and int((rows.column[p] >= 0).sum()) == size]
    few = len(able) <= _MOST_FOR_PAIRS
    pairs = [(p, q) for p in able for q in able if p < q and q in near[p]] if few else []
    for group in [(p,) for p in able] + pairs:
        through = tuple(sorted(set().union(*(near[p] for p in group)) - set(group)))
        if len(through) >= size and _spread_off(places[list(through)], network.axes) < _ONE_PLANE:
            yield group, through


def _image(search: Search, points: tuple[int, ...], through: tuple[int, ...]) -> tuple[Array, Array] | None:
    """Unknowns and misfits of the network nearly at rest with the points reflected; None where that does not fit."""
    rows, use = search.rows, search.use
    places = rows.places(search.fit.unknowns)
    base = robust_misfit(search.fit.miss, use)
    moved = places.copy()
    for p in points:
        moved[p] = _reflected(places[p], places[list(through)], rows.network.axes)
    if float(np.abs(moved - places).max()) < 0.5 * _APART:
        return None
    start = search.fit.unknowns.copy()
    columns = np.concatenate([rows.column[p][rows.column[p] >= 0] for p in points])
    for p in points:
        free = rows.column[p] >= 0
        start[rows.column[p][free]] = moved[p][free]
    miss, slope = rows.evaluate(start)
    for _ in range(4):
        part = slope[use][:, columns]
        normal = part.T @ part
        start[columns] -= np.linalg.solve(
            normal + 1e-9 * np.trace(normal) * np.eye(len(columns)), part.T @ miss[use]
        )
        miss, slope = rows.evaluate(start)
    if robust_misfit(miss, use) > base + _NEARLY or _is_back(rows, start, places, points):
        return None
    if rows.picture:
        start = start_of(rows, rows.places(start))
    start, miss = roughly(rows, start, use, search.free)
    if robust_misfit(miss, use) > base + _AS_GOOD or _is_back(rows, start, places, points):
        return None
    return start, miss


def _is_back(rows: Rows, unknowns: Array, places: Array, points: tuple[int, ...]) -> bool:
    """Whether the points have gone back to where they were: no image, but the place itself."""
    return float(np.abs(rows.places(unknowns)[list(points)] - places[list(points)]).max()) < 0.5 * _APART


def _normal(of: Array, axes: tuple[int, ...]) -> Array:
    """Direction square to the best plane (line) through places (K, 3)."""
    flat = (of - of.mean(axis=0))[:, list(axes)]
    normal = np.zeros(3)
    normal[list(axes)] = np.linalg.svd(flat, full_matrices=True)[2][-1]
    return normal


def _reflected(place: Array, of: Array, axes: tuple[int, ...]) -> Array:
    normal = _normal(of, axes)
    out: Array = place - 2.0 * float((place - of.mean(axis=0)) @ normal) * normal
    return out


def _spread_off(of: Array, axes: tuple[int, ...]) -> float:
    off = (of - of.mean(axis=0)) @ _normal(of, axes)
    return float(np.sqrt(np.mean(off**2)))
