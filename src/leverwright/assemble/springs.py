"""Project → force laws and the lengths that shocks and rigid straps cannot pass."""

from __future__ import annotations

import numpy as np

from leverwright.linkage import Layout, LineLimit
from leverwright.project import BumpStop, Project, Shock, Spring, Strap
from leverwright.quantity import Quantity
from leverwright.springs import Cord, Law, ShockLaw, StopLaw, TwistLaw

__all__ = ["laws_of", "limits_of", "shock_law"]


def _or_zero(quantity: Quantity | None) -> float:
    """Gas, friction and twist that the file leaves out are none: the file calls them optional."""
    return 0.0 if quantity is None else quantity.value


def shock_law(shock: Shock) -> ShockLaw:
    """The law of one kind of shock, SI."""
    return ShockLaw(
        shock.length_open.value,
        shock.length_closed.value,
        0.0 if shock.rate is None else shock.rate.value,
        np.nan if shock.preload is None else shock.preload.value,  # what was not measured makes no answer
        _or_zero(shock.gas),
        _or_zero(shock.friction),
        np.array(shock.table).reshape(-1, 3) if shock.table else np.zeros((0, 3)),
        None if shock.stop is None else _stop(shock.stop, shock),
    )


def _stop(stop: BumpStop, shock: Shock) -> StopLaw:
    rows = np.array(stop.table).reshape(-1, 2) if stop.table else np.zeros((0, 2))
    return StopLaw(shock.length_closed.value + stop.touches.value, _or_zero(stop.rate), rows)


def laws_of(project: Project, layout: Layout) -> tuple[Law, ...]:
    """One law for each spring and strap of the assembly, in the order of its S axis."""
    return tuple(_law(project, name) for name in layout.line_names)


def _law(project: Project, name: str) -> Law:
    strap: Strap | None = project.straps.get(name)
    if strap is not None:
        return Cord(strap.length.value, 0.0 if strap.rate is None else strap.rate.value)
    spring: Spring = project.springs[name]
    if spring.shock is not None:
        return shock_law(project.shocks[spring.shock])
    if spring.rate is None:
        raise ValueError(f"spring {name!r} has neither shock nor rate")  # the reader refuses such a file
    return TwistLaw(spring.rate.value, _or_zero(spring.twist))


def limits_of(project: Project, layout: Layout) -> tuple[LineLimit, ...]:
    """Shocks fully open and closed and rigid straps, as limits of the assembly's lines."""
    limits: list[LineLimit] = []
    for line, name in enumerate(layout.line_names[: len(layout.lines)]):
        if name in project.straps:
            strap = project.straps[name]
            if strap.rate is None:
                limits.append(LineLimit(name, line, strap.length.value, True, "strap taut"))
            continue
        spring = project.springs[name]
        if spring.shock is not None:
            shock = project.shocks[spring.shock]
            limits.append(LineLimit(name, line, shock.length_open.value, True, "shock open"))
            limits.append(LineLimit(name, line, shock.length_closed.value, False, "shock closed"))
    return tuple(limits)
