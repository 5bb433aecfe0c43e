"""Project → the network of its tapes, and the solved places back into the vehicle."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from leverwright.assemble.blocks import Block
from leverwright.assemble.pictures import Pictures, picture_rows, pictures_of
from leverwright.geometry import Array
from leverwright.measure.network import NetworkResult, solve_network
from leverwright.measure.observations import (
    Along,
    Distance,
    Level,
    Network,
    Side,
    Term,
    Weighted,
    Where,
)
from leverwright.measure.snooping import LIMIT
from leverwright.project import Point, Project
from leverwright.project.measuring import Tape
from leverwright.quantity import Quantity

__all__ = ["Taped", "network_of", "taped"]

_AXES = {None: (0, 1, 2), "xz": (0, 2), "yz": (1, 2)}
_ALIKE = 1e-3  # m, taken for every reading where none states its ±: only their likeness matters then


@dataclass(frozen=True, slots=True)
class Taped:
    """A vehicle whose places are solved.

    stated   every reading has a ±; else places have none
    unknown  points (twins too) whose ± cannot be told: left open by the tapes, or no ± stated
    repeats  tape → how far [m] its readings lie apart, where it was read more than once
    torn     those of them with a reading further from their mean than 3 of its standard deviations
    """

    project: Project
    network: NetworkResult
    blocks: tuple[Block, ...]
    stated: bool
    unknown: frozenset[str]
    repeats: Mapping[str, float]
    torn: frozenset[str]


@dataclass(frozen=True, slots=True)
class _Names:
    """Index of each point of the network, and how exact a reading counts that states nothing."""

    at: Mapping[str, int]
    unstated: float

    def sigma(self, tape: Tape, reads: Quantity | None = None) -> float:
        own = None if reads is None else reads.error
        error = tape.error if own is None else own
        return self.unstated if error is None else error

    def reading(self, tape: Tape) -> tuple[float, float]:
        """The mean of a tape's readings and its ±, m."""
        sigmas = [self.sigma(tape, reads) for reads in tape.reads]
        mean = sum(reads.value for reads in tape.reads) / len(tape.reads)
        return mean, float(np.sqrt(sum(s * s for s in sigmas))) / len(sigmas)

    def torn(self, tape: Tape) -> bool:
        """Whether its readings disagree with each other; of n the mean takes one share of each."""
        values = np.array([reads.value for reads in tape.reads])
        sigmas = np.array([self.sigma(tape, reads) for reads in tape.reads])
        own = sigmas * np.sqrt(1.0 - 1.0 / len(values)) if len(values) > 1 else sigmas
        return len(values) > 1 and bool(np.any(np.abs(values - values.mean()) > LIMIT * own))


def taped(project: Project) -> Taped:
    """The vehicle with every taped place solved, with what errs together."""
    stated = [s for tape in project.tape.values() for s in _stated(tape)]
    known = [s for s in stated if s is not None]
    unstated = float(np.median(known)) if known else _ALIKE
    names = _Names({}, unstated)
    network = network_of(project, unstated)
    result = solve_network(network)
    whole = len(known) == len(stated)
    open_points = {network.names[p] for p in result.open}
    unknown = {
        name
        for p, name in enumerate(network.names)
        if not network.known[network.twin_of[p]].all()
        and (not whole or network.names[network.twin_of[p]] in open_points)
    }
    return Taped(
        _with_places(project, result, unknown),
        result,
        tuple(_blocks(result, unknown)),
        whole,
        frozenset(unknown),
        {
            tape.name: max(r.value for r in tape.reads) - min(r.value for r in tape.reads)
            for tape in project.tape.values()
            if len(tape.reads) > 1
        },
        frozenset(tape.name for tape in project.tape.values() if names.torn(tape)),
    )


def _stated(tape: Tape) -> list[float | None]:
    """The ± of everything that one statement says, None where it has none."""
    if tape.kind == "side":
        return []
    if not tape.reads:
        return [tape.error]
    return [tape.error if reads.error is None else reads.error for reads in tape.reads]


