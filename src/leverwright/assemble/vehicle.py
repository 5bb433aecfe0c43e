"""Project → sprung assemblies: each linkage with its springs, limits and wheel loads."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from leverwright.assemble.mechanism import mechanism_of
from leverwright.assemble.springs import laws_of, limits_of
from leverwright.geometry import Array
from leverwright.linkage import Assembly, Mechanism, assembly_of, find_layouts, geometry_of
from leverwright.project import Project
from leverwright.quantity import Quantity
from leverwright.ride.sprung import SprungAssembly

__all__ = ["sprung_assemblies", "twin_names"]


def sprung_assemblies(
    project: Project,
    hold: Mapping[str, float] | None = None,
    mechanism: Mechanism | None = None,
    known: Sequence[SprungAssembly] | None = None,
) -> tuple[SprungAssembly, ...]:
    """Every assembly of the vehicle; `hold` gives held values by name, m or rad.

    known  the same linkages under other loads: they are not analysed again
    """
    if known is not None:
        return tuple(_sprung(project, sprung.assembly) for sprung in known)
    whole = mechanism_of(project) if mechanism is None else mechanism
    layouts = find_layouts(whole)
    return tuple(_sprung(project, assembly_of(layout, geometry_of(whole, hold))) for layout in layouts)


def _sprung(project: Project, assembly: Assembly) -> SprungAssembly:
    layout = assembly.layout
    wheels = [project.wheels[name] for name in layout.wheel_names]
    return SprungAssembly(
        assembly,
        laws_of(project, layout),
        limits_of(project, layout),
        _known([wheel.load for wheel in wheels]),
        _known([wheel.unsprung for wheel in wheels]),
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
