"""Readings that no sketch can explain: a slip of unit or of a decimal point, found before anything is solved.

Solving is local: one reading that is ten times too long drags its places so far that others seem to be the bad ones.
A sketch is good to a hand's width, and that is enough to see such a slip by.
"""

from __future__ import annotations

import numpy as np

from leverwright.geometry import Array, Mask
from leverwright.measure.network_rows import Rows

__all__ = ["far_off"]

_HAND = (
    0.20  # m; two places, each sketched within a hand's width, are not further than this from their distance
)
_KINDS = frozenset({"between", "height", "offset", "ahead"})


def far_off(rows: Rows, start: Array) -> Mask:
    """Rows (M,) that are further from the sketch than a hand's width at each end allows, among many that are not.

    start  (Q,) unknowns at the sketch. A place of which most readings are far off is badly sketched, and none of them
    is blamed; so is one that would be left with too few.
    """
    miss, _ = rows.evaluate(start)
    off = np.abs(miss * rows.sigma)
    kinds = np.array([row.kind in _KINDS for row in rows.rows], dtype=bool)
    far: Mask = (off > _HAND) & kinds
    if not far.any():
        return far
    twin_of, least = rows.network.twin_of, len(rows.network.axes)
    touching: dict[int, list[int]] = {}
    for k, row in enumerate(rows.rows):
        for point in {twin_of[p] for p in row.points}:
            touching.setdefault(point, []).append(k)
    blamed = far.copy()
    for k in map(int, np.flatnonzero(far)):
        for point in {twin_of[p] for p in rows.rows[k].points}:
            others = [j for j in touching[point] if j != k]
            well = sum(not far[j] for j in others)
            if not rows.network.known[point].all() and (well < least or well <= 2 * (len(others) - well)):
                blamed[k] = False
    return blamed
