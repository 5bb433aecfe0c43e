"""Vehicles to start from: a handful of measurements in, a commented project file out."""

from __future__ import annotations

from collections.abc import Mapping

from leverwright.project.archetypes.beam_axle import BEAM_AXLE
from leverwright.project.archetypes.measurement import Archetype, Measurement, near_name, refuse
from leverwright.project.archetypes.swing_arm import SWING_ARM
from leverwright.project.archetypes.trailing_arm import TRAILING_ARM
from leverwright.project.archetypes.wishbone import WISHBONE

__all__ = ["Archetype", "Measurement", "archetypes", "write_archetype"]

_ARCHETYPES = (TRAILING_ARM, WISHBONE, BEAM_AXLE, SWING_ARM)


def archetypes() -> tuple[Archetype, ...]:
    """All kinds of vehicle that can be started from measurements."""
    return _ARCHETYPES


def write_archetype(kind: str, measurements: Mapping[str, str | int | float]) -> str:
    """The project file of an archetype's id `kind`; a measurement that is not given takes its default.

    ProjectError, its fault's key the measurement, where no such vehicle can work.
    """
    for archetype in _ARCHETYPES:
        if archetype.id == kind:
            return archetype.written(measurements)
    names = tuple(archetype.id for archetype in _ARCHETYPES)
    raise refuse(
        "vehicle",
        None,
        f"'{kind}', which is no kind of vehicle here",
        ", ".join(names),
        near_name(kind, names),
    )