def network_of(project: Project, unstated: float = _ALIKE, pictures: Pictures | None = None) -> Network:
    """Everything that the tapes and pictures of a project name, its sketched points and their twins; by name.

    unstated  m, the ± of a reading that states none
    pictures  the photographs as they were read; None: read now
    """
    pictures = pictures_of(project) if pictures is None else pictures
    named = {p for tape in project.tape.values() for p in tape.points}
    named |= {p for plane in pictures.read.values() for p in plane.places.names}
    named |= {point.name for point in project.points.values() if point.sketched}
    named |= {project.points[p].twin_of or p for p in named}
    named |= {point.name for point in project.points.values() if point.twin_of in named}
    names = tuple(sorted(named))
    points = [project.points[name] for name in names]
    to = _Names({name: k for k, name in enumerate(names)}, unstated)
    axes = _AXES[project.plane]
    known = np.ones((len(names), 3), dtype=bool)
    for k, point in enumerate(points):
        known[k, list(axes)] = [not point.sketched and not _error(project, point, a) for a in axes]
    tapes = sorted(project.tape.values(), key=lambda tape: tape.name)
    sums = [w for tape in tapes for w in _sums(tape, to, axes)]
    sums += [w for point in points for w in _coordinates(project, point, to.at, axes)]
    picked, depths = picture_rows(project, pictures, to.at)
    sums += depths
    return Network(
        names,
        np.array([point.at for point in points]).reshape(-1, 3),
        known,
        tuple(to.at[point.twin_of or point.name] for point in points),
        axes,
        tuple(_distance(tape, to) for tape in tapes if tape.kind == "between"),
        tuple(sums),
        tuple(
            Level(tape.name, tuple(to.at[p] for p in tape.points), to.sigma(tape))
            for tape in tapes
            if tape.kind == "level"
        ),
        tuple(_along(tape, to) for tape in tapes if tape.kind == "along"),
        picked,
        tuple(_side(tape, to.at) for tape in tapes if tape.kind == "side"),
        alone=all(p.sketched for p in project.points.values() if p.twin_of is None),
    )


def _error(project: Project, point: Point, axis: int) -> float:
    own = point.errors[axis]
    return (project.error or 0.0) if own is None else own


def _coordinates(
    project: Project, point: Point, at: Mapping[str, int], axes: Sequence[int]
) -> Iterable[Weighted]:
    if point.sketched or point.twin_of is not None:
        return
    for axis in axes:
        sigma = _error(project, point, axis)
        if sigma > 0.0:
            yield Weighted(point.name, "coordinate", (Term(at[point.name], axis),), point.at[axis], sigma)


def _distance(tape: Tape, to: _Names) -> Distance:
    reads, sigma = to.reading(tape)
    return Distance(tape.name, (to.at[tape.points[0]], to.at[tape.points[1]]), reads, sigma)


def _along(tape: Tape, to: _Names) -> Along:
    first, second, point = (to.at[name] for name in tape.points)
    reads, sigma = to.reading(tape)
    return Along(tape.name, (first, second), point, reads, sigma)


def _side(tape: Tape, at: Mapping[str, int]) -> Side:
    where: Mapping[str, Where] = {
        "above": "above",
        "below": "below",
        "left": "left",
        "right": "right",
        "ahead": "ahead",
        "behind": "behind",
    }
    return Side(tape.name, at[tape.points[0]], tuple(at[p] for p in tape.points[1:]), where[tape.side or ""])


def _sums(tape: Tape, to: _Names, axes: Sequence[int]) -> Iterable[Weighted]:
    at = [to.at[name] for name in tape.points]
    if tape.kind in {"height", "offset", "ahead"}:
        reads, sigma = to.reading(tape)
        if tape.kind == "ahead":
            yield Weighted(tape.name, "ahead", (Term(at[1], 0), Term(at[0], 0, -1.0)), reads, sigma)
        elif tape.kind == "height":
            yield Weighted(tape.name, "height", (Term(at[0], 2),), reads, sigma, 1.0)
        else:
            yield Weighted(tape.name, "offset", (Term(at[0], 1),), reads, sigma)
    elif tape.kind == "plumb":
        for axis in axes:
            if axis != 2:
                terms = (Term(at[1], axis), Term(at[0], axis, -1.0))
                yield Weighted(tape.name, "plumb", terms, 0.0, to.sigma(tape))


def _with_places(project: Project, result: NetworkResult, unknown: set[str]) -> Project:
    """The project with solved places, each with the ± that it came out with, and no tapes left to take up."""
    points = dict(project.points)
    sigma = np.sqrt(np.maximum(np.einsum("ncnc->nc", result.covariance), 0.0))
    for k, name in enumerate(result.network.names):
        if result.network.known[result.network.twin_of[k]].all():
            continue
        x, y, z = (float(v) for v in result.places[k])
        errors = (None, None, None) if name in unknown else tuple(float(s) for s in sigma[k])
        points[name] = replace(
            points[name],
            at=(x, y, z),
            error=None,
            errors=(errors[0], errors[1], errors[2]),
            sketched=False,
        )
    return replace(project, points=points, tape={}, photos={})


def _blocks(result: NetworkResult, unknown: set[str]) -> Iterable[Block]:
    """What errs together: all measured places, and by themselves, as left and right err apart, all their twins."""
    network = result.network
    for twins in (False, True):
        listed = [
            (k, axis)
            for k, name in enumerate(network.names)
            if (network.twin_of[k] != k) == twins and name not in unknown
            for axis in network.axes
            if result.covariance[k, axis, k, axis] > 0.0
        ]
        if not listed:
            continue
        at, axis = (np.array(each) for each in zip(*listed, strict=True))
        spread: Array = result.covariance[at[:, None], axis[:, None], at[None, :], axis[None, :]]
        yield Block(tuple(("point", network.names[k], "xyz"[a]) for k, a in listed), spread)
