"""Does anything hold it upright?"""

from __future__ import annotations

from typing import Final

import numpy as np

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.rows import rows
from leverwright.findings.words import on_wheels
from leverwright.ride import opposite_wheels
from leverwright.study import Study

__all__ = ["falls_over"]

_SITS: Final = "Does it sit right?"
# Roll rate by that of two springs at the wheels with the same heave rate; below, nothing but friction
# holds it. Any weight above the axle takes more (CP).
_LEAST_ROLL = 0.02


@finding("falls-over", question=_SITS)
def falls_over(study: Study) -> Finding | None:
    """Do the wheels of every axle share their springs so that nothing resists roll?"""
    heave = {
        wheel: float(row.figures.value["heave_rate"][column])
        for row in rows(study)
        for column, wheel in enumerate(row.wheels)
    }
    track = {pair: 0.5 * (y[0] - y[1]) for pair, y in opposite_wheels(study.mechanism)}
    wheels: list[str] = []
    held, full = 0.0, 0.0
    for axle in study.axles:
        if axle.roll_rate.value is None or not all(np.isfinite(heave.get(w, np.nan)) for w in axle.wheels):
            return None  # an axle that cannot roll holds it, and one that cannot be told is not judged
        held += max(0.0, axle.roll_rate.value)
        full += sum(heave[w] for w in axle.wheels) * track[axle.wheels] ** 2
        wheels += axle.wheels
    alone = set(heave) - set(wheels)
    if not full > 0.0 or alone or held > _LEAST_ROLL * full:
        return None
    return Finding(
        "falls-over",
        "stop",
        _SITS,
        f"It falls over {on_wheels(wheels)}: both sides press on the same spring, so that one wheel goes down as the "
        f"other comes up and nothing resists ({100 * held / full:.1f} % of what two springs would). Give each side "
        "its own spring, or add a bar that resists roll.",
        "Roll rate = moment for each radian of lean, from the wheels' rates; springs of the same heave rate at each "
        "wheel would give half the track squared times their sum; under 2 % of that counts as nothing.",
        f"statics; 2 % is {COMMON_PRACTICE}",
        held / full,
        wheels=tuple(wheels),
    )
