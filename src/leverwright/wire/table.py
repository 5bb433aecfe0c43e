"""A cycle as named columns in the units of the surface: what both cycle documents are written from.

NaN stands where a figure cannot be said; the documents write null for it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage import Layout, Posed, State, Track, joint_points
from leverwright.quantity import Kind, from_surface
from leverwright.ride import Cycle, SpringState, Travels, alignment_of
from leverwright.ride.figures import rate_figures

__all__ = ["SpringColumns", "Table", "layout_of", "table_of"]


@dataclass(frozen=True, slots=True)
class SpringColumns:
    """One spring; lengths NaN for a spring on a hinge, whose twist (deg) and moment (N·m) are given instead."""

    hinge: bool
    length: Array  # (P,) mm
    compression: Array  # (P,) mm, deg for a hinge
    push: Array  # (P,) N, N·m for a hinge
    ratio: Array  # (P, W) 1, deg/mm for a hinge
    slope: Array  # (P, W, W) 1/mm, deg/mm2 for a hinge


@dataclass(frozen=True, slots=True)
class Table:
    """Columns of one assembly that moves; W as `wheels`.

    drive    (P,) mm travel of the moving (left) wheel
    shared   the wheels share one freedom: only the sum of their forces is determined
    places   every point of the assembly, (P, 3) mm; `moving` those of them that move
    """

    wheels: tuple[str, ...]
    drive: Array
    travel: Array
    shared: bool
    places: Mapping[str, Array]
    moving: frozenset[str]
    springs: Mapping[str, SpringColumns]
    straps: Mapping[str, Array]  # (P,) N
    wheel_rate: Array  # (P, W) N/mm, one wheel moving
    wheel_force: Array  # (P, W) N
    rate_matrix: Array  # (P, W, W) N/mm
    camber: Array  # (P, W) deg
    toe: Array
    bars: Mapping[str, Array]  # (P,) N, + pulls
    links: Mapping[str, Array]  # the same of bodies of two points that act as bars
    joints: Mapping[str, Array]  # (P, 3) N
    axial_at: tuple[str, ...]


def layout_of(cycle: Cycle) -> Layout:
    """Names and places of the cycle's assembly."""
    return cycle.sprung.assembly.layout


def table_of(cycle: Cycle, radius: Array, straps: frozenset[str]) -> Table | None:
    """The columns; `radius` (W,) m; None when the assembly cannot move. `straps` are the names that are no springs."""
    if cycle.posed is None or cycle.springs is None or cycle.forces is None or cycle.travels is None:
        return None
    posed, layout = cycle.posed, layout_of(cycle)
    wheels = layout.wheel_names
    shared = not cycle.travels.driving.each and len(wheels) > 1
    angles = alignment_of(cycle.travels.track, posed, radius)
    names = [layout.mechanism.point_names[point] for point in joint_points(layout)]
    forces = cycle.forces
    columns = _springs(cycle.travels, posed, cycle.springs, layout)
    force = forces.wheel_force
    return Table(
        wheels,
        _surface(posed.travel, "length"),
        _surface(posed.pose.wheel_height, "length"),
        shared,
        _places(layout, cycle.travels.track, posed.state),
        frozenset(_moving(layout)),
        {name: each for name, each in columns.items() if name not in straps},
        {name: -each.push for name, each in columns.items() if name in straps},
        _surface(_one_wheel_rate(cycle.springs, cycle.travels, len(wheels)), "stiffness"),
        np.repeat(force.mean(axis=1, keepdims=True), len(wheels), axis=1) if shared else force,
        _surface(_matrix(cycle.springs, shared, len(wheels)), "stiffness"),
        _surface(angles.camber, "angle"),
        _surface(angles.toe, "angle"),
        _tensions(layout, forces.bar_tension, "bar"),
        _tensions(layout, forces.bar_tension, "link"),
        {name: forces.joint_force[:, at] for at, name in enumerate(names)},
        tuple(name for name, axial in zip(names, forces.axial_at, strict=True) if axial),
    )


