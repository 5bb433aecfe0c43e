"""Project → sprung assemblies: each linkage with its springs, limits and wheel loads."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from leverwright.assemble.mechanism import mechanism_of
from leverwright.assemble.springs import laws_of, limits_of
from leverwright.geometry import Array
from leverwright.linkage import Layout, Mechanism, assembly_of, find_layouts, geometry_of
from leverwright.project import Project
from leverwright.quantity import Quantity
from leverwright.ride.sprung import SprungAssembly

__all__ = ["sprung_assemblies", "twin_names"]


def sprung_assemblies(
    project: Project, hold: Mapping[str, float] | None = None, mechanism: Mechanism | None = None
) -> tuple[SprungAssembly, ...]:
    """Every assembly of the vehicle; `hold` gives held values by name, m or rad."""
    whole = mechanism_of(project) if mechanism is None else mechanism
    return tuple(_sprung(project, layout, hold) for layout in find_layouts(whole))


def _sprung(project: Project, layout: Layout, hold: Mapping[str, float] | None) -> SprungAssembly:
    wheels = [project.wheels[name] for name in layout.wheel_names]
    load = _known([wheel.load for wheel in wheels])
    unsprung = _known([wheel.unsprung for wheel in wheels])
    return SprungAssembly(
        assembly_of(layout, geometry_of(layout.mechanism, hold)),
        laws_of(project, layout),
        limits_of(project, layout),
        load,
        unsprung,
        _known([wheel.tyre for wheel in wheels]),
    )


def _known(values: list[Quantity | None]) -> Array:
    """SI values, NaN where the file says nothing; NaN is never used, it makes the answer that needs it unsayable."""
    return np.array([np.nan if value is None else value.value for value in values])


def twin_names(project: Project) -> dict[str, str]:
    """Each part's name to the name of its mirror twin."""
    tables = (
        project.points,
        project.bodies,
        project.bars,
        project.springs,
        project.straps,
        project.wheels,
        project.held,
    )
    return {
        part.twin_of: name for table in tables for name, part in table.items() if part.twin_of is not None
    }
