"""Another load set taken aboard of a vehicle that is measured and cycled already."""

from __future__ import annotations

from dataclasses import dataclass, replace

from leverwright.assemble.footing import Footing
from leverwright.assemble.measured import Measured
from leverwright.assemble.weights import weights_of, with_loads
from leverwright.project import Project

__all__ = ["Aboard"]


@dataclass(frozen=True, slots=True)
class Aboard:
    """What a study of another load set starts from: the vehicle as measured under its usual load, and its ways.

    load_set  None: the usual load stays; what is handed on is the ways alone
    """

    load_set: str | None
    measured: Measured
    footing: Footing

    def measured_under(self, file: Project) -> Measured:
        """The measured vehicle with that load set's wheel loads and their ± instead of its own."""
        if self.load_set is None:
            return self.measured
        weights = weights_of(file, self.measured.project, self.load_set, self.footing)
        others = tuple(block for block in self.measured.blocks if block.inputs[0][0] != "load")
        project = with_loads(self.measured.project, weights)
        return replace(self.measured, project=project, weights=weights, blocks=(*others, *weights.blocks))