def _surface(values: Array, kind: Kind) -> Array:
    return values / from_surface(1.0, kind)


def _springs(travels: Travels, posed: Posed, state: SpringState, layout: Layout) -> dict[str, SpringColumns]:
    mm, degree = from_surface(1.0, "length"), from_surface(1.0, "angle")
    ratio, slope = _by_wheel(travels, posed, len(layout.wheels))
    columns: dict[str, SpringColumns] = {}
    for at, name in enumerate(layout.line_names):
        hinge = at >= len(layout.lines)
        unit = degree if hinge else mm
        length = posed.length[:, at] / mm
        columns[name] = SpringColumns(
            hinge,
            np.full_like(length, np.nan) if hinge else length,
            state.compression[:, at] / unit,
            state.push[:, at],
            ratio[:, at] * mm / unit,
            slope[:, at] * mm * mm / unit,
        )
    return columns


def _by_wheel(travels: Travels, posed: Posed, wheels: int) -> tuple[Array, Array]:
    """Ratio (P, S, W) and slope (P, S, W, W); a shared freedom's stands at the driven wheel."""
    ds_dz, d2s_dz2 = posed.rates.ds_dz, posed.rates.d2s_dz2
    if travels.driving.each:
        return ds_dz, d2s_dz2
    poses, springs = ds_dz.shape[:2]
    driven = int(np.argmax(travels.weights))
    ratio = np.full((poses, springs, wheels), np.nan)
    slope = np.full((poses, springs, wheels, wheels), np.nan)
    ratio[:, :, driven] = ds_dz[:, :, 0]
    slope[:, :, driven, driven] = d2s_dz2[:, :, 0, 0]
    return ratio, slope


def _one_wheel_rate(state: SpringState, travels: Travels, wheels: int) -> Array:
    return rate_figures(state.wheel_rate, travels.driving.each, wheels)[0]


def _matrix(state: SpringState, shared: bool, wheels: int) -> Array:
    if not shared:
        return state.wheel_rate
    return np.full((len(state.wheel_rate), wheels, wheels), np.nan)


def _moving(layout: Layout) -> set[str]:
    """Names of the points that a moving carrier has and the chassis has not."""
    names = layout.mechanism.point_names
    still = set(layout.carriers.each[0].points)
    return {names[p] for c in layout.moving for p in layout.carriers.each[c].points if p not in still}


def _places(layout: Layout, track: Track, state: State) -> dict[str, Array]:
    """Every point of the moving carriers and every end of a bar, spring or strap, (P, 3) mm."""
    names, set_up = layout.mechanism.point_names, track.basis.geometry.points
    still = layout.carriers.each[0].points
    owner: dict[int, int] = {}
    for carrier in layout.moving:
        for point in layout.carriers.each[carrier].points:
            owner.setdefault(point, carrier)
    for carrier, point in layout.feet:
        owner.setdefault(point, carrier)
    places: dict[str, Array] = {}
    for point in sorted(owner):
        if point in still:  # a moving body's own pivot: exact, not turned and turned back
            at = np.broadcast_to(set_up[0, point], (len(state.offset), 3))
        else:
            turned = np.einsum("pij,j->pi", state.rotation[:, owner[point]], set_up[0, point])
            at = turned + state.offset[:, owner[point]]
        places[names[point]] = _surface(at, "length")
    return places


def _tensions(layout: Layout, tension: Array, kind: str) -> dict[str, Array]:
    """Tension (P,) N of each bar, or of each body of two points that acts as one ("link"), by its name."""
    mechanism = layout.mechanism
    columns: dict[str, Array] = {}
    for at, pair in enumerate(layout.bars):
        if pair.kind == kind:
            name = mechanism.bars[pair.item].name if kind == "bar" else mechanism.body_names[pair.item]
            columns[name] = tension[:, at]
    return columns
