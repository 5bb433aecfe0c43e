"""Left and right springs of a vehicle that have different shocks, compared where they stand."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from leverwright.assemble.owned import owned_on_vehicle
from leverwright.ride.pile import Owned, Pair, pair_of
from leverwright.study import Study

__all__ = ["SpringPair", "spring_pairs"]


@dataclass(frozen=True, slots=True)
class SpringPair:
    """Two springs of one axle.

    shocks  theirs, left first, called by the names of the springs
    pair    compared under the usual load, at the left one's heave ratio
    loaded  whether that load could be told; else they are compared fully open
    wheels  of the two sides
    """

    shocks: tuple[Owned, Owned]
    pair: Pair
    loaded: bool
    wheels: tuple[str, ...]


def spring_pairs(study: Study) -> Iterator[SpringPair]:
    """Every -left spring beside its -right one, where their shocks are two and both are known."""
    springs, shocks = study.project.springs, study.project.shocks
    for name, left in springs.items():
        twin = springs.get(f"{name.removesuffix('-left')}-right")
        if not name.endswith("-left") or twin is None or left.shock is None or twin.shock is None:
            continue
        if left.shock == twin.shock:
            continue
        owned = [
            owned_on_vehicle(spring.name, shocks[shock], study.measured.springs.get(shock))
            for spring, shock in ((left, left.shock), (twin, twin.shock))
        ]
        if owned[0] is None or owned[1] is None:
            continue
        load, ratio = _carried(study, name)
        wheels = dict.fromkeys((*_wheels(study, name), *_wheels(study, twin.name)))
        pair = pair_of(owned[0], owned[1], [load], ratio)
        yield SpringPair((owned[0], owned[1]), pair, load > 0.0, tuple(wheels))


def _wheels(study: Study, spring: str) -> tuple[str, ...]:
    return next(
        (
            sprung.assembly.layout.wheel_names
            for sprung in study.assemblies
            if spring in sprung.assembly.layout.line_names
        ),
        (),
    )


def _carried(study: Study, spring: str) -> tuple[float, float]:
    """Load [kg] and heave ratio at which a spring stands; no load where it cannot be told."""
    for sprung, figures in zip(study.assemblies, study.figures, strict=True):
        names = sprung.assembly.layout.line_names
        if spring in names:
            ratio = float(figures.heave[names.index(spring)])
            load = float(sprung.sprung.mean())
            if math.isfinite(load) and load > 0.0 and ratio > 0.0:
                return load, ratio
    return 0.0, 1.0
