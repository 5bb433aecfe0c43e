"""Load sets → their part of the measuring document: wheels, closure, balance, how it stands and where it tips."""

from __future__ import annotations

import math

import numpy as np

from leverwright.assemble.scales import WeighedSet
from leverwright.assemble.stance import Loading, centre_spread, cross_of
from leverwright.assemble.weights import Weights
from leverwright.geometry import Array
from leverwright.measure.scale import Weighed, balance_point
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
            wheels[name] = WheelLoad(load, weights.source[name], figure_of(weights.beside.get(name)))
    return LoadSetSaid(
        usual=usual,
        carries=[] if chosen is None else list(chosen.carries),
        wheels=wheels,
        total=None if weighed is None else _total(weighed),
        cross=_cross(project, weights),
        closures=[] if weights.weighed is None else _closures(weights.weighed),
        raised=[] if weights.weighed is None else _raised(weights.weighed),
        balance=_balance(study, weights, weighed),
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


def _cross(project: Project, weights: Weights) -> Figure | None:
    """Share on the left front and the right rear of four wheels; None where a wheel stood high."""
    found = cross_of(project, weights)
    return None if isinstance(found, str) else figure(found[0], "percent", found[1])


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


def _balance(study: Study, weights: Weights, weighed: Weighed | None) -> BalancePoint | None:
    """Where the centre of gravity lies: from the wheels' loads where a scale told them, else of the masses.

    Its height is by tilting or by masses. A trailer without masses has none: its coupling carries what no wheel tells.
    """
    project = study.project
    found = _centre(study, weights, weighed)
    if found is None:
        return None
    at, spread = found
    ahead, left = (figure(float(at[k]), "length", _root(spread, k)) for k in (0, 1))
    if ahead is None:
        return None
    height, by = _height(weights, study.loading)
    return BalancePoint(ahead, None if project.plane is not None else left, height, by)


def _centre(study: Study, weights: Weights, weighed: Weighed | None) -> tuple[Array, Array] | None:
    """Place (2,) m and covariance (2, 2) of the centre of gravity, NaN where no error is known."""
    project = study.project
    read = weighed is not None and "masses" not in weights.source.values() and study.file.coupling is None
    if read and weighed is not None and weighed.total > 0.0 and len(project.wheels) > 1:
        places = np.array([project.points[wheel.centre].at[:2] for wheel in project.wheels.values()])
        return balance_point(weighed, places, project.error or 0.0)
    if weights.burden is None:
        return None
    spread = centre_spread(weights)
    return weights.burden.centre[:2], np.full((2, 2), math.nan) if spread is None else spread[:2, :2]


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
        figure(tipping.leaning, "ratio", tipping.leaning_error),
        figure(tipping.slope, "angle", tipping.slope_error),
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
