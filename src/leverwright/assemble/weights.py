"""What each wheel carries: weighed with one scale, or the balance of a load set's masses."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

import numpy as np

from leverwright.assemble.blocks import Block
from leverwright.assemble.footing import Footing, footing_of
from leverwright.assemble.parts import parts_of
from leverwright.assemble.scales import WeighedSet, weighed_set
from leverwright.geometry import Array
from leverwright.project import LoadSet, Project
from leverwright.project.loads import USUAL, usual_of
from leverwright.quantity import Quantity
from leverwright.ride.chassis import ChassisStanding, chassis_at, level_loads, stand_chassis
from leverwright.ride.chassis_balance import Burden, Hitch, Part

__all__ = [
    "Weights",
    "filled_loads",
    "usual_set",
    "weights_of",
    "with_loads",
]

_KEPT = 9  # decimals of a kilogram: rounding of the balance must not make two sides unlike


@dataclass(frozen=True, slots=True)
class Weights:
    """One load set of a vehicle.

    loads     wheel → kg with its ±; a wheel that nothing tells is missing
    source    wheel → "stated", "weighed", "scale" or "masses"
    blocks    what errs together
    weighed   what the scale said of this set, if anything
    standing  the chassis under it; None where the set has neither masses nor every wheel's load
    burden    its masses, if it has any
    footing   what it was balanced on; None where no balance was asked for
    level     the balance is that of the vehicle as drawn, on legs that give alike: springs cannot be told, and why
    beside    wheel → kg by the scale where the wheel's own stated load counts instead
    """

    name: str | None
    loads: Mapping[str, Quantity]
    source: Mapping[str, str]
    blocks: tuple[Block, ...]
    weighed: WeighedSet | None
    standing: ChassisStanding | None
    burden: Burden | None
    footing: Footing | None
    level: str | None
    beside: Mapping[str, Quantity]


def usual_set(file: Project) -> str | None:
    """The load set that answers mean when none is named; one `load` a wheel is a load set too."""
    return usual_of(file.loads or (USUAL,))


def filled_loads(file: Project, project: Project) -> Weights:
    """The usual load: `file` has the tables, `project` the places and springs."""
    return weights_of(file, project, usual_set(file), None)


def with_loads(project: Project, weights: Weights) -> Project:
    """The project with these wheel loads, and without the tables that they came from."""
    wheels = {name: replace(wheel, load=weights.loads.get(name)) for name, wheel in project.wheels.items()}
    nothing: Mapping[str, Any] = MappingProxyType({})
    return replace(
        project,
        wheels=MappingProxyType(wheels),
        masses=nothing,
        loads=nothing,
        weighed=nothing,
        coupling=None,
        scale=None,
        tilt=None,
    )


def weights_of(file: Project, project: Project, name: str | None, footing: Footing | None) -> Weights:
    """One load set; a wheel's own `load` is the usual one and comes first, then the scale, then the masses."""
    usual = name == usual_set(file)
    loads: dict[str, Quantity] = {}
    source: dict[str, str] = {}
    if usual:
        loads = {n: wheel.load for n, wheel in file.wheels.items() if wheel.load is not None}
        source = dict.fromkeys(loads, "stated")
    weighed = weighed_set(file, project, name, footing)
    blocks: list[Block] = []
    if weighed is not None:
        _take(weighed.loads, weighed.covariance, "weighed", (loads, source, blocks))
    chosen = file.loads.get(name) if name is not None else None
    on_scale = {} if chosen is None else _on_scale(file, chosen)
    for wheel, load in on_scale.items():
        if wheel not in loads:
            loads[wheel], source[wheel] = load, "scale"
    scaled = on_scale if weighed is None else {**on_scale, **_weighed_each(weighed)}
    beside = {wheel: load for wheel, load in scaled.items() if source[wheel] == "stated"}
    burden = None if chosen is None or not chosen.carries else _burden(file, chosen.carries)
    missing = [n for n in project.wheels if n not in loads]
    if burden is None and (missing or not file.loads):
        return Weights(name, loads, source, tuple(blocks), weighed, None, None, footing, None, beside)
    ground = footing_of(project) if footing is None else footing
    parts, hitch = parts_of(project, ground), _hitch(file, project)
    level = None
    if burden is None:
        read = np.array([loads[wheel].value for part in parts for wheel in part.names])
        standing = chassis_at(parts, read, hitch)
    else:
        standing = stand_chassis(parts, burden, hitch)
        level = _balanced(parts, (burden, hitch), standing, (loads, source, blocks))
    return Weights(name, loads, source, tuple(blocks), weighed, standing, burden, ground, level, beside)


