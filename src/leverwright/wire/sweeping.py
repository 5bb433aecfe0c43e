"""Study → the sweep: the same cycle as columns, for the page."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage import Stop
from leverwright.quantity import System, say_travel, to_surface
from leverwright.ride import Cycle, Standing
from leverwright.study import Study
from leverwright.wire.cycle import StopWhy
from leverwright.wire.cycling import left_out, radii_of, straps_of
from leverwright.wire.loose import bind_of, play_of
from leverwright.wire.strict import StrictError, number
from leverwright.wire.sweep import (
    Column,
    ShownStop,
    ShownStops,
    Sweep,
    SweepAssembly,
    SweepSpring,
    SweepWheel,
)
from leverwright.wire.table import SpringColumns, Table, layout_of, table_of

__all__ = ["modes_of", "sweep_of"]

# Digits behind the point: a thousandth of a micrometre, a millionth of a newton. Shortens what is sent by half.
_DIGITS = 6
_WHEEL = "wheel:"
_SYSTEMS: tuple[System, System] = ("metric", "inch")

_ENDS = {
    "dead centre": "the lever is at dead centre",
    "shock closed": "the shock is fully closed",
    "shock open": "the shock is fully open",
    "strap taut": "the strap is taut",
    "link stretched": "the links are stretched",
    "joint bind": "a joint binds",
    "asked": "the range that was asked for ends",
}


def modes_of(study: Study) -> list[str]:
    """Every mode that the page can show: heave, roll, each wheel by itself."""
    return ["heave", "roll", *(_WHEEL + name for name in study.project.wheels)]


def sweep_of(study: Study, mode: str) -> Sweep:
    """One mode as columns; `mode` as `modes_of` names it."""
    cycles = study.cycle(mode.removeprefix(_WHEEL))
    gone = [sentence for cycle in cycles if (sentence := left_out(cycle)) is not None]
    kept = [
        (cycle, standing) for cycle, standing in _standing(study, cycles, mode) if left_out(cycle) is None
    ]
    return Sweep(mode, gone, [_assembly(study, cycle, standing) for cycle, standing in kept])


def _standing(study: Study, cycles: Iterable[Cycle], mode: str) -> list[tuple[Cycle, Standing | None]]:
    if mode != "heave":
        return [(cycle, None) for cycle in cycles]
    return list(zip(cycles, study.standing, strict=True))


def _assembly(study: Study, cycle: Cycle, standing: Standing | None) -> SweepAssembly:
    table = table_of(cycle, radii_of(study, cycle), straps_of(study))
    at = None if standing is None or standing.posed is None else standing.posed.travel[0]
    wheels, freedoms = list(layout_of(cycle).wheel_names), cycle.sprung.assembly.freedom.count
    stops = _stops(cycle)
    standing_mm = None if at is None else number(to_surface(at, "length"))
    play, bind = play_of(cycle), bind_of(cycle)
    if table is None:
        return SweepAssembly(wheels, freedoms, play, bind, stops, [], standing_mm, {}, {}, {}, {}, {})
    return SweepAssembly(
        wheels, freedoms, play, bind, stops,
        _figures(table.drive),
        standing_mm,
        {name: _figures(table.travel[:, w]) for w, name in enumerate(table.wheels)},
        {name: _figures(place.ravel()) for name, place in table.places.items() if name in table.moving},
        {name: _spring(columns, table.wheels) for name, columns in table.springs.items()},
        {name: _wheel(table, w) for w, name in enumerate(table.wheels)},
        {name: _column(tension) for name, tension in (*table.links.items(), *table.bars.items())},
    )  # fmt: skip


def _figures(values: Array) -> list[float]:
    """Plain figures; anything that is no number is a fault of ours and is not sent."""
    if not np.isfinite(values).all():
        raise StrictError("a place or travel of a pose is no number")
    rounded: list[float] = np.round(values, _DIGITS).tolist()
    return rounded


def _column(values: Array) -> Column:
    """Figures with null where one cannot be said."""
    if np.isinf(values).any():
        raise StrictError("a figure of a pose is infinite")
    rounded: list[float] = np.round(values, _DIGITS).tolist()
    if not np.isnan(values).any():
        return list(rounded)
    return [None if value != value else value for value in rounded]  # noqa: PLR0124  NaN differs from itself


def _spring(columns: SpringColumns, wheels: tuple[str, ...]) -> SweepSpring:
    # A hinge's twist and moment stand where a line's compression and force do; the drawing has no length of it.
    return SweepSpring(
        _column(columns.length),
        _column(columns.compression),
        _column(columns.push),
        {name: _column(columns.ratio[:, w]) for w, name in enumerate(wheels)},
        columns.hinge,
    )


def _wheel(table: Table, wheel: int) -> SweepWheel:
    camber, toe = table.camber[:, wheel], table.toe[:, wheel]
    angles = not np.isnan(camber).all()
    return SweepWheel(
        _column(table.wheel_rate[:, wheel]),
        _column(table.wheel_force[:, wheel]),
        table.shared,
        _column(camber) if angles else None,
        _column(toe) if angles else None,
    )


def _stops(cycle: Cycle) -> ShownStops:
    ends = None if cycle.travels is None else cycle.travels.range
    if ends is None or cycle.posed is None:
        return ShownStops(None, None)
    return ShownStops(_stop(ends.bump, "Bump"), _stop(ends.droop, "Droop"))


def _stop(stop: Stop, way: str) -> ShownStop:
    why: StopWhy = stop.why  # type: ignore[assignment]  # the words of the contract
    by = f" ({stop.by})" if stop.by else ""
    metric, inch = (
        f"{way} ends at {say_travel(stop.travel, system=system)}: {_ENDS[why]}{by}." for system in _SYSTEMS
    )
    return ShownStop(number(to_surface(stop.travel, "length")), why, metric, inch)
