"""The ± of every assembly's figures, a mirrored side taken from its original where what was measured allows it."""

from __future__ import annotations

from collections.abc import Sequence

from leverwright.assemble.measured import Measured
from leverwright.assemble.spread import spread_of
from leverwright.ride import (
    Cycle,
    Errors,
    Figures,
    SprungAssembly,
    Stages,
    Standing,
    Travels,
    errors_of,
    same_spread,
)

__all__ = ["errors_of_all"]

_Row = tuple[SprungAssembly, Travels | None, Cycle, Standing, Figures]


def errors_of_all(
    measured: Measured, twins: Sequence[int | None], rows: Sequence[_Row]
) -> tuple[Errors | None, ...]:
    """One standard deviation of every figure of each row; None where a place of the assembly states no error."""
    spreads = [spread_of(measured, row[0].assembly.layout) for row in rows]
    found: list[Errors | None] = []
    for k, ((sprung, travels, heave, standing, figures), twin) in enumerate(zip(rows, twins, strict=True)):
        if twin is not None and same_spread(rows[twin][0], spreads[twin], sprung, spreads[k]):
            found.append(found[twin])
        elif travels is None:
            found.append(None)
        else:
            found.append(errors_of(sprung, Stages(travels, heave, standing, figures), spreads[k]))
    return tuple(found)
