"""Which one further reading would make the answers most certain, worked out for every candidate before it is taken.

A reading j of variance s² more changes the covariance Q of the places to Q - (Qj)(Qj)ᵀ/(s² + jᵀQj), whatever it will
read, so that the variance gᵀQg of an answer falls by (gᵀQj)²/(s² + jᵀQj). Source: Sherman and Morrison, 1950, on the
normal equations; sequential adjustment in any book of geodesy (from memory).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from leverwright.geometry import Array

__all__ = ["Candidates", "Cared", "Kind", "NextReading", "Spots", "best_readings", "candidates_of"]

_SHORT, _LONG = 0.05, 3.0  # m; nearer two marks do not gain by a tape, further none lies straight
Kind = Literal["between", "height", "offset"]
_Ints = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Spots:
    """Places N of a network with their covariance (see `NetworkResult`), and what may be measured between them.

    taped    (N, N)  pairs that are taped already
    settled  (N,)    places that are determined: to others no reading can be reckoned
    heights  (N,)    points whose height above the floor may be read; offsets (N,) from the centre plane
    """

    places: Array
    covariance: Array
    floor_with: Array
    floor_variance: float
    taped: npt.NDArray[np.bool_]
    settled: npt.NDArray[np.bool_]
    heights: npt.NDArray[np.bool_]
    offsets: npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Candidates:
    """Readings C that could be taken.

    points    (C, 2)  the second is -1 where there is one
    way       (C, 3)  derivative of the reading by the second point's place (the first's, where there is one); by the
                      first's its negative
    floor     (C,)    the reading is above the floor
    variance  (C,) m² of what it would read, as it is known now
    """

    kinds: tuple[Kind, ...]
    points: _Ints
    way: Array
    floor: npt.NDArray[np.bool_]
    variance: Array


@dataclass(frozen=True, slots=True)
class Cared:
    """Answers A that somebody cares about.

    names     (wheel, answer) of each
    slope     (A, G, N, 3) change of the answer for a metre of each coordinate; G groups that err apart (left, right)
    sigma     (A,) one standard deviation as it is now, of everything
    margin    (A,) how much of each is as bad as one another
    """

    names: tuple[tuple[str, str], ...]
    slope: Array
    sigma: Array
    margin: Array


@dataclass(frozen=True, slots=True)
class NextReading:
    """A reading that could be taken.

    points        of the network
    gain          share of the answers' ±, each over its margin, that it would take away; 0 where that is not known
    before, after (wheel, answer) -> one standard deviation, SI
    opens         it would place something that nothing places now
    """

    kind: Kind
    points: tuple[int, ...]
    gain: float
    before: Mapping[tuple[str, str], float]
    after: Mapping[tuple[str, str], float]
    opens: bool = False


def candidates_of(spots: Spots) -> Candidates:
    """Every pair of settled places that no tape joins, every height and offset not yet read."""
    a, b = np.triu_indices(len(spots.places), 1)
    way = spots.places[b] - spots.places[a]
    length = np.sqrt(np.einsum("ci,ci->c", way, way))
    fine = spots.settled[a] & spots.settled[b] & ~spots.taped[a, b] & (length > _SHORT) & (length < _LONG)
    a, b, way = a[fine], b[fine], way[fine] / length[fine, None]
    spread = spots.covariance[b, :, b, :] + spots.covariance[a, :, a, :]
    spread = spread - spots.covariance[a, :, b, :] - spots.covariance[b, :, a, :]
    up, out = np.flatnonzero(spots.heights & spots.settled), np.flatnonzero(spots.offsets & spots.settled)
    height = spots.covariance[up, 2, up, 2] - 2.0 * spots.floor_with[up, 2] + spots.floor_variance
    none = np.full(len(up) + len(out), -1)
    kinds: list[Kind] = ["between"] * len(a)
    kinds += ["height"] * len(up)
    kinds += ["offset"] * len(out)
    return Candidates(
        tuple(kinds),
        np.stack([np.concatenate([a, up, out]), np.concatenate([b, none])], axis=1).astype(np.intp),
        np.concatenate(
            [way, np.tile([0.0, 0.0, 1.0], (len(up), 1)), np.tile([0.0, 1.0, 0.0], (len(out), 1))]
        ),
        np.array([kind == "height" for kind in kinds], dtype=bool),
        np.concatenate(
            [np.einsum("ci,cik,ck->c", way, spread, way), height, spots.covariance[out, 1, out, 1]]
        ),
    )


def _told(spots: Spots, candidates: Candidates, slope: Array) -> Array:
    """Covariance (C, A, G) of each reading with each answer."""
    known = np.einsum("agni,nimk->agmk", slope, spots.covariance)
    level = np.einsum("agni,ni->ag", slope, spots.floor_with)
    first, second = candidates.points.T
    single = second < 0
    there = np.where(single, first, second)
    told: Array = np.einsum("agck,ck->cag", known[:, :, there], candidates.way)
    back: Array = np.einsum("agck,ck->cag", known[:, :, first], candidates.way)
    told -= np.where(single[:, None, None], 0.0, back)
    return told - np.where(candidates.floor[:, None, None], level[None], 0.0)


def best_readings(spots: Spots, cared: Cared, sigma: float, most: int = 10) -> tuple[NextReading, ...]:
    """The readings that take most of the ± of the answers away, best first.

    sigma  m, one standard deviation of the reading to be taken
    """
    candidates = candidates_of(spots)
    told = _told(spots, candidates, cared.slope)
    less = np.einsum("cag,cag->ca", told, told) / (sigma**2 + np.maximum(candidates.variance, 0.0))[:, None]
    before = cared.sigma**2
    after = np.maximum(before - less, 0.0)
    now = float(np.sqrt((before / cared.margin**2).sum()))
    if now <= 0.0 or not len(after):
        return ()
    gain = 1.0 - np.sqrt((after / cared.margin**2).sum(axis=1)) / now
    found = []
    for c in np.argsort(-gain, kind="stable")[:most]:
        points = tuple(int(p) for p in candidates.points[c] if p >= 0)
        found.append(
            NextReading(
                candidates.kinds[c],
                points,
                float(gain[c]),
                dict(zip(cared.names, map(float, cared.sigma), strict=True)),
                dict(zip(cared.names, map(float, np.sqrt(after[c])), strict=True)),
            )
        )
    return tuple(found)
