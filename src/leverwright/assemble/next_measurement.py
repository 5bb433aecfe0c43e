"""Measured → what to measure next: the places first that nothing holds, then what makes the answers most certain."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leverwright.assemble.measured import Measured
from leverwright.geometry import Array
from leverwright.linkage import Layout
from leverwright.measure.datum import Loose
from leverwright.measure.network import NetworkResult
from leverwright.project import Project
from leverwright.ride.figures import Figures
from leverwright.ride.next_measurement import Cared, Kind, NextReading, Spots, best_readings
from leverwright.ride.sprung import SprungAssembly
from leverwright.ride.uncertainty import Errors

__all__ = ["next_measurements"]

_RATIO = 0.05  # share of a ratio that is as bad as …
_FREQUENCY = 0.15  # Hz, a sixth of the usual band, or …
_SAG = 0.05  # of the travel: half the usual band of 30 to 40 %, or …
_DEAD_CENTRE = 0.010  # m of wheel travel, the margin to dead centre
_FEW_MARKS = 3  # that place a point; a fourth checks it


@dataclass(frozen=True, slots=True)
class _Judged:
    """One assembly's figures with their spread."""

    layout: Layout
    figures: Figures
    errors: Errors


def next_measurements(
    measured: Measured, rows: Iterable[tuple[SprungAssembly, Figures, Errors | None]]
) -> tuple[NextReading, ...]:
    """Readings worth taking, best first; points are numbered as in the network. None without tapes."""
    if measured.tapes is None:
        return ()
    judged: dict[int, _Judged] = {}  # one of two sides that have the same errors
    for sprung, figures, errors in rows:
        if errors is not None:
            judged.setdefault(id(errors), _Judged(sprung.assembly.layout, figures, errors))
    result = measured.tapes.network
    opens = tuple(reading for loose in result.loose for reading in _opening(result, loose))
    cared = _cared(measured.project, result, tuple(judged.values()))
    if cared is None:
        return opens
    return opens + best_readings(_spots(result), cared, _usual_sigma(result))


def _usual_sigma(result: NetworkResult) -> float:
    """What one more tape will err by: as those that there are."""
    tapes = [o.row.sigma for o in result.observed if o.row.kind == "between"]
    return float(np.median(tapes or [o.row.sigma for o in result.observed]))


def _own(result: NetworkResult) -> npt.NDArray[np.bool_]:
    return np.array([p == original for p, original in enumerate(result.network.twin_of)])


def _taped(result: NetworkResult) -> npt.NDArray[np.bool_]:
    taped = np.zeros((len(result.places),) * 2, dtype=bool)
    for d in result.network.distances:
        taped[d.ends] = taped[d.ends[::-1]] = True
    return taped


def _spots(result: NetworkResult) -> Spots:
    network = result.network
    settled = _own(result)
    settled[list(result.open)] = False
    read = {
        kind: {w.terms[0].point for w in network.weighted if w.kind == kind} for kind in ("height", "offset")
    }
    everyone = range(len(result.places))
    across = {p for d in network.distances for p in d.ends if _are_twins(result, d.ends)}
    centred = 1 in network.axes and "sideways" not in result.datum
    return Spots(
        result.places,
        result.covariance,
        result.floor_with,
        result.floor_variance,
        _taped(result),
        settled,
        np.array([result.floor is not None and p not in read["height"] for p in everyone]),
        np.array([centred and p not in read["offset"] | across for p in everyone]),
    )


def _are_twins(result: NetworkResult, ends: tuple[int, int]) -> bool:
    return result.network.twin_of[ends[0]] == result.network.twin_of[ends[1]]


def _cared(project: Project, result: NetworkResult, judged: Sequence[_Judged]) -> Cared | None:
    """Ratio, sag, frequency and distance to dead centre of the first wheel of each assembly."""
    names, slopes, sigmas, margins = [], [], [], []
    for each in judged:
        wheel = each.layout.wheel_names[0]
        for name, row, value, sigma, margin in _answers(each):
            if not np.isfinite(value) or not np.isfinite(sigma) or not np.all(np.isfinite(row)):
                continue
            names.append((wheel, name))
            slopes.append(_slope(project, result, each.errors, row))
            sigmas.append(sigma)
            margins.append(margin)
    if not names:
        return None
    return Cared(tuple(names), np.array(slopes), np.array(sigmas), np.array(margins))


