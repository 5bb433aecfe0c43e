"""Project → Measured: what the file's measurements say, taken up into the places, springs and loads of the vehicle."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING

from leverwright.assemble.blocks import Block
from leverwright.project import Project

if TYPE_CHECKING:
    from leverwright.assemble.spring_fit import SpringFit
    from leverwright.assemble.tapes import Taped
    from leverwright.assemble.tyres import TyreFit
    from leverwright.assemble.weights import Weights

__all__ = ["Measured", "measured_of"]


@dataclass(frozen=True, slots=True)
class Measured:
    """The vehicle with every measurement taken up.

    project  the file's vehicle with places solved, shocks and wheel loads filled, each with its ±; its measuring
             tables are empty, so that a study of it measures nothing twice. The very file where it measures nothing.
    tapes    what the tapes say, None where there are none
    springs  what bench, wire and pile say of each shock, by name
    weights  what scale and masses say of the usual load, None where there are none
    tyres    what scale and ruler say of each tyre that was read, by wheel
    blocks   what errs together; every other number is independent and has its own ±
    """

    project: Project
    tapes: Taped | None = None
    springs: Mapping[str, SpringFit] = field(default_factory=lambda: MappingProxyType({}))
    weights: Weights | None = None
    tyres: Mapping[str, TyreFit] = field(default_factory=lambda: MappingProxyType({}))
    blocks: tuple[Block, ...] = ()

    @property
    def unknown(self) -> frozenset[str]:
        """Points whose ± cannot be told."""
        return frozenset() if self.tapes is None else self.tapes.unknown


def measured_of(file: Project) -> Measured:
    """Every measurement of a file taken up; a file without any is its own vehicle, to the last bit."""
    # What solves networks is loaded by those alone who taped: the start of every other check waits for nothing.
    tapes = None
    picked = any(photo.picks for photo in file.photos.values())
    if file.tape or picked or any(point.sketched for point in file.points.values()):
        from leverwright.assemble.tapes import taped

        tapes = taped(file)
    project, blocks = (file, ()) if tapes is None else (tapes.project, tapes.blocks)
    springs: Mapping[str, SpringFit] = MappingProxyType({})
    if file.bench or file.pile or any(shock.wire for shock in file.shocks.values()):
        from leverwright.assemble.bench import filled_springs

        filled = filled_springs(project)
        project, springs, blocks = filled.project, filled.springs, (*blocks, *filled.blocks)
    tyres: Mapping[str, TyreFit] = MappingProxyType({})
    if any(wheel.tyre_readings for wheel in file.wheels.values()):
        from leverwright.assemble.tyres import filled_tyres

        project, tyres = filled_tyres(project)
    weights = None
    if file.loads or file.weighed:
        from leverwright.assemble.weights import filled_loads, with_loads

        weights = filled_loads(file, project)
        project, blocks = with_loads(project, weights), (*blocks, *weights.blocks)
    return Measured(project, tapes, springs, weights, tyres, blocks)
