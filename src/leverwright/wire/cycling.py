"""Study → the document of `cycle --json`."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from msgspec import UNSET

from leverwright.geometry import Array
from leverwright.linkage import Stop
from leverwright.quantity import to_surface
from leverwright.ride import Cycle
from leverwright.study import Study
from leverwright.wire.cycle import (
    CycleAssembly,
    CycleDocument,
    CyclePose,
    CycleSpring,
    CycleStop,
    CycleStops,
    CycleWheel,
    Loose,
    StopWhy,
)
from leverwright.wire.loose import bind_of, play_of
from leverwright.wire.strict import number
from leverwright.wire.table import SpringColumns, Table, layout_of, table_of

__all__ = ["cycle_document", "entry", "left_out", "radii_of", "straps_of"]

_PLANES = {"xz": [0, 2], "yz": [1, 2], None: [0, 1, 2]}


def cycle_document(study: Study, cycles: Iterable[Cycle]) -> CycleDocument:
    """What `study.cycle(…)` gave, pose by pose; in roll what has no such motion is left out with a sentence."""
    shown = list(cycles)
    gone = [sentence for cycle in shown if (sentence := left_out(cycle)) is not None]
    kept = [cycle for cycle in shown if left_out(cycle) is None]
    return CycleDocument(
        assemblies=[_assembly(study, cycle) for cycle in kept],
        left_out=gone or UNSET,
    )


def left_out(cycle: Cycle) -> str | None:
    """In roll, why an assembly is left out: it has no pair of wheels, or no such freedom."""
    if cycle.mode != "roll" or cycle.posed is not None:
        return None
    wheels = ", ".join(layout_of(cycle).wheel_names)
    if not wheels:
        return "An assembly without a wheel does not roll."
    if cycle.travels is None and len(layout_of(cycle).wheel_names) < 2:
        return f"{wheels} has no partner on the other side in its assembly: it rolls as it heaves."
    return f"{wheels} cannot roll: the parts do not let one side rise while the other falls."


def radii_of(study: Study, cycle: Cycle) -> Array:
    """Radius of each wheel of the cycle, (W,) m."""
    return np.array([study.project.wheels[name].radius.value for name in layout_of(cycle).wheel_names])


def straps_of(study: Study) -> frozenset[str]:
    """Names of what pulls without being a spring."""
    return frozenset(study.project.straps)


def entry(value: float) -> float | None:
    """A figure for the document: NaN, what cannot be said, is null; infinity is refused."""
    return None if value != value else number(value)  # noqa: PLR0124  NaN alone differs from itself


def _assembly(study: Study, cycle: Cycle) -> CycleAssembly:
    layout = layout_of(cycle)
    table = table_of(cycle, radii_of(study, cycle), straps_of(study))
    axes = _PLANES[study.project.plane]
    return CycleAssembly(
        list(layout.wheel_names),
        cycle.sprung.assembly.freedom.count,
        [Loose(play.bodies, play.sentence) for play in play_of(cycle)],
        bind_of(cycle),
        _stops(cycle),
        [] if table is None else [_pose(table, at, axes) for at in range(len(table.drive))],
        UNSET if table is None or not table.axial_at else list(table.axial_at),
    )


def _stops(cycle: Cycle) -> CycleStops:
    ends = None if cycle.travels is None else cycle.travels.range
    if ends is None or cycle.posed is None:
        return CycleStops(None, None)
    return CycleStops(_stop(ends.bump), _stop(ends.droop))


def _stop(stop: Stop) -> CycleStop:
    why: StopWhy = stop.why  # type: ignore[assignment]  # the words of the contract
    return CycleStop(number(to_surface(stop.travel, "length")), why)


def _pose(table: Table, at: int, axes: list[int]) -> CyclePose:
    wheels = table.wheels
    return CyclePose(
        {name: number(table.travel[at, w]) for w, name in enumerate(wheels)},
        {name: [number(place[at, axis]) for axis in axes] for name, place in table.places.items()},
        {name: _spring(columns, at, wheels) for name, columns in table.springs.items()},
        {name: _wheel(table, at, w) for w, name in enumerate(wheels)},
        _square(table.rate_matrix[at], wheels),
        {name: entry(tension[at]) for name, tension in table.bars.items()},
        {name: _vector(force[at], axes) for name, force in table.joints.items()},
        {name: number(pull[at]) for name, pull in table.straps.items()} or UNSET,
        {name: entry(tension[at]) for name, tension in table.links.items()} or UNSET,
    )


def _spring(columns: SpringColumns, at: int, wheels: tuple[str, ...]) -> CycleSpring:
    if columns.hinge:
        nothing: dict[str, float | None] = dict.fromkeys(wheels)
        return CycleSpring(
            None, None, None, nothing, {name: dict(nothing) for name in wheels},
            entry(columns.compression[at]), entry(columns.push[at]),
            {name: entry(columns.ratio[at, w]) for w, name in enumerate(wheels)},
        )  # fmt: skip
    return CycleSpring(
        entry(columns.length[at]),
        entry(columns.compression[at]),
        entry(columns.push[at]),
        {name: entry(columns.ratio[at, w]) for w, name in enumerate(wheels)},
        _square(columns.slope[at], wheels),
    )


def _wheel(table: Table, at: int, wheel: int) -> CycleWheel:
    return CycleWheel(
        entry(table.wheel_rate[at, wheel]),
        entry(table.wheel_force[at, wheel]),
        entry(table.camber[at, wheel]),
        entry(table.toe[at, wheel]),
        True if table.shared else UNSET,
    )


def _square(values: Array, names: tuple[str, ...]) -> dict[str, dict[str, float | None]]:
    return {
        row: {column: entry(values[i, j]) for j, column in enumerate(names)} for i, row in enumerate(names)
    }


def _vector(force: Array, axes: list[int]) -> list[float] | None:
    if np.isnan(force).any():
        return None
    return [number(force[axis]) for axis in axes]
