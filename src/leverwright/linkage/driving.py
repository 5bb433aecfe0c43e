"""Which wheels a mode of travel drives, and what an assembly that cannot do it does instead."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage.closing import Drive
from leverwright.linkage.freedom import Freedom
from leverwright.linkage.layout import Layout

__all__ = ["Driving", "mode_weights", "pick_drive"]

_SIDE = 1e-4  # m; a wheel centre nearer to the centre plane is neither left nor right


@dataclass(frozen=True, slots=True)
class Driving:
    """The rows, whether each wheel is a driver of its own, and whether links force wheels apart from what was asked."""

    drive: Drive
    each: bool
    forced: bool


def mode_weights(layout: Layout, mode: str) -> Array | None:
    """Travel of each wheel (W,) per printed travel; None where the mode is not for this assembly.

    "heave" all alike; "roll" left wheels (centre y > 0) up, right ones down, centre ones still, needs a pair;
    a wheel's name: that one moves, the others stay.
    """
    wheels = [layout.mechanism.wheels[w] for w in layout.wheels]
    if not wheels:
        return None
    if mode == "heave":
        return np.ones(len(wheels))
    if mode == "roll":
        y = layout.mechanism.points[[w.centre for w in wheels], 1]
        side = np.where(np.abs(y) < _SIDE, 0.0, np.sign(y))
        return side if side.max() > 0 and side.min() < 0 else None
    names = [w.name for w in wheels]
    if mode not in names:
        return None
    return np.array([1.0 if name == mode else 0.0 for name in names])


def pick_drive(freedom: Freedom, weights: Array) -> Driving | None:
    """Rows that make the wheels follow `weights`; None where no wheel can move.

    Fewer independent heights than wheels: the mean (or the one wheel asked for) is driven and the rest follow.
    """
    count = len(weights)
    if freedom.wheel_rank == 0:
        return None
    if freedom.wheel_rank == count:
        return Driving(Drive(np.eye(count), weights, np.zeros(count)), each=True, forced=False)
    lead = weights / float(weights @ weights)
    rows = [lead]
    follow = [1.0]
    spare = freedom.wheel_rank - 1
    if spare:
        others = np.linalg.svd(lead[None])[2][1:]
        rows += list(others[:spare])
        follow += [0.0] * spare
    return Driving(Drive(np.stack(rows), np.array(follow), np.zeros(len(rows))), each=False, forced=True)
