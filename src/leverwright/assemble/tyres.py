"""Project → tyres by scale and ruler: a rate with its ± stands where the file has readings."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType

import numpy as np

from leverwright.geometry import Array
from leverwright.measure.tyre import RULER_ERROR, TyreRate, tyre_rate
from leverwright.project import Project, TyreReadings, Wheel
from leverwright.quantity import Quantity
from leverwright.ride.frequency import STANDARD_GRAVITY

__all__ = ["TyreFit", "filled_tyres"]


@dataclass(frozen=True, slots=True)
class TyreFit:
    """What one wheel's readings say.

    twin_of  the wheel that it has them from, None where they are its own
    loads    (N,) kg; heights (N,) m; line (N,) m, heights on the straight line through them
    ruler    a height states no ±: the usual one of a ruler is taken
    """

    found: TyreRate
    twin_of: str | None
    loads: Array
    heights: Array
    line: Array
    ruler: bool

    @property
    def rate(self) -> Quantity:
        """N/m; without ± where nothing tells it."""
        error = self.found.error
        return Quantity(self.found.rate, error if math.isfinite(error) else None, "stiffness")


def filled_tyres(project: Project) -> tuple[Project, Mapping[str, TyreFit]]:
    """The vehicle with the rate of each tyre that was read, and what the readings say, by wheel."""
    error = None if project.scale is None else project.scale.error
    fits: dict[str, TyreFit] = {}
    for name, wheel in project.wheels.items():
        if wheel.tyre_readings is not None:
            fit = _fitted(wheel.tyre_readings, error)
            fits[name] = replace(fit, twin_of=_read_at(project, wheel))
    wheels = {
        name: replace(wheel, tyre=fits[name].rate, tyre_readings=None) if name in fits else wheel
        for name, wheel in project.wheels.items()
    }
    return replace(project, wheels=MappingProxyType(wheels)), MappingProxyType(fits)


def _read_at(project: Project, wheel: Wheel) -> str | None:
    """The wheel that this one mirrors, where it has no other readings than that."""
    of = None if wheel.twin_of is None else project.wheels.get(wheel.twin_of)
    return of.name if of is not None and of.tyre_readings == wheel.tyre_readings else None


@lru_cache(maxsize=64)  # the same readings are fitted once, however often a hole is dragged
def _fitted(readings: TyreReadings, scale_error: float | None) -> TyreFit:
    loads = np.array([each.value for each in readings.loads])
    heights = np.array([each.value for each in readings.heights])
    load_errors = [scale_error if each.error is None else each.error for each in readings.loads]
    height_errors = [RULER_ERROR if each.error is None else each.error for each in readings.heights]
    stated = [error for error in load_errors if error is not None]
    load_error = max(stated) * STANDARD_GRAVITY if len(stated) == len(load_errors) else None
    found = tyre_rate(loads * STANDARD_GRAVITY, heights, load_error, max(height_errors))
    line = heights.mean() - (loads - loads.mean()) * STANDARD_GRAVITY / found.rate
    ruler = any(each.error is None for each in readings.heights)
    for array in (loads, heights, line):
        array.setflags(write=False)
    return TyreFit(found, None, loads, heights, line, ruler)
