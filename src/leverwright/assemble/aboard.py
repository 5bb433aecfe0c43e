"""Another load set taken aboard of a vehicle that is measured and cycled already."""

from __future__ import annotations

from dataclasses import dataclass, replace

from leverwright.assemble.footing import Footing
from leverwright.assemble.measured import Measured
from leverwright.assemble.weights import weights_of, with_loads
from leverwright.project import Project

__all__ = ["Aboard", "aboard"]


@dataclass(frozen=True, slots=True)
class Aboard:
    """What a study of another load set starts from."""

    measured: Measured
    footing: Footing


def aboard(file: Project, measured: Measured, name: str, footing: Footing) -> Aboard:
    """The measured vehicle with that load set's wheel loads and their ± instead of its own."""
    if name not in file.loads:
        raise KeyError(name)
    weights = weights_of(file, measured.project, name, footing)
    others = tuple(block for block in measured.blocks if block.inputs[0][0] != "load")
    project = with_loads(measured.project, weights)
    blocks = (*others, *weights.blocks)
    return Aboard(replace(measured, project=project, weights=weights, blocks=blocks), footing)