def _on_scale(file: Project, chosen: LoadSet) -> dict[str, Quantity]:
    """The set's own readings, one a wheel, with the scale's error where they state none."""
    own = None if file.scale is None else file.scale.error
    return {
        wheel: replace(load, error=own if load.error is None else load.error)
        for wheel, load in chosen.scale.items()
    }


def _weighed_each(weighed: WeighedSet) -> dict[str, Quantity]:
    """Each wheel's weighing with its own deviation, None where nothing states one."""
    errors = np.sqrt(np.diag(weighed.covariance))
    return {
        wheel: Quantity(load, float(error) if np.isfinite(error) and error > 0.0 else None, "mass")
        for (wheel, load), error in zip(weighed.loads.items(), errors, strict=True)
    }


_Found = tuple[dict[str, Quantity], dict[str, str], list[Block]]


def _take(values: Mapping[str, float], covariance: Array, whence: str, found: _Found) -> None:
    """Loads that are not told yet, with their ± together; NaN in the covariance: no ± is known."""
    loads, source, blocks = found
    new = [(k, wheel) for k, wheel in enumerate(values) if wheel not in loads]
    rows = [k for k, _ in new]
    mine = covariance[np.ix_(rows, rows)]
    known = bool(np.isfinite(mine).all()) and bool(mine.any())
    for k, wheel in new:
        error = float(np.sqrt(covariance[k, k])) if known else None
        loads[wheel], source[wheel] = Quantity(round(values[wheel], _KEPT), error, "mass"), whence
    if known and np.count_nonzero(mine - np.diag(np.diag(mine))):
        blocks.append(Block(tuple(("load", wheel) for _, wheel in new), mine))


def _balanced(
    parts: Sequence[Part], what: tuple[Burden, Hitch | None], standing: ChassisStanding, found: _Found
) -> str | None:
    """Takes the wheels' loads from the balance; where it fails for want of springs, from a level one: then why."""
    wheels = len(standing.names)
    if standing.because is None:
        values = dict(zip(standing.names, standing.loads.tolist(), strict=True))
        _take(values, standing.covariance[:wheels, :wheels], "masses", found)
        return None
    if not np.isnan(np.concatenate([part.sprung.unsprung for part in parts])).any():
        return None
    level = level_loads(parts, *what)
    if isinstance(level, str):
        return None
    _take(
        dict(zip(standing.names, level[0][:wheels].tolist(), strict=True)),
        level[1][:wheels, :wheels],
        "masses",
        found,
    )
    return standing.because


def _burden(file: Project, carries: Sequence[str]) -> Burden:
    """The masses of a load set; what states no ± counts as exact."""
    masses = [file.masses[name] for name in carries]
    return Burden(
        np.array([mass.mass.value for mass in masses]),
        np.array([mass.at for mass in masses]),
        np.array([mass.mass.error or 0.0 for mass in masses]),
        np.array([[error or 0.0 for error in mass.errors] for mass in masses]),
    )


def _hitch(file: Project, project: Project) -> Hitch | None:
    """The coupling; its height, where none is stated, is that of the set-up pose over the wheels' lowest points."""
    if file.coupling is None:
        return None
    at = np.array(file.coupling.at)
    if file.coupling.height is not None:
        return Hitch(at, file.coupling.height.value)
    low = [project.points[wheel.centre].at[2] - wheel.radius.value for wheel in project.wheels.values()]
    return Hitch(at, float(at[2]) - float(np.mean(low)))