def _answers(judged: _Judged) -> Iterable[tuple[str, Array, float, float, float]]:
    """Name, rows (K,), value, one standard deviation, margin."""
    figures, errors = judged.figures, judged.errors
    wheel = 0
    for s, spring in enumerate(judged.layout.line_names):
        value = float(figures.ratio[s, wheel])
        if abs(value) > 1e-6:
            margin = _RATIO * abs(value)
            yield (
                f"motion_ratio {spring}",
                errors.ratio_rows[:, s, wheel],
                value,
                float(errors.ratio[s, wheel]),
                margin,
            )
    travel = figures.value["sag"][wheel] / figures.value["sag_percent"][wheel]
    margins = {"sag": _SAG * float(travel), "ride_frequency_without_tyre": _FREQUENCY}
    margins |= dict.fromkeys(("dead_centre_bump", "dead_centre_droop"), _DEAD_CENTRE)
    for name, margin in margins.items():
        if np.isfinite(margin):
            sigma = float(errors.value[name][wheel])
            yield name, errors.rows[name][:, wheel], float(figures.value[name][wheel]), sigma, margin


def _slope(project: Project, result: NetworkResult, errors: Errors, row: Array) -> Array:
    """Change of an answer for a metre of each coordinate, (2, N, 3): of the points themselves, then of their twins."""
    at = {name: k for k, name in enumerate(result.network.names)}
    names = tuple(project.points)
    out = np.zeros((2, len(result.places), 3))
    for k, (point, axis) in enumerate(errors.places):
        place = at.get(names[point])
        if place is None or errors.sigma[k] <= 0.0:
            continue
        original = result.network.twin_of[place]
        out[int(original != place), place, axis] = row[k] / errors.sigma[k]
    return out


def _opening(result: NetworkResult, loose: Loose) -> Iterable[NextReading]:
    """The reading that would hold what is open."""
    network, places = result.network, result.places
    if loose.motion in {"pitch", "roll", "up"}:
        yield _opens("height", (_furthest(result, loose),))
    elif loose.motion in {"sideways", "yaw"}:
        yield _opens("offset", (_furthest(result, loose),))
    elif loose.motion == "ahead":
        yield from _tape_from_outside(result, loose)
    else:
        point = loose.points[0]
        marks = [q for q in _marks(result) if q not in loose.points and not _taped(result)[point, q]]
        if not marks:
            return
        ways = places[marks] - places[point]
        length = np.sqrt(np.einsum("mi,mi->m", ways, ways))
        if loose.way.any():
            # The tape that feels its one free motion most.
            yield _opens("between", (marks[int(np.argmax(np.abs(ways @ loose.way) / length))], point))
            return
        missing = max(1, min(_FEW_MARKS, len(network.axes)) - len(loose.about))
        for k in np.argsort(length, kind="stable")[:missing]:
            yield _opens("between", (marks[int(k)], point))


def _opens(kind: Kind, points: tuple[int, ...]) -> NextReading:
    return NextReading(kind, points, 0.0, {}, {}, opens=True)


def _marks(result: NetworkResult) -> list[int]:
    """Places that hold the others: by themselves settled, the most taped first."""
    taped = _taped(result).sum(axis=1)
    local = {p for loose in result.loose if len(loose.points) == 1 for p in loose.points}
    own = [int(p) for p in np.flatnonzero(_own(result)) if p not in local]
    return sorted(own, key=lambda p: -int(taped[p]))


def _furthest(result: NetworkResult, loose: Loose) -> int:
    """The point whose reading tells most of a motion of all: the one furthest from those that are read."""
    network = result.network
    kind = "height" if loose.motion in {"pitch", "roll", "up"} else "offset"
    read = [w.terms[0].point for w in network.weighted if w.kind == kind]
    axis = {"pitch": 0, "roll": 1, "yaw": 0}.get(loose.motion)
    rest = [p for p in loose.points if p not in read] or list(loose.points)
    if axis is None:
        return rest[0]
    middle = float(np.mean(result.places[read or list(loose.points), axis]))
    return max(rest, key=lambda p: abs(float(result.places[p, axis]) - middle))


def _tape_from_outside(result: NetworkResult, loose: Loose) -> Iterable[NextReading]:
    outside = [q for q in _marks(result) if q not in loose.points]
    if outside:
        yield _opens("between", (outside[0], loose.points[0]))
