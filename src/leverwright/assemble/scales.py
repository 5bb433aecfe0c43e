"""The file's weighings, one load set at a time, as the scale's numerics want them."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from leverwright.assemble.footing import Footing, footing_of
from leverwright.geometry import Array
from leverwright.measure.plank import PLACE_ERROR, PlankLever
from leverwright.measure.scale import ScaleFacts, Weighed, WheelReads, pooled_error, raised_shift, weigh
from leverwright.project import Plank, Project, Weighing
from leverwright.quantity import Quantity
from leverwright.ride.frequency import STANDARD_GRAVITY

__all__ = ["RaisedWheel", "WeighedSet", "series_rates", "weighed_set"]


@dataclass(frozen=True, slots=True)
class RaisedWheel:
    """A wheel that stood higher than the others while it was weighed.

    height  m; shift kg that came on it by that; NaN where neither springs nor tyres tell. share of its load
    """

    wheel: str
    height: float
    shift: float
    share: float


@dataclass(frozen=True, slots=True)
class WeighedSet:
    """What the scale said of one load set; `wheels` in the order of `result` and `covariance` (W, W) kg².

    covariance  with what raised wheels shifted, along the only pattern that leaves sums and moments alone
    """

    wheels: tuple[str, ...]
    names: tuple[str, ...]  # of the entries
    result: Weighed
    covariance: Array
    raised: tuple[RaisedWheel, ...]

    @property
    def loads(self) -> Mapping[str, float]:
        """Wheel → kg."""
        return dict(zip(self.wheels, self.result.load.tolist(), strict=True))


def weighed_set(
    file: Project, project: Project, name: str | None, footing: Footing | None
) -> WeighedSet | None:
    """What was weighed with that load set aboard; None when nothing was."""
    usual = "usual" if "usual" in file.loads or not file.loads else next(iter(file.loads))
    mine = [one for one in file.weighed.values() if (one.load_set or usual) == name]
    if not mine:
        return None
    facts = _facts(file, whole={one.wheel for one in mine} == set(project.wheels) and name == usual)
    plain = [WheelReads(tuple(read.value for read in one.reads), _own(one.reads)) for one in mine]
    common = pooled_error(plain, facts)
    reads = [
        reads if one.plank is None else replace(reads, plank=_lever(one.plank, common))
        for reads, one in zip(plain, mine, strict=True)
    ]
    result = weigh(reads, facts)
    wheels = tuple(one.wheel for one in mine)
    raised, spread = _raised(project, mine, result, footing)
    return WeighedSet(wheels, tuple(one.name for one in mine), result, result.covariance + spread, raised)


def _own(reads: Sequence[Quantity]) -> float | None:
    """The ± that readings state themselves: of those that do, the largest."""
    return max((read.error for read in reads if read.error is not None), default=None)


def _facts(file: Project, *, whole: bool) -> ScaleFacts:
    scale = file.scale
    if scale is None:
        return ScaleFacts()
    known = None if scale.known is None else (scale.known[0].value, scale.known[1].value)
    return ScaleFacts(scale.error, known, scale.total.value if scale.total is not None and whole else None)


def _lever(plank: Plank, common: float) -> PlankLever:
    def error(quantity: Quantity) -> float:
        return PLACE_ERROR if quantity.error is None else quantity.error

    alone = common if plank.alone.error is None else plank.alone.error
    return PlankLever(
        plank.load.value, plank.scale.value, plank.alone.value, alone, error(plank.load), error(plank.scale)
    )


def _raised(
    project: Project, mine: Sequence[Weighing], result: Weighed, footing: Footing | None
) -> tuple[tuple[RaisedWheel, ...], Array]:
    """Raised wheels, and what they add to the covariance.

    One of them: it stood so in all readings, which shifts load along the diagonals and leaves every sum alone.
    Several: each only while itself on the scale, which then errs by itself.
    """
    wheels = [one.wheel for one in mine]
    high = [(k, one) for k, one in enumerate(mine) if one.raised is not None and one.raised.value != 0.0]
    spread = np.zeros((len(wheels), len(wheels)))
    if not high:
        return (), spread
    every = list(project.wheels)
    places = np.array([project.points[project.wheels[name].centre].at[:2] for name in every])
    rates = series_rates(project, footing_of(project) if footing is None else footing)
    found = []
    for k, one in high:
        assert one.raised is not None
        at = every.index(one.wheel)
        shift = (
            raised_shift(places, np.array([rates[n] for n in every]), at, one.raised.value) / STANDARD_GRAVITY
        )
        own = float(shift[at])
        found.append(RaisedWheel(one.wheel, one.raised.value, own, abs(own) / float(result.load[k])))
        if not np.isfinite(shift).all():
            spread[k, k] = np.nan
        elif len(high) == 1:
            pattern = np.array([shift[every.index(name)] for name in wheels])
            spread += np.outer(pattern, pattern)
        else:
            spread[k, k] += own**2
    return tuple(found), spread


def series_rates(project: Project, footing: Footing) -> dict[str, float]:
    """Rate [N/m] of each wheel with its tyre in series, near the set-up pose; inf where neither gives."""
    rates: dict[str, float] = {}
    for sprung, heave in zip(footing.assemblies, footing.heave, strict=True):
        for column, name in enumerate(sprung.assembly.layout.wheel_names):
            gives = 0.0
            if heave.posed is not None and heave.springs is not None:
                pose = int(np.argmin(np.abs(heave.posed.travel)))
                matrix = heave.springs.wheel_rate[pose]
                rate = float(matrix[column, column] if len(matrix) > 1 else matrix[0, 0] / len(sprung.load))
                gives = 1.0 / rate if rate > 0.0 else np.nan
            tyre = project.wheels[name].tyre
            gives += 0.0 if tyre is None else 1.0 / tyre.value
            rates[name] = math.inf if gives == 0.0 else 1.0 / gives
    return rates
