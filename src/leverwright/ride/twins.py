"""Left and right alike: the second side's stages are the first side's, reflected."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage import Range, Stop, is_mirror, mirrored_track
from leverwright.linkage.sensitivity import places_of
from leverwright.ride.cycle import Travels
from leverwright.ride.sprung import SprungAssembly
from leverwright.ride.uncertainty import Spread

__all__ = ["find_twins", "mirrored_travels", "same_spread"]

_SAME = 1e-9  # of a correlation: rounding of what was mirrored


def find_twins(assemblies: Sequence[SprungAssembly], names: Mapping[str, str]) -> tuple[int | None, ...]:
    """For each assembly the index of an earlier one that it mirrors exactly, loads and springs too; else None."""
    out: list[int | None] = []
    for index, sprung in enumerate(assemblies):
        match = (k for k in range(index) if out[k] is None and _alike(assemblies[k], sprung, names))
        out.append(next(match, None))
    return tuple(out)


def _alike(first: SprungAssembly, second: SprungAssembly, names: Mapping[str, str]) -> bool:
    a, b = first.assembly, second.assembly
    if (
        len(a.layout.wheels) != 1
        or tuple(names.get(n, n) for n in a.layout.wheel_names) != b.layout.wheel_names
    ):
        return False
    loads = all(
        np.array_equal(x, y, equal_nan=True)
        for x, y in ((first.load, second.load), (first.unsprung, second.unsprung), (first.tyre, second.tyre))
    )
    springs = tuple(names.get(n, n) for n in a.layout.line_names) == b.layout.line_names
    return (
        loads and springs and _same_laws(first, second) and is_mirror(a.layout, b.layout, a.geometry, names)
    )


def _same_laws(first: SprungAssembly, second: SprungAssembly) -> bool:
    """The same law objects field by field; arrays are compared by their bytes."""
    return [repr(law) for law in first.laws] == [repr(law) for law in second.laws] and [
        (m.line, m.length, m.why) for m in first.limits
    ] == [(m.line, m.length, m.why) for m in second.limits]


def mirrored_travels(
    travels: Travels | None, sprung: SprungAssembly, names: Mapping[str, str]
) -> Travels | None:
    """The twin's travels from the first side's."""
    if travels is None:
        return None

    def stop(first: Stop) -> Stop:
        return Stop(first.travel, first.why, names.get(first.by or "", first.by))

    span = None if travels.range is None else Range(stop(travels.range.droop), stop(travels.range.bump))
    track = mirrored_track(travels.track, sprung.assembly.basis, names)
    return Travels(travels.weights, track, travels.driving, span)


def same_spread(first: SprungAssembly, one: Spread, second: SprungAssembly, two: Spread) -> bool:
    """Whether two sides that mirror each other also state the same errors."""
    places = [list(places_of(sprung.assembly.layout)) for sprung in (first, second)]
    bars = [[p.item for p in sprung.assembly.layout.bars if p.kind == "bar"] for sprung in (first, second)]
    pairs = (
        (one.points[places[0]], two.points[places[1]]),
        (one.bars[bars[0]], two.bars[bars[1]]),
        (one.load, two.load),
        (one.unsprung, two.unsprung),
        (one.tyre, two.tyre),
    )
    laws = [[(sorted(law.up), repr(law.up), law.limit_shift) for law in spread.laws] for spread in (one, two)]
    return (
        laws[0] == laws[1]
        and all(x.shape == y.shape and np.array_equal(x, y, equal_nan=True) for x, y in pairs)
        and _alike_linked(one, two, places)
    )


def _alike_linked(one: Spread, two: Spread, places: Sequence[Sequence[int]]) -> bool:
    """Whether what errs together on one side does so on the other, its y reflected."""
    if not one.linked and not two.linked:
        return True
    mine, its = (_correlation_of(spread, order) for spread, order in zip((one, two), places, strict=True))
    reflected = np.tile([1.0, -1.0, 1.0], len(places[0]))
    return mine.shape == its.shape and np.allclose(
        mine, its * np.outer(reflected, reflected), rtol=0.0, atol=_SAME
    )


def _correlation_of(spread: Spread, places: Sequence[int]) -> Array:
    """Correlation (3 N, 3 N) of the coordinates of the places; of laws and loads, that a side shares, nothing."""
    number = {(p, axis): 3 * k + axis for k, p in enumerate(places) for axis in range(3)}
    out = np.eye(3 * len(places))
    for linked in spread.linked:
        if linked.kind == "point":
            found = [(k, number[at]) for k, at in enumerate(linked.inputs) if at in number]
            mine, at = [k for k, _ in found], [k for _, k in found]
            out[np.ix_(at, at)] = linked.correlation[np.ix_(mine, mine)]
    return out
