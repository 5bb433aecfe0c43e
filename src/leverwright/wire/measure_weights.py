"""Load sets → their part of the measuring document: wheels, closure, balance, how it stands and where it tips."""

from __future__ import annotations

import math

import numpy as np

from leverwright.assemble.scales import WeighedSet
from leverwright.assemble.stance import Loading
from leverwright.assemble.weights import Weights
from leverwright.geometry import Array
from leverwright.measure.scale import Weighed, balance_point, cross_weight
from leverwright.project import Project
from leverwright.ride.chassis import ChassisStanding
from leverwright.study import Study
from leverwright.wire.answering import answers_of
from leverwright.wire.measure import (
    BalancePoint,
    Chassis,
    Closure,
    CouplingSaid,
    Figure,
    LoadSetSaid,
    Raised,
    TippingSaid,
    WheelLoad,
)
from leverwright.wire.measure_figures import figure, figure_of, known, surface

__all__ = ["load_sets_of"]

_USUAL = "usual"


def load_sets_of(study: Study) -> dict[str, LoadSetSaid]:
    """Every load set in the order of the file; the usual one alone where there is no table of them."""
    if study.measured.weights is None:
        return {}
    sets = study.sets or {study.load_set or _USUAL: study}
    return {
        name: _load_set(other, other.measured.weights, usual=name == study.load_set)
        for name, other in sets.items()
        if other.measured.weights is not None
    }


def _load_set(study: Study, weights: Weights, *, usual: bool) -> LoadSetSaid:
    project = study.project
    loading = study.loading
    chosen = study.file.loads.get(weights.name or "")
    weighed = _weighed(project, weights)
    wheels = {}
    for name in project.wheels:
        load = figure_of(weights.loads.get(name))
        if load is not None:
            wheels[name] = WheelLoad(load, weights.source[name])
    return LoadSetSaid(
        usual=usual,
        carries=[] if chosen is None else list(chosen.carries),
        wheels=wheels,
        total=None if weighed is None else _total(weighed),
        cross=None if weighed is None else _cross(project, weighed),
        closures=[] if weights.weighed is None else _closures(weights.weighed),
        raised=[] if weights.weighed is None else _raised(weights.weighed),
        balance=None if weighed is None else _balance(project, weights, weighed, loading),
        chassis=None if weights.standing is None else _chassis(weights.standing),
        tipping=_tipping(loading),
        coupling=_coupling(loading),
        answers=answers_of(study),
    )


def _weighed(project: Project, weights: Weights) -> Weighed | None:
    """All wheels with their covariance, NaN where no error is known; None where a wheel's load is not told."""
    names = list(project.wheels)
    if any(name not in weights.loads for name in names):
        return None
    errors = [weights.loads[name].error for name in names]
    covariance = np.diag([math.nan if error is None else error**2 for error in errors])
    for block in weights.blocks:
        rows = [names.index(name) for _, name in block.inputs]
        covariance[np.ix_(rows, rows)] = block.covariance
    return Weighed(np.array([weights.loads[name].value for name in names]), covariance, math.nan, ())


def _total(weighed: Weighed) -> Figure | None:
    variance = float(weighed.covariance.sum())
    return figure(weighed.total, "mass", math.sqrt(variance) if variance >= 0.0 else None)


def _cross(project: Project, weighed: Weighed) -> Figure | None:
    """Share on the left front and the right rear of four wheels."""
    if len(project.wheels) != 4 or project.plane is not None:
        return None
    centres = [project.points[wheel.centre].at for wheel in project.wheels.values()]
    by_x = sorted(range(4), key=lambda k: -centres[k][0])
    front_left = max(by_x[:2], key=lambda k: centres[k][1])
    rear_right = min(by_x[2:], key=lambda k: centres[k][1])
    share, error = cross_weight(weighed, (front_left, rear_right))
    return figure(share, "percent", error)


def _closures(weighed: WeighedSet) -> list[Closure]:
    return [
        Closure(
            each.kind,
            None if each.wheel < 0 else weighed.wheels[each.wheel],
            surface(each.off, "mass"),
            surface(each.of, "mass"),
            surface(each.allowed, "mass"),
            each.closes,
        )
        for each in weighed.result.closures
    ]


def _raised(weighed: WeighedSet) -> list[Raised]:
    return [
        Raised(each.wheel, surface(each.height, "length"), known(each.shift, "mass"))
        for each in weighed.raised
    ]


def _balance(
    project: Project, weights: Weights, weighed: Weighed, loading: Loading | None
) -> BalancePoint | None:
    """Where the centre of gravity lies over the ground, from the wheels' loads; its height by tilting or by masses."""
    if len(project.wheels) < 2 or weighed.total <= 0.0:
        return None
    places = np.array([project.points[wheel.centre].at[:2] for wheel in project.wheels.values()])
    at, spread = balance_point(weighed, places, project.error or 0.0)
    ahead, left = (figure(float(at[k]), "length", _root(spread, k)) for k in (0, 1))
    if ahead is None:
        return None
    height, by = _height(weights, loading)
    return BalancePoint(ahead, None if project.plane is not None else left, height, by)


def _root(spread: Array, k: int) -> float | None:
    variance = float(spread[k, k])
    return math.sqrt(variance) if variance >= 0.0 else None


def _height(weights: Weights, loading: Loading | None) -> tuple[Figure | None, str | None]:
    """Height over the ground; of the masses as it stands, else nothing says it."""
    if loading is not None and loading.tilted is not None:
        return figure(loading.tilted.height, "length", loading.tilted.error), "tilt"
    standing = weights.standing
    if weights.burden is None or standing is None or standing.because is not None:
        return None, None
    return figure(standing.over_ground(standing.centre), "length"), "masses"


def _chassis(standing: ChassisStanding) -> Chassis:
    return Chassis(
        known(standing.heave, "length"),
        known(standing.pitch, "angle"),
        known(standing.roll, "angle"),
        list(standing.lifted),
        standing.because,
    )


def _tipping(loading: Loading | None) -> TippingSaid:
    if loading is None or isinstance(loading.tipping, str):
        because = "nothing says what is aboard" if loading is None else str(loading.tipping)
        return TippingSaid(None, None, None, None, None, None, None, because)
    tipping = loading.tipping
    return TippingSaid(
        figure(tipping.rigid, "ratio", tipping.error),
        known(tipping.leaning),
        known(tipping.slope, "angle"),
        known(tipping.braking),
        known(tipping.driving),
        known(tipping.over_front),
        known(tipping.over_rear),
        tipping.no_lean,
    )


def _coupling(loading: Loading | None) -> CouplingSaid | None:
    share = None if loading is None else loading.coupling
    if share is None:
        return None
    if isinstance(share, str):
        return CouplingSaid(None, None, None, None, share)
    return CouplingSaid(
        known(share.level, "mass"),
        known(share.pitched, "mass"),
        known(share.level_share, "percent"),
        known(share.pitched_share, "percent"),
        None,
    )
