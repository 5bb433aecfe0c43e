"""All tapes of another size than the sketch: a unit that was not written, seen before the network is judged."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.study import Study

__all__ = ["UnitSlip", "unit_slip"]

# Tapes; fewer may be slips one by one.
_LEAST = 4
# m; a sketch is good to a hand's width: of what is shorter no ratio can be told.
_SHORT = 0.05
# Of a logarithm: the median of a rough sketch is so close to the factor; 10 and 25.4 lie 0.9 apart.
_NEAR = 0.25
# Of a logarithm, about the median, and how large a part of the tapes lies within: a tape or two may be slips besides.
_TIGHT, _MOST = 0.5, 0.8
_WRITE = 'Write the unit: reads = "… {unit}".'
_SLIPS = (
    (1 / 25.4, "25.4 times shorter", f"are they in inches? {_WRITE.format(unit='in')}"),
    (1 / 10, "10 times shorter", f"are they in cm? {_WRITE.format(unit='cm')}"),
    (1 / 1000, "1000 times shorter", f"are they in metres? {_WRITE.format(unit='m')}"),
    (25.4, "25.4 times longer", 'is the sketch in inches? Write its unit: "… in".'),
    (10.0, "10 times longer", 'is the sketch in cm? Write its unit: "… cm".'),
    (1000.0, "1000 times longer", 'is the sketch in metres? Write its unit: "… m".'),
)


@dataclass(frozen=True, slots=True)
class UnitSlip:
    """The median of reading over sketched distance, how it is said and what it asks."""

    ratio: float
    said: str
    asks: str
    all_of_them: bool


def unit_slip(study: Study) -> UnitSlip | None:
    """One factor between all, or nearly all, tapes and the sketch that is a change of units; None where there is none.

    Only tapes between two places are asked: a sketch may stand anywhere, so its heights and offsets say nothing.
    """
    if study.measured.tapes is None:
        return None
    network = study.measured.tapes.network.network
    reads = np.array([d.reads for d in network.distances])
    if len(reads) < _LEAST:
        return None
    ends = np.array([d.ends for d in network.distances])
    apart = network.sketch[ends[:, 1]] - network.sketch[ends[:, 0]]
    distance = np.sqrt(np.einsum("di,di->d", apart, apart))
    sure = (np.maximum(distance, reads) > _SHORT) & (distance > 0.0) & (reads > 0.0)
    if sure.sum() < _LEAST:
        return None
    size = np.log(reads[sure] / distance[sure])
    middle = float(np.median(size))
    close = np.abs(size - middle) < _TIGHT
    if float(np.mean(close)) < _MOST:
        return None
    for factor, said, asks in _SLIPS:
        if abs(middle - float(np.log(factor))) < _NEAR:
            return UnitSlip(float(np.exp(middle)), said, asks, bool(close.all()))
    return None
