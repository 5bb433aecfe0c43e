"""What a bench test shows of a shock that should not be used: seized, lazy, sticking, swapped columns."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from leverwright.measure.bench import BenchFit
from leverwright.measure.bench_points import BenchReadings

__all__ = [
    "FRICTION_SHARES",
    "RETURN_TIMES",
    "Return",
    "Unfit",
    "UnfitReason",
    "unfit_by_readings",
    "unfit_by_return",
]

RETURN_TIMES = (2.0, 5.0)  # s for a free return: longer than the first is slow, than the second unfit (CP)
FRICTION_SHARES = (0.25, 0.50)  # friction by the spring's force at the middle mark: much, too much (CP)
_SHORT = 0.9  # share of the way that it must come back; less is stuck (CP)
_NOTHING = 0.02  # share of the reading going in; below this it pushes back nothing

UnfitReason = Literal["stops-short", "slow", "no-push", "sticks", "swapped", "oil", "bent", "pitted"]


@dataclass(frozen=True, slots=True)
class Return:
    """A shock let go: it came back `by` of `of` [m] in `seconds`."""

    by: float
    of: float
    seconds: float


@dataclass(frozen=True, slots=True)
class Unfit:
    """One reason not to use a shock, or (`reject` False) to look again.

    number   what was read: m or s come back, share of friction, NaN where it is no number
    squash   m, the mark where it shows; NaN where it is at no mark
    back     how it came back when let go
    """

    reason: UnfitReason
    reject: bool
    number: float = math.nan
    squash: float = math.nan
    back: Return | None = None


def unfit_by_return(back: Return) -> Unfit | None:
    """Stops short, or takes too long: free return under 2 s is fine, over 5 s it is not to be used."""
    if back.by < _SHORT * back.of:
        return Unfit("stops-short", reject=True, number=back.by, back=back)
    if back.seconds > RETURN_TIMES[0]:
        return Unfit("slow", reject=back.seconds > RETURN_TIMES[1], number=back.seconds, back=back)
    return None


def unfit_by_readings(readings: BenchReadings, fit: BenchFit) -> tuple[Unfit, ...]:
    """What the readings themselves show: no push coming out, much friction, columns swapped."""
    moved = np.isfinite(readings.coming_out) & (readings.squash > 0.0)
    dead = moved & (readings.coming_out <= _NOTHING * readings.going_in)
    found = [
        Unfit("no-push", reject=True, number=0.0, squash=float(readings.squash[mark]))
        for mark in np.flatnonzero(dead)[-1:]
    ]
    if math.isnan(fit.friction) or math.isnan(fit.rate):
        return tuple(found)
    step = readings.step or 0.0
    if fit.friction < -max(step, 2.0 * (fit.error[2] if math.isfinite(fit.error[2]) else 0.0)):
        return (*found, Unfit("swapped", reject=False, number=fit.friction))
    middle = float(np.mean(readings.squash))
    force = fit.start + fit.rate * middle
    share = fit.friction / force if force > 0.0 else 0.0
    if not found and share > FRICTION_SHARES[0]:
        found.append(Unfit("sticks", reject=share > FRICTION_SHARES[1], number=share, squash=middle))
    return tuple(found)
